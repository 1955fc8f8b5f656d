import type { Clock } from '../clock.ts';

/** Waits for something to become true, looked at whenever something happened. */
export class Watch {
  readonly #clock: Clock;
  readonly #looks = new Set<() => void>();

  constructor(clock: Clock) {
    this.#clock = clock;
  }

  /** Something happened. */
  look(): void {
    for (const look of this.#looks) look();
  }

  /** Resolves once `done` holds, or when `milliseconds` have passed. */
  until(done: () => boolean, milliseconds: number): Promise<void> {
    if (done()) return Promise.resolve();
    return new Promise((resolve) => {
      const end = () => {
        cancel();
        this.#looks.delete(look);
        resolve();
      };
      const look = () => {
        if (done()) end();
      };
      const cancel = this.#clock.after(milliseconds, end);
      this.#looks.add(look);
    });
  }

  pause(milliseconds: number): Promise<undefined> {
    return new Promise((resolve) => {
      this.#clock.after(milliseconds, () => resolve(undefined));
    });
  }
}
