import { spawn } from 'node:child_process';

const program = `
  const delay = require('node:perf_hooks').monitorEventLoopDelay({ resolution: 20 });
  delay.enable();
  process.stdin.on('end', () => process.stdout.write(String(Math.max(0, delay.max / 1e6 - 20)))).resume();
`;

export interface IdleProcess {
  /** Ends it; the longest time that it was kept waiting, milliseconds. */
  worst(): Promise<number>;
}

/** A process that does nothing: how long it waits for its turn is the machine's doing, and what a busy one waits beyond that is its own. */
export function idleProcess(): IdleProcess {
  const child = spawn(process.execPath, ['-e', program]);
  let said = '';
  child.stdout.on('data', (text) => {
    said += text;
  });
  const ended = new Promise<void>((resolve) => child.once('close', () => resolve()));
  return {
    async worst() {
      child.stdin.end();
      await ended;
      return Number(said);
    },
  };
}
