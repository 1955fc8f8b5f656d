import { countingDoubt, weighingDoubt } from '../domain/enough-turns.ts';
import { fewRowsDoubt, type RowsSummary, summarizeRows } from '../domain/rows.ts';
import { grams, turns } from '../domain/units.ts';
import type { RowsBody } from '../http/calibration-messages.ts';
import { lumpinessOf } from '../run/plan.ts';
import type { RunPlan } from '../run/types.ts';
import { eyeMarksPerTurn } from './hand-run.ts';

/** Rows caught side by side, or one after the other, as typed in: how far one stands for all. */

/** Rows of a drill whose rows nobody has counted: so many that those caught are hardly any of them. */
const manyRows = 400;

/** How alike the rows are. @throws DomainError with a sentence. */
export function comparedRows(plan: RunPlan, { turns: count, grams: caught, ...how }: RowsBody): RowsSummary {
  const weighing = weighingDoubt(grams(how.scaleStepGrams), grams(0));
  const rows = caught.map((each, index) => ({
    name: `row ${index + 1}`,
    caught: grams(each),
    turns: turns(count),
    weighing,
  }));
  return summarizeRows(rows, {
    lumpiness: lumpinessOf(plan),
    cellSlope: 0,
    repeatability: how.together ? 0 : plan.seed.repeatability,
    turns: how.together ? 0 : countingDoubt(eyeMarksPerTurn),
  });
}

const rowsOf = ({ rowsCaught, drill }: RunPlan): number =>
  Math.max(rowsCaught, drill.rowCount ?? Math.max(manyRows, rowsCaught));

/** Relative doubt of the rows that a run of this plan catches standing for the whole drill. */
export function rowsDoubtOf(plan: RunPlan, { real, rows: compared }: RowsSummary): number {
  return fewRowsDoubt(real.standard, plan.rowsCaught, rowsOf(plan), compared).standard;
}

/**
 * The same where the rows were compared when `rowsCaught` of them stood for all, with the doubt on record of then; null where that tells nothing:
 * never compared, or all rows caught then and fewer now.
 */
export function rowsDoubtNow(
  plan: RunPlan,
  { rowsDoubt, rowsCaught }: { rowsDoubt: number | null; rowsCaught: number },
): number | null {
  if (rowsDoubt === null || rowsCaught === plan.rowsCaught) return rowsDoubt;
  const all = rowsOf(plan);
  const then = fewRowsDoubt(1, Math.min(rowsCaught, all), all).standard;
  return then === 0 ? null : (rowsDoubt / then) * fewRowsDoubt(1, plan.rowsCaught, all).standard;
}
