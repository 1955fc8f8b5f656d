import { checked, DomainError } from './error.ts';
import { checkedValues, mean, squaredDeviations } from './sample.ts';
import { studentProbability, studentQuantile } from './statistics.ts';

/**
 * Grubbs' test: does one value lie so far from the others that chance hardly explains it? It looks for one outlier in values that
 * otherwise spread normally. It tells; what to do about it is for people to decide.
 */

/** Which values are looked at: the one farthest out, only the highest, or only the lowest. */
export type OutlierSide = 'either' | 'high' | 'low';

/** What the test says of the value farthest out on the side looked at. */
export interface GrubbsResult {
  /** Its place in the list, from 0. */
  index: number;
  /** Its distance from the mean in standard deviations, 0 to (n - 1) / sqrt(n). */
  statistic: number;
  /** The distance that chance passes with the significance. */
  critical: number;
  /** Probability that chance puts a value so far out or farther; see `exact`. */
  probability: number;
  /** False where two values could lie so far out at once: then `probability` is an upper bound. */
  exact: boolean;
  /** The distance is more than critical. */
  outlying: boolean;
}

const fewestValues = 3;

/** Values that the test watches: both ends count twice. */
const watched = (count: number, side: OutlierSide): number => (side === 'either' ? 2 * count : count);

function checkedCount(count: number): number {
  checked(count, { least: fewestValues, most: 1e6 }, 'The number of values', 'count');
  if (!Number.isInteger(count)) {
    throw new DomainError('out-of-range', 'The number of values must be a whole number.', 'count');
  }
  return count;
}

function checkedSignificance(significance: number): number {
  return checked(significance, { above: 0, most: 0.5 }, 'The significance', 'significance');
}

/**
 * Distance in standard deviations that the value farthest out of `count` (whole, from 3) passes by chance with at most the probability
 * `significance` (above 0 to 0.5): (n - 1) / sqrt(n) x sqrt(t² / (n - 2 + t²)), t being exceeded with the significance over the values
 * watched at n - 2 degrees of freedom. The two-sided value at 5 % is the one-sided at 2.5 %.
 * Source: F. E. Grubbs, Technometrics 11 (1969) 1-21; NIST/SEMATECH e-Handbook 1.3.5.17.1.
 * @throws DomainError for figures out of range.
 */
export function grubbsCritical(count: number, significance: number, side: OutlierSide = 'either'): number {
  const n = checkedCount(count);
  const t = studentQuantile(1 - checkedSignificance(significance) / watched(n, side), n - 2);
  return ((n - 1) / Math.sqrt(n)) * Math.sqrt(1 / ((n - 2) / t ** 2 + 1));
}

/**
 * Probability that chance puts the value farthest out of `count` (whole, from 3) at least `statistic` standard deviations from the mean
 * (0 to (n - 1) / sqrt(n), which is as far as any value can lie). An upper bound, exact from `exactFrom` on. Very near the farthest
 * possible the last digits of the statistic decide; `grubbsTest` works from the values and keeps them.
 * Source: as `grubbsCritical`, solved for the significance.
 * @throws DomainError for figures out of range.
 */
export function grubbsProbability(statistic: number, count: number, side: OutlierSide = 'either'): number {
  const n = checkedCount(count);
  const farthest = (n - 1) / Math.sqrt(n);
  checked(statistic, { least: 0, most: farthest * (1 + 1e-12) }, 'The distance', 'statistic');
  const left = Math.max(0, farthest ** 2 - statistic ** 2);
  return boundFor(statistic * Math.sqrt((n - 2) / left), n, side);
}

/** The sum over the values watched of the chance that each passes `t`, at most 1. */
function boundFor(t: number, n: number, side: OutlierSide): number {
  return Math.min(1, watched(n, side) * studentProbability(-t, n - 2));
}

/**
 * Distance from which on only one value of `count` (whole, from 3) can lie so far out: there the bound on the probability is the
 * probability itself. Two alike on one side: sqrt((n - 1)(n - 2) / (2 n)); one on either side: sqrt((n - 1) / 2).
 * Source: E. S. Pearson and C. Chandra Sekar, Biometrika 28 (1936) 308-320 (from memory); derived: two deviations at most use up the
 * sum of squares (n - 1) s².
 * @throws DomainError for a count out of range.
 */
export function exactFrom(count: number, side: OutlierSide = 'either'): number {
  const n = checkedCount(count);
  return side === 'either' ? Math.sqrt((n - 1) / 2) : Math.sqrt(((n - 1) * (n - 2)) / (2 * n));
}

/** Place of the value that lies farthest out on the side looked at. */
function farthestOut(values: readonly number[], centre: number, side: OutlierSide): number {
  const distance = (value: number) => {
    if (side === 'either') {
      return Math.abs(value - centre);
    }
    return side === 'high' ? value - centre : centre - value;
  };
  return values.reduce((most, value, index) => (distance(value) > distance(values[most]!) ? index : most), 0);
}

/**
 * The test on `values` (three or more, any unit) at the `significance` (above 0 to 0.5). Where all values are alike nothing is outlying.
 * Figures rounded to coarse steps deceive it (26.0, 26.0, 26.1: the last is as far out as can be), so compare the distance with the step.
 * Source: as `grubbsCritical`; t comes from the deviation over the spread of the other values, which keeps its digits.
 * @throws DomainError `too-few`, `not-a-number`, `out-of-range`.
 */
export function grubbsTest(
  values: readonly number[],
  significance = 0.05,
  side: OutlierSide = 'either',
): GrubbsResult {
  checkedValues(values, fewestValues, 'The values to look for an outlier in', 'values');
  const n = values.length;
  const critical = grubbsCritical(n, significance, side);
  const centre = mean(values);
  const index = farthestOut(values, centre, side);
  const scale = Math.max(...values.map((value) => Math.abs(value - centre)));
  if (scale === 0) {
    return { index, statistic: 0, critical, probability: 1, exact: false, outlying: false };
  }
  // In units of the largest deviation, so that squares of tiny ones do not vanish.
  const deviations = values.map((value) => (value - centre) / scale);
  const distance = Math.abs(deviations[index]!);
  const statistic = distance / Math.sqrt(squaredDeviations(deviations) / (n - 1));
  const others = squaredDeviations(deviations.toSpliced(index, 1));
  const t = distance * Math.sqrt((n * (n - 2)) / ((n - 1) * others));
  return {
    index,
    statistic,
    critical,
    probability: boundFor(t, n, side),
    exact: statistic >= exactFrom(n, side),
    outlying: statistic > critical,
  };
}
