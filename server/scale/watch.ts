import { addToHealth, emptyHealth, type HealthRecord } from '../domain/scale-health.ts';
import {
  addToWindow,
  emptyWindow,
  isKnocked,
  isSettled,
  type StillWindow,
  type Weighing,
  weigh,
} from '../domain/weighing.ts';
import { type Reading, readingFlags } from '../link/readings.ts';
import { scaleSlopeDoubt } from '../run/limits.ts';
import { targetCatchOf } from '../run/plan.ts';
import type { SessionFace } from '../run/session-types.ts';
import type { RunPlan } from '../run/types.ts';

/** What is known of one cell: everything in counts, so that it holds for any line. */
export interface CellRecord {
  window: StillWindow;
  weighing: Weighing | null;
  /** Readings since the load last changed. */
  health: HealthRecord;
  /** Counts taken for zero by hand. */
  zero: number | null;
}

const noRecord: CellRecord = { window: emptyWindow, weighing: null, health: emptyHealth, zero: null };

/** A stretch is begun anew after so long: what a scale did an hour ago says little of it now. Microseconds. */
const longestStretch = 120e6;

/** A change of so many counts is a knock whatever the noise: less than any cell's noise, so that the noise decides. */
const leastKnock = 1;

/** The cell with one more reading. */
export function watched(record: CellRecord, micros: number, count: number | null): CellRecord {
  const window = count === null ? record.window : addToWindow(record.window, micros, count);
  const complete = window.open?.readings === 1;
  const weighing = complete ? weigh(window) : record.weighing;
  const moved =
    complete &&
    record.weighing !== null &&
    isKnocked(window, record.weighing, { standardError: leastKnock, drift: 0 });
  const old = micros - (record.health.firstMicros ?? micros) > longestStretch;
  const health = addToHealth(moved || old ? emptyHealth : record.health, micros, count);
  return moved
    ? { ...record, window: emptyWindow, weighing: null, health }
    : { ...record, window, weighing, health };
}

/**
 * True when the load stands still: it neither drifts nor swings by more than its own noise shows, and its mean is known to `goodEnough` counts
 * (standard): a swing that dies down within the window looks like noise.
 */
export function isStill({ window, weighing }: CellRecord, goodEnough: number): boolean {
  return (
    weighing !== null &&
    weighing.doubt.standard <= goodEnough &&
    isSettled(window, weighing, { standardError: Number.POSITIVE_INFINITY, drift: 0 })
  );
}

/** Standard error, as a share of the heaviest load, below which waiting for a swing to die down gains nothing: a fifth of the usual doubt of a slope. */
const goodShare = scaleSlopeDoubt / 5;

/** How well a load wants to be known, counts, on a cell of that slope: for loads up to `heaviest` grams. */
export const goodCounts = (heaviest: number, gramsPerCount: number): number =>
  (heaviest * goodShare) / Math.abs(gramsPerCount);

/** Heaviest load that a plan lets one expect on a cell, grams: bag and holder (common practice, no source) and half as much again as the catch. */
export const heaviestOf = (plan: RunPlan): number => Math.round(100 + 1.5 * targetCatchOf(plan, plan.turns));

/** What has been seen of the stand since it was connected. */
export interface StandSeen {
  /** Pulses of the wheel either way. */
  pulses: number;
  /** When the stop input was last seen open, host time, ISO 8601; null: not since it was connected. */
  stopOpenAt: string | null;
  /** The stop input is open now. */
  stopOpen: boolean;
}

const nothingSeen: StandSeen = { pulses: 0, stopOpenAt: null, stopOpen: false };

type Watched = Pick<SessionFace, 'readings' | 'listen' | 'view'>;

/** Watches the cells of the connected stand, reading by reading. Forgets all when another board or boot speaks. */
export class ScaleWatch {
  readonly #session: Watched;
  #board = '';
  #cells: CellRecord[] = [];
  #seen: StandSeen = nothingSeen;
  #first: { forward: number; backward: number } | null = null;
  readonly #looks = new Set<() => void>();
  readonly #unlisten: (() => void)[];

  constructor(session: Watched) {
    this.#session = session;
    this.#unlisten = [
      session.readings((reading) => this.#take(reading)),
      session.listen({ changed: () => this.#checkBoard(), began: () => {}, planned: () => {} }),
    ];
  }

  get cells(): readonly CellRecord[] {
    return this.#cells;
  }

  get seen(): StandSeen {
    return this.#seen;
  }

  /** Takes what this cell, or all, carry now for zero. False where nothing steady enough is there to take. */
  takeZero(cell: number | null): boolean {
    const chosen = this.#cells.map((record, index) => (cell === null || cell === index ? record : null));
    if (chosen.every((record) => record === null || record.weighing === null)) return false;
    this.#cells = this.#cells.map((record, index) =>
      chosen[index] == null || record.weighing === null ? record : { ...record, zero: record.weighing.grams },
    );
    return true;
  }

  /** Begins a cell's window anew, so that what comes next holds nothing of before. */
  forget(cell: number): void {
    this.#cells = this.#cells.map((record, index) =>
      index === cell ? { ...record, window: emptyWindow, weighing: null, health: emptyHealth } : record,
    );
  }

  /** Calls after every reading; the returned function ends that. */
  look(listener: () => void): () => void {
    this.#looks.add(listener);
    return () => this.#looks.delete(listener);
  }

  close(): void {
    for (const end of this.#unlisten) end();
  }

  #checkBoard(): void {
    const { board } = this.#session.view().link;
    const now = board === null ? '' : `${board.name} ${board.boot} ${board.cells}`;
    if (now === this.#board) return;
    this.#board = now;
    this.#cells = [];
    this.#first = null;
    this.#seen = nothingSeen;
    for (const listener of this.#looks) listener();
  }

  #take(reading: Reading): void {
    const { boardMicros, counts, forwardPulses, backwardPulses, flags } = reading;
    this.#cells = counts.map((count, index) => watched(this.#cells[index] ?? noRecord, boardMicros, count));
    const known = this.#first !== null;
    this.#first ??= { forward: forwardPulses, backward: backwardPulses };
    const pulses = forwardPulses - this.#first.forward + backwardPulses - this.#first.backward;
    const stopOpen = (flags & readingFlags.stopOpen) !== 0;
    // Open from the first reading on it may be a wire that is off: only a button that was seen closed can be seen pressed.
    const opened = known && stopOpen && !this.#seen.stopOpen;
    this.#seen = {
      pulses,
      stopOpen,
      stopOpenAt: opened ? new Date().toISOString() : this.#seen.stopOpenAt,
    };
    for (const listener of this.#looks) listener();
  }
}
