import { chiSquareProbability, chiSquareQuantile } from './chi-square.ts';
import { checked } from './error.ts';
import type { Interval } from './poisson.ts';
import { fallingRoot, logOf } from './root.ts';
import { checkedValues } from './sample.ts';

/**
 * Do values differ more than their own doubts explain, and by how much? One rule serves repeats of a test, rows of a drill and checks in
 * several fields: each value comes with the standard doubt that chance alone gives it (weighing, seed sampling), and what the spread has
 * beyond that is real.
 */

/** A value and the standard doubt that chance alone gives it, in the same unit, more than 0. */
export interface DoubtedValue {
  value: number;
  doubt: number;
}

/** Values that should be alike within each group: runs at one setting, rows of one drill. Two or more in at least one group. */
export type Groups = readonly (readonly DoubtedValue[])[];

/** A spread held against chance. */
export interface SpreadVerdict {
  /** Sum of squared deviations over squared doubts. */
  chiSquare: number;
  degreesOfFreedom: number;
  /** Probability that chance alone gives so large a sum or a larger one. */
  probability: number;
  /** The probability is below the significance. */
  beyondChance: boolean;
}

/** The part of a spread that is not chance: a standard deviation in the unit of the values. */
export interface RealSpread extends Interval {
  standard: number;
}

/** A mean that gives surer values more weight. */
export interface WeightedMean {
  mean: number;
  /** Standard doubt of it. */
  doubt: number;
}

/**
 * Mean of `values` (one or more) weighted by 1 / (doubt² + between²), `between` (from 0) being a real spread on top of the doubts.
 * Source: law of propagation, JCGM 100:2008, 5.1.2: these weights give the mean of least doubt.
 * @throws DomainError for none, or for figures out of range.
 */
export function weightedMean(values: readonly DoubtedValue[], between = 0): WeightedMean {
  checkedGroup(values, 1);
  checked(between, { least: 0 }, 'The spread', 'between');
  return meanWith(values, between ** 2);
}

function meanWith(values: readonly DoubtedValue[], variance: number): WeightedMean {
  // Deviations from the first keep the digits of values that agree in the leading ones.
  const first = values[0]!.value;
  let weights = 0;
  let sum = 0;
  for (const { value, doubt } of values) {
    const weight = 1 / (doubt ** 2 + variance);
    weights += weight;
    sum += weight * (value - first);
  }
  return { mean: first + sum / weights, doubt: Math.sqrt(1 / weights) };
}

function checkedGroup(group: readonly DoubtedValue[], fewest: number): void {
  checkedValues(
    group.map((each) => each.value),
    fewest,
    'The values to compare',
    'values',
  );
  for (const { doubt } of group) {
    checked(doubt, { above: 0 }, 'The doubt of a value', 'doubt');
  }
}

/** Degrees of freedom of the spread within the groups. */
function checkedGroups(groups: Groups): number {
  const longest = groups.reduce((most, group) => Math.max(most, group.length), 0);
  const largest = groups.find((group) => group.length === longest) ?? [];
  checkedGroup(largest, 2);
  for (const group of groups) {
    checkedGroup(group, 1);
  }
  return groups.reduce((sum, group) => sum + group.length - 1, 0);
}

/** Squared deviations within the groups over the variances when `variance` is real. Falls as it grows. */
function generalizedSum(groups: Groups, variance: number): number {
  let sum = 0;
  for (const group of groups) {
    const centre = meanWith(group, variance).mean;
    for (const { value, doubt } of group) {
      sum += (value - centre) ** 2 / (doubt ** 2 + variance);
    }
  }
  return sum;
}

/**
 * Holds the spread within `groups` against chance at the `significance` (above 0, below 1).
 * Source: W. G. Cochran, Biometrics 10 (1954) 101-129, the test of homogeneity: chi-square with one degree of freedom less than there are
 * values in each group.
 * @throws DomainError `too-few` when no group has two values; `out-of-range` for doubts not above 0.
 */
export function spreadAgainstChance(groups: Groups, significance = 0.05): SpreadVerdict {
  const degreesOfFreedom = checkedGroups(groups);
  checked(significance, { above: 0, below: 1 }, 'The significance', 'significance');
  const chiSquare = generalizedSum(groups, 0);
  const probability = 1 - chiSquareProbability(chiSquare, degreesOfFreedom);
  return { chiSquare, degreesOfFreedom, probability, beyondChance: probability < significance };
}

/**
 * Real spread within `groups` once chance is taken off, with the interval that holds it with the `confidence` (above 0, below 1): the
 * standard deviation at which the spread is just what doubts and it together make likely. 0 where chance explains all.
 * Source: estimate R. C. Paule and J. Mandel, J. Res. Natl. Bur. Stand. 87 (1982) 377-385; interval W. Viechtbauer, Statistics in
 * Medicine 26 (2007) 37-52 (Q-profile), exact for normal values with known doubts.
 * @throws DomainError as `spreadAgainstChance`.
 */
export function realSpread(groups: Groups, confidence = 0.95): RealSpread {
  const degreesOfFreedom = checkedGroups(groups);
  const tail = (1 - checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence')) / 2;
  const standardFor = (sum: number) => Math.sqrt(varianceFor(groups, sum));
  return {
    standard: standardFor(degreesOfFreedom),
    low: standardFor(chiSquareQuantile(1 - tail, degreesOfFreedom)),
    high: standardFor(chiSquareQuantile(tail, degreesOfFreedom)),
  };
}

/** Real variance at which the generalized sum takes the value `wanted`; 0 when it never does. */
function varianceFor(groups: Groups, wanted: number): number {
  if (generalizedSum(groups, 0) <= wanted) {
    return 0;
  }
  const smallest = Math.min(...groups.flat().map(({ doubt }) => doubt ** 2));
  // In logarithms of both: the sum falls as one over the variance where that is large.
  const tooMuch = (logVariance: number) =>
    logOf(generalizedSum(groups, Math.exp(logVariance))) - Math.log(wanted);
  return Math.exp(fallingRoot(tooMuch, Math.log(smallest), 1));
}
