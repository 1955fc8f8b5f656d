import type { Clock } from '../clock.ts';
import { RecordsError } from '../records/errors.ts';
import type { JournalEntry, NewRun, Records, RunEnd, UnsavedRun } from '../records/types.ts';

/** Entries wait no longer than this before they are put on disk; that leaves a slow disk 150 of the 250 ms that may be lost. */
const batchMillis = 100;
/** After a failed write, the next try. */
const againMillis = 1000;
/** Entries held while the disk cannot be written, some 50 minutes of readings; beyond it the rest of the run is not kept. */
const greatestBacklog = 250_000;

const overflow =
  'The records could not be written for so long that the rest of this run is not kept. What is shown is right.';

/** The journal of a run that was cut off: its entries on record, and how long ago it began. */
export interface KeptJournal {
  entries: number;
  hostMillis: number;
}

/**
 * Puts one run on record while it goes on: its beginning, its journal in batches, its end only after all of these. While the disk cannot be
 * written it keeps what it has and tries again; the run itself never waits for it.
 */
export class JournalWriter {
  readonly runId: string;
  readonly #records: Records;
  readonly #clock: Clock;
  readonly #run: NewRun;
  readonly #beganAt: number;
  readonly #onTrouble: () => void;
  #begun = false;
  #pending: JournalEntry[] = [];
  #noted = 0;
  #end: Omit<RunEnd, 'entries'> | null = null;
  #closed = false;
  #givenUp = false;
  #trouble: string | null = null;
  #writing: Promise<void> | null = null;
  #cancelTimer: (() => void) | null = null;

  /** `onTrouble` is called whenever `trouble` changes; `kept`: what is on record already of a run that was cut off. */
  constructor(
    records: Records,
    run: NewRun,
    clock: Clock,
    onTrouble: () => void,
    kept: KeptJournal | null = null,
  ) {
    this.runId = run.id;
    this.#records = records;
    this.#clock = clock;
    this.#run = run;
    this.#beganAt = clock.now() - (kept?.hostMillis ?? 0);
    this.#begun = kept !== null;
    this.#noted = kept?.entries ?? 0;
    this.#onTrouble = onTrouble;
  }

  /** Why the run is not on disk as far as it should be, as a sentence; null while all is well. */
  get trouble(): string | null {
    return this.#trouble;
  }

  /** True once the run and its end are on disk. */
  get closed(): boolean {
    return this.#closed;
  }

  /** A run that is over and not on disk as it should be: its end, and the entries that are in memory alone. Null while all is well. */
  unsaved(): UnsavedRun | null {
    if (this.#end === null || this.#closed || this.#trouble === null) return null;
    const end = { ...this.#end, entries: this.#noted };
    return { run: this.#run, end, pending: [...this.#pending] };
  }

  note(kind: JournalEntry['kind'], text: string): void {
    if (this.#givenUp) return;
    if (this.#pending.length >= greatestBacklog) {
      this.#giveUp();
      return;
    }
    // Tenths of a millisecond: finer than anyone has a use for, and short on disk.
    const hostMillis = Math.round((this.#clock.now() - this.#beganAt) * 10) / 10;
    this.#pending.push({ position: this.#noted++, hostMillis, kind, text });
    // The run itself goes on record at once: that takes longer than a batch, and batches wait for it.
    this.#writeIn(this.#begun ? batchMillis : 0);
  }

  /** The run is over; resolves when this is on disk or could not be put there for now (see `trouble`). */
  async close(end: Omit<RunEnd, 'entries'>): Promise<void> {
    this.#end = end;
    await this.flush();
  }

  /** Puts what there is on disk now, as far as it goes. */
  async flush(): Promise<void> {
    while (this.#writing !== null) await this.#writing;
    await this.#write();
  }

  /** Ends all further tries. What is not on disk by now is lost; the run is then found without an end at the next start. */
  abandon(): void {
    this.#givenUp = true;
    this.#cancelTimer?.();
    this.#cancelTimer = null;
  }

  #writeIn(milliseconds: number): void {
    if (this.#cancelTimer !== null || this.#writing !== null) return;
    this.#cancelTimer = this.#clock.after(milliseconds, () => void this.#write());
  }

  /** Milliseconds until the oldest entry has waited long enough: it may have come while the batch before was being written. */
  #oldestCanWait(): number {
    const age = this.#clock.now() - this.#beganAt - this.#pending[0]!.hostMillis;
    return Math.max(0, batchMillis - age);
  }

  #write(): Promise<void> {
    this.#cancelTimer?.();
    this.#cancelTimer = null;
    this.#writing ??= this.#writeAll().finally(() => {
      this.#writing = null;
      if (this.#trouble !== null) this.#writeIn(againMillis);
      else if (this.#pending.length > 0) this.#writeIn(this.#oldestCanWait());
    });
    return this.#writing;
  }

  /** Never rejects: a failure becomes `trouble`. */
  async #writeAll(): Promise<void> {
    if (this.#givenUp || this.#closed) return;
    try {
      if (!this.#begun) await this.#records.begin(this.#run);
      this.#begun = true;
      // A copy: entries noted while this batch is being written belong to the next.
      const batch = [...this.#pending];
      if (batch.length > 0) await this.#records.append(this.runId, batch);
      this.#pending = this.#pending.slice(batch.length);
      if (this.#end !== null && this.#pending.length === 0) await this.#close(this.#end);
      this.#setTrouble(null);
    } catch (error) {
      this.#setTrouble(error instanceof RecordsError ? error.message : String(error));
    }
  }

  async #close(end: Omit<RunEnd, 'entries'>): Promise<void> {
    await this.#records.close(this.runId, { ...end, entries: this.#noted });
    this.#closed = true;
  }

  #giveUp(): void {
    this.abandon();
    this.#pending = [];
    this.#setTrouble(overflow);
  }

  #setTrouble(sentence: string | null): void {
    if (sentence === this.#trouble) return;
    this.#trouble = sentence;
    this.#onTrouble();
  }
}
