import { type ChildProcess, spawn } from 'node:child_process';

/** What a program kept its own clock waiting, told apart from what the machine did. */

/**
 * To be run before a program's own first line (Linux): how long its main thread was at work between two of its own ticks, at most, in milliseconds of
 * processor time, which another program on the machine cannot lengthen. SIGUSR2 begins anew; it is said at the end.
 */
const meter = `
  import { readFileSync, writeSync } from 'node:fs';
  import { isMainThread } from 'node:worker_threads';
  const used = () => Number(readFileSync('/proc/self/schedstat', 'latin1').split(' ')[0]) / 1e6;
  let last = used();
  let most = 0;
  const tick = () => { const now = used(); most = Math.max(most, now - last); last = now; };
  if (isMainThread) setInterval(tick, 10).unref();
  process.on('SIGUSR2', () => { last = used(); most = 0; });
  process.on('exit', () => isMainThread && writeSync(2, 'Longest at work: ' + most.toFixed(0) + ' ms.\\n'));
`;

/** For the environment of a program that is to be measured. */
export const measured = { NODE_OPTIONS: `--import data:text/javascript,${encodeURIComponent(meter)}` };

export const startMeasuring = (child: ChildProcess): boolean => child.kill('SIGUSR2');

/** Milliseconds, from what the program has said when it ended. */
export const longestAtWork = (said: string): number => Number(/Longest at work: (\d+) ms/.exec(said)?.[1]);

const idle = `
  const delay = require('node:perf_hooks').monitorEventLoopDelay({ resolution: 20 });
  delay.enable();
  process.stdin.on('end', () => process.stdout.write(String(Math.max(0, delay.max / 1e6 - 20)))).resume();
`;

export interface IdleProcess {
  /** Ends it; the longest time that it was kept waiting, milliseconds. */
  worst(): Promise<number>;
}

/** A process that does nothing: how long it waits for its turn is the machine's doing. */
export function idleProcess(): IdleProcess {
  const child = spawn(process.execPath, ['-e', idle]);
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
