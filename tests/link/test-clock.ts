import { setImmediate as turn } from 'node:timers/promises';
import type { Clock } from '../../server/clock.ts';

interface Timer {
  due: number;
  task: () => void;
}

/** A clock that moves only when told to, and lets promises and streams settle between two timers. */
export class TestClock implements Clock {
  #now = 0;
  #timers: Timer[] = [];

  now(): number {
    return this.#now;
  }

  after(milliseconds: number, task: () => void): () => void {
    const timer = { due: this.#now + Math.max(0.001, milliseconds), task };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }

  /** Timers that are waiting; a leak shows here. */
  get waiting(): number {
    return this.#timers.length;
  }

  /** Lets `milliseconds` pass, timer by timer. */
  async pass(milliseconds: number): Promise<void> {
    const end = this.#now + milliseconds;
    await settle();
    for (let next = this.#next(end); next !== undefined; next = this.#next(end)) {
      this.#timers = this.#timers.filter((timer) => timer !== next);
      this.#now = next.due;
      next.task();
      await settle();
    }
    this.#now = end;
    await settle();
  }

  #next(end: number): Timer | undefined {
    const due = this.#timers.filter((timer) => timer.due <= end);
    return due.sort((a, b) => a.due - b.due)[0];
  }
}

/** Promises and ticks are worked off in the first turn, what they set off by way of streams in the next. */
async function settle(): Promise<void> {
  await turn();
  await turn();
}
