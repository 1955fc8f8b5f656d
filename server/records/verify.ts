import { rateFromCatch } from '../domain/geometry.ts';
import { grams, turns } from '../domain/units.ts';
import { geometryOf } from '../run/plan.ts';
import { formulaVersion, Replay } from '../run/session-replay.ts';
import type { Store, StoredRun } from './types.ts';

/** Every run on record computed again from what it rests on, and held against the figures on record. */

export interface Difference {
  /** Where in the figures, as in `rate.low`; `chart` for the chart. */
  where: string;
  stored: unknown;
  computed: unknown;
}

export type Verdict =
  | 'same'
  | 'older formulas' // other figures, and they were made by another edition of the formulas
  | 'differs' // other figures although the formulas are the same: the record has changed
  | 'unreadable' // readings damaged or missing
  | 'unfinished'; // no figures yet

export interface Verified {
  run: StoredRun;
  verdict: Verdict;
  /** At most `mostDifferences`. */
  differences: Difference[];
  /** Journal entries it was computed from. */
  entries: number;
  /** Stand seconds from its first to its last reading. */
  seconds: number;
  sentence: string;
}

const mostDifferences = 12;
const runsAtOnce = 100;
const entriesAtOnce = 4096;

/** Where two pieces of plain data differ. */
function differencesIn(stored: unknown, computed: unknown, where = ''): Difference[] {
  if (Object.is(stored, computed)) return [];
  const both = [stored, computed];
  if (both.every((part) => typeof part === 'object' && part !== null)) {
    const [a, b] = both as [Record<string, unknown>, Record<string, unknown>];
    const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])];
    return keys.flatMap((key) => differencesIn(a[key], b[key], where === '' ? key : `${where}.${key}`));
  }
  return [{ where, stored, computed }];
}

/** As it comes back from the disk: what JSON leaves out is left out. */
const asStored = <T>(value: T): T => JSON.parse(JSON.stringify(value));

async function replayed(store: Store, runId: string) {
  const made = new Replay();
  let entries = 0;
  for (;;) {
    const part = await store.journal(runId, entries, entriesAtOnce);
    for (const entry of part) made.take(entry);
    entries += part.length;
    if (part.length === 0) return { ...asStored(made.result()), entries };
  }
}

function handDifferences({ plan, hand, figures }: StoredRun): Difference[] {
  const stored = figures?.rate?.gramsPerSquareMetre;
  if (hand === null || stored === undefined) return [];
  const computed = rateFromCatch(geometryOf(plan), turns(hand.turns), grams(hand.grams));
  return Math.abs(stored - computed) <= 1e-12 * Math.abs(computed)
    ? []
    : [{ where: 'rate.gramsPerSquareMetre', stored, computed }];
}

const named = ({ plan, startedAt }: StoredRun): string => `The run of ${startedAt} on ${plan.drill.name}`;

function judged(run: StoredRun, differences: Difference[], entries: number): Verified {
  const seconds = run.figures?.seconds ?? 0;
  const rest = { run, differences: differences.slice(0, mostDifferences), entries, seconds };
  if (differences.length === 0) {
    return { ...rest, verdict: 'same', sentence: `${named(run)} gives the figures on record.` };
  }
  const places = `${differences.length} of them differ, first ${differences[0]!.where}`;
  return run.formulaVersion === formulaVersion
    ? {
        ...rest,
        verdict: 'differs',
        sentence: `${named(run)} does not give the figures on record: ${places}. The formulas are the same, so the record was changed or damaged.`,
      }
    : {
        ...rest,
        verdict: 'older formulas',
        sentence: `${named(run)} gives other figures than on record (${places}): those were made by edition ${run.formulaVersion} of the formulas, these are edition ${formulaVersion}. Both follow from the same readings, which are all there.`,
      };
}

/** One run. Never rejects for what is wrong with the run itself. */
export async function verifyRun(store: Store, run: StoredRun): Promise<Verified> {
  if (run.source === 'hand') return judged(run, handDifferences(run), 0);
  if (run.figures === null) {
    const sentence = `${named(run)} has no end yet.`;
    return { run, verdict: 'unfinished', differences: [], entries: 0, seconds: 0, sentence };
  }
  try {
    const { figures, trace, entries } = await replayed(store, run.id);
    const chart = differencesIn(run.trace, trace).slice(0, 1);
    const differences = differencesIn(run.figures, figures);
    return judged(run, [...differences, ...chart.map((each) => ({ ...each, where: 'chart' }))], entries);
  } catch (error) {
    const sentence = `${named(run)} could not be computed again: ${(error as Error).message}`;
    return { run, verdict: 'unreadable', differences: [], entries: 0, seconds: 0, sentence };
  }
}

/** All runs, newest first, those deleted and still kept included. */
export async function* verifyAll(store: Store): AsyncGenerator<Verified> {
  for (const deleted of [false, true]) {
    for (let after: string | null = null; ; ) {
      const page: Awaited<ReturnType<Store['runs']['list']>> = await store.runs.list({
        deleted,
        limit: runsAtOnce,
        after,
      });
      for (const { id } of page.items) {
        const run = await store.runs.find(id);
        if (run !== null) yield await verifyRun(store, run);
      }
      after = page.next;
      if (after === null) break;
    }
  }
}
