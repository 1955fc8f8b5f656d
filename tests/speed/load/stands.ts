import { type ChildProcess, fork } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { findProject } from '../../../server/project.ts';
import type { ServiceReport } from './service.ts';

export interface StandOptions {
  /** Times real time. */
  speed?: number;
  /** Turns of a run. */
  turns?: number;
  /** Hears each report. */
  heard?: (report: ServiceReport) => void;
}

/** A service with an emulated stand in a process of its own. */
export interface StandProcess {
  address: string;
  last(): ServiceReport;
  stop(): Promise<void>;
}

/** Puts a module of these measurements into one file that Node can run, in a folder inside the project so that packages are found. */
export async function programOf(entry: URL): Promise<{ path: string; remove(): void }> {
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

/** Starts one, and resolves when its page can be opened. */
export async function startStand(program: string, options: StandOptions = {}): Promise<StandProcess> {
  const { speed = 1, turns = 50, heard = () => {} } = options;
  const data = mkdtempSync(join(tmpdir(), 'catchbench-load-'));
  const child: ChildProcess = fork(program, [data, String(speed), String(turns)], {
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    env: { ...process.env, CATCHBENCH_LOG: 'silent' },
  });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  let last: ServiceReport | null = null;
  const address = await new Promise<string>((resolve, reject) => {
    child.once('exit', () => reject(new Error('A stand of the measurement ended at its start.')));
    child.on('message', (report: ServiceReport) => {
      last = report;
      heard(report);
      if (report.address !== undefined) resolve(report.address);
    });
  });
  return {
    address,
    last: () => last!,
    async stop() {
      if (child.connected) child.send('end');
      await ended;
      rmSync(data, { recursive: true, force: true });
    },
  };
}
