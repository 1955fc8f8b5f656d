import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findProgram, type OutsideProgram, outsidePrograms } from './needs.ts';

/** The whole check of the project: outside programs, types, lint, format, and every test. Usage: `npm test [-- <vitest filter>]`. */

const missing = (): OutsideProgram[] =>
  (Object.keys(outsidePrograms) as OutsideProgram[]).filter((program) => !findProgram(program));

function canInstall(): boolean {
  return existsSync('/etc/debian_version') && process.getuid?.() === 0;
}

function installFromApt(programs: OutsideProgram[]): void {
  const packages = programs.flatMap((program) => outsidePrograms[program].debian.split(' '));
  console.log(`Installing from apt: ${packages.join(' ')}`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  try {
    execFileSync('apt-get', ['update', '-qq'], { env, stdio: ['ignore', 'ignore', 'inherit'] });
    execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages], {
      env,
      stdio: ['ignore', 'ignore', 'inherit'],
    });
  } catch {
    console.error('apt-get failed; see its words above.');
  }
}

/** Gets what can be got, and says what is left out for want of the rest. Returns false where that must not be. */
function prepare(): boolean {
  if (missing().length > 0 && canInstall()) installFromApt(missing());
  for (const program of missing()) {
    const { use, debian } = outsidePrograms[program];
    console.warn(
      `Missing: ${program}. Without it ${use} is left out. On Debian or Ubuntu: apt-get install ${debian}`,
    );
  }
  return missing().length === 0 || !process.env.CI;
}

function run(command: string, args: string[]): boolean {
  console.log(`\n> ${command} ${args.join(' ')}`);
  return spawnSync(command, args, { stdio: 'inherit' }).status === 0;
}

interface VitestReport {
  numPassedTests: number;
  numFailedTests: number;
  numPendingTests: number;
  numTodoTests: number;
  success: boolean;
  testResults: { name: string; status: string }[];
}

/** Null when the runner ended without a report; `success` is false too when it saw an error outside any test. */
function runVitest(filters: string[]): VitestReport | null {
  const output = join(tmpdir(), `catchbench-tests-${process.pid}.json`);
  rmSync(output, { force: true });
  const ended = run('npx', [
    'vitest',
    'run',
    '--config',
    'tests/vitest.config.ts',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${output}`,
    ...filters,
  ]);
  if (!existsSync(output)) return null;
  const report: VitestReport = JSON.parse(readFileSync(output, 'utf8'));
  return { ...report, success: report.success && ended };
}

/**
 * Tests with real processes, sockets and browsers can starve beside others on a small machine. Those that failed there run once more with the
 * machine to themselves: what fails alone is broken, what passes is told by name. Only a few can be starved; many failures are failures.
 */
function againAlone(report: VitestReport): VitestReport {
  const files = report.testResults.filter(({ status }) => status === 'failed').map(({ name }) => name);
  if (files.length === 0 || files.length > 4) return report;
  console.log(`\nWith a failure, and so again, alone: ${files.join(', ')}`);
  const second = runVitest(['--no-file-parallelism', ...files]);
  if (!second) return report;
  if (second.success) console.log(`Failed beside others, passed alone: ${files.join(', ')}`);
  const mended = report.numFailedTests - second.numFailedTests;
  return {
    ...report,
    numPassedTests: report.numPassedTests + mended,
    numFailedTests: second.numFailedTests,
    success: second.success,
  };
}

function main(): number {
  if (!prepare()) return 1;
  const checked = run('npm', ['run', '--silent', 'check']);
  const first = runVitest(process.argv.slice(2));
  const report = first && againAlone(first);
  const skipped = report ? report.numPendingTests + report.numTodoTests : 0;
  const skipIsFailure = Boolean(process.env.CI) && skipped > 0;
  if (!checked) console.error('Types, lint or format: see above.');
  if (skipIsFailure) console.error(`${skipped} tests were skipped; with CI set that is a failure.`);
  if (!report) {
    console.error('The test runner ended without a report.');
    return 1;
  }
  console.log(`\n${report.numPassedTests} passed, ${report.numFailedTests} failed, ${skipped} skipped`);
  return checked && report.success && report.numPassedTests > 0 && !skipIsFailure ? 0 : 1;
}

process.exitCode = main();
