import type { UnsavedRun } from '../records/types.ts';
import type { SessionRun } from './session-run.ts';

/** Runs kept in memory alone while the disk cannot be written. */
const mostUnsaved = 5;

/** The run in hand, and those before it that could not be put on record yet. */
export class RunsInHand {
  #run: SessionRun | null = null;
  #unsaved: SessionRun[] = [];

  /** The run under way, or the last one; null when there was none since the start. */
  get run(): SessionRun | null {
    return this.#run;
  }

  /** The run in hand where it is under way. */
  get underWay(): SessionRun | null {
    return this.#run?.underWay ? this.#run : null;
  }

  /** The run before goes on until it has reached the disk, but not so many of them that memory runs out. */
  take(run: SessionRun): void {
    if (this.#run !== null) this.#unsaved.push(this.#run);
    this.#unsaved = this.#unsaved.filter((earlier) => !earlier.onRecord);
    if (this.#unsaved.length > mostUnsaved) void this.#unsaved.shift()?.letGo();
    this.#run = run;
  }

  /** Why some are not on record as they should be. */
  troubles(): (string | null)[] {
    return this.#all.map((run) => run.trouble);
  }

  /** Runs that are over and in memory alone, for want of a disk that takes them. */
  unsaved(): UnsavedRun[] {
    return this.#all.flatMap((run) => run.unsaved() ?? []);
  }

  /** No more writing. */
  async letGo(): Promise<void> {
    await Promise.all(this.#all.map((run) => run.letGo()));
  }

  get #all(): SessionRun[] {
    return this.#run === null ? this.#unsaved : [...this.#unsaved, this.#run];
  }
}
