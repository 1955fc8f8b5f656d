import { slopeDoubt } from '../domain/scale-doubt.ts';
import { keepStand } from '../records/stands.ts';
import type { Item, Store } from '../records/types.ts';
import type { CheckState } from './check.ts';
import type { CheckReport } from './report.ts';
import { slopeOf } from './step-cells.ts';
import type { FoundLine, StandKnown } from './types.ts';

/** The check and what its masses found, put with the stand on record. */

type Shelves = Pick<Store, 'stands' | 'standChecks' | 'scaleChecks'>;

/** Degrees of freedom as the records have them: null for a doubt that is known. */
const freedomOf = (degreesOfFreedom: number): number | null =>
  Number.isFinite(degreesOfFreedom) ? degreesOfFreedom : null;

/** Whether the board weighs with the line found, to within what the line is known to: only then does its doubt speak of the board's grams. */
function isInForce({ cell, calibration }: FoundLine, known: StandKnown): boolean {
  const off = Math.abs(slopeOf(known, cell) / calibration.gramsPerCount - 1);
  return off <= slopeDoubt(calibration).standard;
}

function scaleCheckOf(line: FoundLine, { at, stand }: CheckReport, standId: string, known: StandKnown) {
  const { cell, masses, calibration } = line;
  const passed = line.passed && isInForce(line, known);
  const doubt = slopeDoubt(calibration);
  return {
    at,
    stand,
    standId,
    purpose: 'calibration' as const,
    record: {
      masses: masses.map(({ name, grams, standardDoubt }) => ({
        name,
        grams: Number(grams),
        standardDoubt: Number(standardDoubt),
      })),
      steps: calibration.steps.map(({ masses: on, counts, standardError, drift }) => ({
        masses: [...on],
        counts,
        standardError,
        ...(drift === undefined ? {} : { drift: { ...drift } }),
      })),
    },
    slopeDoubt: { standard: doubt.standard, degreesOfFreedom: freedomOf(doubt.degreesOfFreedom) },
    cell,
    points: calibration.steps.map(({ load, counts, residual }) => ({
      massGrams: load,
      massDoubtGrams: 0,
      count: counts,
      shownGrams: load + residual,
    })),
    gramsPerCount: calibration.gramsPerCount,
    gramsPerCountDoubt: Math.abs(calibration.gramsPerCount) * doubt.standard,
    zeroCount: calibration.zeroCounts,
    passed,
    note: '',
  };
}

/** Puts the check on record, and each cell's line as a scale check of its own. Rejects as the store does. */
export async function keepCheck(
  store: Shelves,
  report: CheckReport,
  { known, found }: Pick<CheckState, 'known' | 'found'>,
): Promise<Item<'stand-check'>> {
  const { identity, settings } = known;
  const { firmware, pulsesPerTurn, cells } = identity;
  const told = { firmware, pulsesPerTurn, cells, settings: Object.fromEntries(settings) };
  const stand = await keepStand(store, identity.name, told, report.by);
  for (const line of found)
    await store.scaleChecks.create(scaleCheckOf(line, report, stand.id, known), report.by);
  return store.standChecks.create({ ...report, standId: stand.id }, report.by);
}
