import type { KeptCheck } from '../http/scale-messages.ts';
import type { Fields } from '../records/model.ts';
import { standNamed } from '../records/stands.ts';
import type { Item, Store } from '../records/types.ts';
import { scaleSlopeDoubt } from '../run/limits.ts';
import type { StandFacts } from '../run/types.ts';
import { asKnown } from './check.ts';

/** Scale checks on record, and what they are worth on a stand as it is set now. */

type Check = Fields<'scale-check'>;

/** Days that a check is good for: a season's preparation. Common practice, no source; a knock, a move or another cell end it sooner. */
export const goodForDays = 90;

const dayMillis = 86_400_000;

/** The newest check of each cell of the stand, sound or not, by cell. */
export async function newestChecks(store: Store, name: string): Promise<Map<number, Item<'scale-check'>>> {
  const stand = await standNamed(store, name);
  const newest = new Map<number, Item<'scale-check'>>();
  if (stand === null) return newest;
  const { items } = await store.scaleChecks.list({ standId: stand.id, limit: 500 });
  for (const item of items) {
    if (!newest.has(item.fields.cell)) newest.set(item.fields.cell, item);
  }
  return newest;
}

/** Relative standard doubt of the slope that was found. */
function foundDoubt({ slopeDoubt, gramsPerCount, gramsPerCountDoubt }: Check): number {
  if (slopeDoubt == null) return Math.abs(gramsPerCountDoubt / gramsPerCount);
  const { standard, degreesOfFreedom } = slopeDoubt;
  return asKnown({ standard, degreesOfFreedom: degreesOfFreedom ?? Number.POSITIVE_INFINITY });
}

/**
 * Relative standard doubt of a cell's slope in force by its check: that of the slope found and, as an error that nobody corrected, how far
 * the slope in force is from it (JCGM 100:2008, F.2.4.5). A check that was not passed never makes a scale better than one without.
 */
export function doubtInForce(check: Check, gramsPerCount: number): number {
  const error = gramsPerCount / check.gramsPerCount - 1;
  const doubt = Math.hypot(foundDoubt(check), error);
  return check.passed ? doubt : Math.max(doubt, scaleSlopeDoubt);
}

const daysSince = (at: string, now: number): number => (now - Date.parse(at)) / dayMillis;

export function keptView(item: Item<'scale-check'>, stand: StandFacts | null, now: number): KeptCheck {
  const { cell, at, passed } = item.fields;
  const days = Math.max(0, daysSince(at, now));
  const line = stand?.cells[cell];
  const doubt = line === undefined ? null : doubtInForce(item.fields, line.gramsPerCount);
  return { id: item.id, cell, at, days, inDate: days <= goodForDays, passed, doubt };
}

/**
 * The doubt of the whole scale's slope: the largest of its cells', for a catch may hang on any of them. Null where some cell has no check in date:
 * then the usual doubt stands, which an out-of-date check has no right to undercut.
 */
export function slopeDoubtBy(
  checks: ReadonlyMap<number, Item<'scale-check'>>,
  stand: StandFacts,
  now: number,
): number | null {
  const doubts = stand.cells.map(({ gramsPerCount }, cell) => {
    const check = checks.get(cell);
    const inDate = check !== undefined && daysSince(check.fields.at, now) <= goodForDays;
    return inDate ? doubtInForce(check.fields, gramsPerCount) : null;
  });
  if (doubts.length === 0 || doubts.includes(null)) return null;
  return Math.max(...(doubts as number[]));
}
