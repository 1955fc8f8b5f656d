/** How much of the firmware's pure parts its host tests reach, by gcov. */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { needs } from '../needs.ts';
import { firmwareFolder, goldenFile, pureParts, run, testFolder } from './tools.ts';

/** Shares of lines, and of branches taken both ways or more. */
const fewestLines = 98;
const fewestBranches = 90;

describe.skipIf(!needs('gcc'))('the host tests of the firmware', () => {
  it('reach nearly every line and branch of its pure parts', () => {
    const folder = mkdtempSync(join(tmpdir(), 'firmware-gcov-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const parts = pureParts.map((name) => join(firmwareFolder, `${name}.c`));
    const tests = readdirSync(testFolder).filter((name) => name.endsWith('.c'));
    run('gcc', ['-std=gnu11', '-O0', '--coverage', `-I${firmwareFolder}`, '-c', ...parts], folder);
    run(
      'gcc',
      [
        ...['-std=gnu11', '-O1', '--coverage', `-I${firmwareFolder}`, `-I${testFolder}`],
        ...tests.map((name) => join(testFolder, name)),
        ...pureParts.map((name) => `${name}.o`),
        ...['-o', 'host'],
      ],
      folder,
    );
    run(join(folder, 'host'), [goldenFile, '1', '100000'], folder);
    const said = run('gcov', ['-b', ...pureParts.map((name) => `${name}.gcda`)], folder);
    const blocks = said.split("File '").filter((block) => block.startsWith(firmwareFolder));
    const sum = { lines: 0, linesHit: 0, branches: 0, branchesHit: 0 };
    for (const block of blocks) {
      const [, share, lines] = /Lines executed:([\d.]+)% of (\d+)/.exec(block) ?? ['', '0', '0'];
      const [, taken, branches] = /Taken at least once:([\d.]+)% of (\d+)/.exec(block) ?? ['', '0', '0'];
      sum.lines += Number(lines);
      sum.linesHit += (Number(share) * Number(lines)) / 100;
      sum.branches += Number(branches);
      sum.branchesHit += (Number(taken) * Number(branches)) / 100;
    }
    const lineShare = (100 * sum.linesHit) / sum.lines;
    const branchShare = (100 * sum.branchesHit) / sum.branches;
    console.info(
      `host tests: ${lineShare.toFixed(1)} % of ${sum.lines} lines, ${branchShare.toFixed(1)} % of ${sum.branches} branches`,
    );
    expect(blocks.length).toBeGreaterThanOrEqual(pureParts.length);
    expect(sum.lines).toBeGreaterThan(300);
    expect(lineShare).toBeGreaterThan(fewestLines);
    expect(branchShare).toBeGreaterThan(fewestBranches);
  });
});
