import type { Clock } from '../clock.ts';

/** One timer that can be moved: calls its task once when its time has come. */
export class Alarm {
  readonly #clock: Clock;
  readonly #task: () => void;
  #at = Number.POSITIVE_INFINITY;
  #cancel = () => {};

  constructor(clock: Clock, task: () => void) {
    this.#clock = clock;
    this.#task = task;
  }

  /** Moves it to `at`, in milliseconds of the clock; Infinity for never. A time that has passed means at once. */
  set(at: number): void {
    if (at === this.#at) return;
    this.#cancel();
    this.#cancel = () => {};
    this.#at = at;
    if (at === Number.POSITIVE_INFINITY) return;
    this.#cancel = this.#clock.after(Math.max(0, at - this.#clock.now()), () => {
      this.#at = Number.POSITIVE_INFINITY;
      this.#task();
    });
  }
}
