import type { PartOfDoubt } from '../http/calibration-messages.ts';
import type { StoredRun } from '../records/types.ts';
import type { BudgetPart } from '../run/types.ts';
import { whyNot } from './evidence.ts';

/**
 * What the doubt of a calibration's rate is made of, relative standard uncertainties, the largest first. A part that is common to all runs stays
 * as it is in the newest; one that differs from run to run shrinks as in a mean of independent runs, the root of the sum of squares over their
 * number (JCGM 100:2008, 5.1.2). `rowsDoubt`: from the rows caught standing for all, null where they were never compared.
 */
export function doubtsOf(runs: readonly StoredRun[], rowsDoubt: number | null): PartOfDoubt[] {
  const budgets = runs
    .filter((run) => whyNot(run) === null)
    .map((run) => run.figures?.budget ?? [])
    .filter((budget) => budget.length > 0);
  const sums = new Map<BudgetPart['part'], number>();
  for (const budget of budgets) {
    for (const { part, relative, common } of budget) {
      if (common) sums.set(part, relative);
      else sums.set(part, Math.hypot(sums.get(part) ?? 0, relative / budgets.length));
    }
  }
  const parts: PartOfDoubt[] = [...sums].map(([part, relative]) => ({ part, relative }));
  if (rowsDoubt !== null && budgets.length > 0) parts.push({ part: 'rows', relative: rowsDoubt });
  return parts.toSorted((a, b) => b.relative - a.relative);
}
