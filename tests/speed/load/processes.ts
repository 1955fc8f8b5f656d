import { type ChildProcess, fork } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { findProject } from '../../../server/project.ts';

/** A module of these measurements as one file that Node can run. */
export interface Program {
  path: string;
  remove(): void;
}

/** Puts a module into one file, in a folder inside the project so that packages are found. */
export async function programOf(entry: URL): Promise<Program> {
  const folder = mkdtempSync(join(findProject().folder, 'node_modules', '.cache', 'catchbench-'));
  const path = join(folder, 'program.mjs');
  await build({
    entryPoints: [entry.pathname],
    outfile: path,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
  });
  return { path, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** A program that reports to this process now and then, until it is told to end. */
export interface Running<Report> {
  last(): Report;
  /** Resolves when it has ended. */
  stop(): Promise<void>;
}

/** Starts one, and resolves with its first report. `heard` gets every one. */
export async function startProgram<Report>(
  program: Program,
  args: readonly string[],
  heard: (report: Report) => void = () => {},
): Promise<Running<Report>> {
  const child: ChildProcess = fork(program.path, [...args], {
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    env: { ...process.env, CATCHBENCH_LOG: 'silent' },
  });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  let last: Report | null = null;
  await new Promise<void>((resolve, reject) => {
    child.once('exit', () => reject(new Error('A program of the measurement ended at its start.')));
    child.on('message', (report) => {
      last = report as Report;
      heard(last);
      resolve();
    });
  });
  return {
    last: () => last!,
    async stop() {
      if (child.connected) child.send('end');
      await ended;
    },
  };
}
