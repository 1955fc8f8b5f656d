import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Program, type Running, startProgram } from './processes.ts';
import type { ServiceReport } from './service.ts';

export interface ServiceOptions {
  /** The port that its stand is on. Without one it has an emulated stand inside, `speed` times as fast as real time. */
  port?: string;
  speed?: number;
  /** Turns of a run. */
  turns?: number;
  /** Hears each report. */
  heard?: (report: ServiceReport) => void;
}

/** Starts a service in a process of its own, with records that go when it does; resolves when its page can be opened. */
export async function startService(
  program: Program,
  options: ServiceOptions = {},
): Promise<Running<ServiceReport>> {
  const { port = '', speed = 1, turns = 50, heard } = options;
  const folder = mkdtempSync(join(tmpdir(), 'catchbench-load-'));
  const running = await startProgram(program, [folder, String(turns), String(speed), port], heard);
  return {
    last: running.last,
    async stop() {
      await running.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
