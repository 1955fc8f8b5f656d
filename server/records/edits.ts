import { v7 } from 'uuid';
import type { Kind } from './model.ts';

/**
 * Everything that people may change is the sum of its edits: each names some fields and their new values. Where two edits name one field the
 * later one counts, by the order of their ids, wherever and in whatever order they arrive; all of them are kept and can be shown.
 */
export interface Edit {
  /** UUID version 7: sorts by time, and never the same from two machines. */
  id: string;
  kind: Kind;
  itemId: string;
  /** New values by field. `deletedAt` is a field of every item: a moment in ISO 8601, or null. */
  changes: Record<string, unknown>;
  /** Who made it, as they call themselves; may be empty. */
  by: string;
  /** On which stand or computer. */
  place: string;
  /** ISO 8601, UTC, by that computer's clock. */
  at: string;
}

/** An item as all its edits together make it. */
export interface Folded {
  fields: Record<string, unknown>;
  createdAt: string;
  changedAt: string;
  deletedAt: string | null;
}

const byId = (a: Edit, b: Edit): number => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/** The item that these edits (at least one, all of one item, in any order) make. */
export function fold(edits: readonly Edit[]): Folded {
  const ordered = edits.toSorted(byId);
  const { deletedAt = null, ...fields } = Object.assign({}, ...ordered.map(({ changes }) => changes));
  return { fields, createdAt: ordered[0]!.at, changedAt: ordered.at(-1)!.at, deletedAt };
}

/** One change of one field, for people: what it was before and after. `counts` is false where a later edit has overruled it. */
export interface FieldChange {
  field: string;
  before: unknown;
  after: unknown;
  counts: boolean;
  by: string;
  place: string;
  at: string;
}

/** Every change of every field after the first edit, oldest first. */
export function historyOf(edits: readonly Edit[]): FieldChange[] {
  const ordered = edits.toSorted(byId);
  const values: Record<string, unknown> = { deletedAt: null, ...ordered[0]?.changes };
  const history: FieldChange[] = [];
  for (const { changes, by, place, at } of ordered.slice(1)) {
    for (const [field, after] of Object.entries(changes)) {
      for (const earlier of history) if (earlier.field === field) earlier.counts = false;
      history.push({ field, before: values[field] ?? null, after, counts: true, by, place, at });
      values[field] = after;
    }
  }
  return history;
}

const millisOf = (id: string): number => Number.parseInt(id.slice(0, 8) + id.slice(9, 13), 16);

/** A made-up or damaged edit may claim any time. What lies further ahead than this does not push our clock. */
const furthestAheadMillis = 24 * 3600 * 1000;
/** What an id has room for. */
const latestMillis = 2 ** 48 - 1;

/**
 * Gives edits their ids. An edit made in knowledge of another sorts after it, even where the other computer's clock is ahead of ours.
 */
export class EditClock {
  readonly #now: () => number;
  #newest = 0;

  constructor(now: () => number = Date.now) {
    this.#now = now;
  }

  /** Takes note of an edit's id that was met. */
  met(id: string): void {
    const millis = millisOf(id);
    if (millis > this.#newest && millis < this.#now() + furthestAheadMillis) this.#newest = millis;
  }

  next(): string {
    const now = this.#now();
    this.#newest = now > this.#newest ? now : this.#newest + 1;
    return v7({ msecs: this.#newest });
  }

  /**
   * The id of an edit made in knowledge of these: it sorts after them, whatever time they claim. Where our own clock has been set back (a computer
   * without a battery), or another's was far ahead, what people change now must not lose to what they see on the page.
   */
  nextAfter(known: readonly Edit[]): string {
    for (const { id } of known) this.met(id);
    const latest = Math.max(0, ...known.map(({ id }) => millisOf(id)));
    return latest <= this.#newest ? this.next() : v7({ msecs: Math.min(latest + 1, latestMillis) });
  }
}
