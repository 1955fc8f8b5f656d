/** Host time that follows an emulated stand: it stands still while the stand does and fires its timers as the stand moves on. */
import type { Clock } from '../server/clock.ts';
import { cyclesPerSecond } from './board/cpu.ts';

interface Timer {
  /** Cycle, a whole number: milliseconds as fractions would not come back exactly. */
  readonly due: number;
  readonly task: () => void;
}

/** As for `setTimeout`: nothing is due at once, so that a task which calls for itself again lets time pass. */
const leastMilliseconds = 1;

const cyclesPerMillisecond = cyclesPerSecond / 1000;

export class StandClock implements Clock {
  readonly #now: () => number;
  /** Soonest first; equal ones in the order in which they were asked for. */
  #timers: Timer[] = [];

  /** @param now the stand's time in cycles. */
  constructor(now: () => number) {
    this.#now = now;
  }

  now(): number {
    return this.#now() / cyclesPerMillisecond;
  }

  after(milliseconds: number, task: () => void): () => void {
    const cycles = Math.max(leastMilliseconds, milliseconds) * cyclesPerMillisecond;
    const timer = { due: Math.ceil(this.#now() + cycles), task };
    const index = this.#timers.findIndex((other) => other.due > timer.due);
    this.#timers.splice(index < 0 ? this.#timers.length : index, 0, timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }

  /** Cycle at which the next timer is due, Infinity without one. */
  get nextDue(): number {
    return this.#timers[0]?.due ?? Infinity;
  }

  /** Runs the tasks that are due. */
  fireDue(): void {
    const now = this.#now();
    while (this.nextDue <= now) this.#timers.shift()?.task();
  }
}
