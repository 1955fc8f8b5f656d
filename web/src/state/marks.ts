import type { CalibrationView } from '../../../server/http/calibration-messages.ts';

type Row = NonNullable<CalibrationView['advice']>['chart'][number];

/** Marks shown to each side of the one that comes nearest to the target. */
const toEachSide = 5;

/** The rows of a setting chart about the target, and how many more there are: a scale may have a thousand marks. */
export function aboutTarget(chart: readonly Row[], target: number): { near: readonly Row[]; more: number } {
  const misses = chart.map(({ rate }) => Math.abs(rate.value - target));
  const nearest = misses.indexOf(Math.min(...misses));
  const from = Math.max(0, Math.min(nearest - toEachSide, chart.length - 2 * toEachSide - 1));
  const near = chart.slice(from, from + 2 * toEachSide + 1);
  return { near, more: chart.length - near.length };
}
