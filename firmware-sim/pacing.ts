/** How fast a stand's time passes: beside the host's clock, at a multiple of it, or as fast as it goes. */
import { setTimeout as pause, setImmediate as turn } from 'node:timers/promises';
import type { Stand } from './stand.ts';

/** The stand advances this far between two turns of the event loop. */
const sliceSeconds = 0.005;

/** How often the host's clock is looked at. */
const pauseMilliseconds = 5;

/** A stand further behind than this many of the host's seconds gives up the rest: it falls back rather than spiral. */
const mostBehindSeconds = 0.25;

/** A stand being kept at a pace. */
export interface Pace {
  /** Stops it; resolves once it stands still. */
  stop(): Promise<void>;
  /** Seconds of the stand's time given up so far, because the host could not keep up. */
  readonly secondsLost: number;
}

/**
 * Lets a stand's time pass at `speed` times the host's.
 * @param onError told of an error out of the stand or one of its listeners; the stand then stands still. Without it the error is thrown.
 */
export function pace(stand: Stand, speed = 1, onError: (error: unknown) => void = throwUncaught): Pace {
  let running = true;
  let secondsLost = 0;
  const keepUp = async () => {
    let last = performance.now();
    let owed = 0;
    while (running) {
      const now = performance.now();
      owed += ((now - last) / 1000) * speed;
      last = now;
      const most = mostBehindSeconds * speed;
      secondsLost += Math.max(0, owed - most);
      owed = Math.min(owed, most);
      const slice = Math.min(owed, sliceSeconds);
      stand.advance(slice);
      owed -= slice;
      await (owed >= sliceSeconds ? turn() : pause(pauseMilliseconds));
    }
  };
  const done = keepUp().catch(onError);
  return {
    stop() {
      running = false;
      return done;
    },
    get secondsLost() {
      return secondsLost;
    },
  };
}

/**
 * Advances a stand as fast as it goes until `until` says so, asked after every 5 ms of the stand's time. Between two slices
 * the event loop turns, so that host code on the stand's clock and its serial binding runs in step with it: the same stand and
 * the same host code give the same run.
 * @throws Error when `limitSeconds` of the stand's time pass first.
 */
export async function runAsFastAsItGoes(
  stand: Stand,
  until: () => boolean,
  limitSeconds = 600,
): Promise<void> {
  const end = stand.seconds + limitSeconds;
  await settle();
  while (!until()) {
    if (stand.seconds >= end)
      throw new Error(`What was waited for did not come within ${limitSeconds} s of the stand's time.`);
    stand.advance(sliceSeconds);
    await settle();
  }
}

/** Two turns: promises and ticks are worked off in the first, what they set off by way of I/O in the second. */
async function settle(): Promise<void> {
  await turn();
  await turn();
}

function throwUncaught(error: unknown): void {
  queueMicrotask(() => {
    throw error;
  });
}
