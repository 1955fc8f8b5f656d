import { checked, DomainError } from './error.ts';
import { regularizedBeta } from './incomplete-beta.ts';
import { mean, squaredDeviations } from './sample.ts';

/** One-way analysis of variance: do groups (days, fillings, operators) differ more than the values within them do? */

/** A group of values in short: how many, their mean, their standard deviation (n - 1; anything for a single value). */
export interface GroupSummary {
  count: number;
  mean: number;
  standardDeviation: number;
}

/** Sum of squares with its degrees of freedom; their quotient is the mean square. */
export interface MeanSquare {
  sumOfSquares: number;
  degreesOfFreedom: number;
  meanSquare: number;
}

/** What the analysis says. In the unit of the values, squares in its square. */
export interface OneWayAnalysis {
  /** Mean of all values. */
  mean: number;
  between: MeanSquare;
  within: MeanSquare;
  /** Mean square between over that within. */
  f: number;
  /** Probability that groups alike give so large a quotient or a larger one. */
  probability: number;
  /** Standard deviation within a group. */
  withinSpread: number;
  /** Standard deviation of the groups' true means; 0 where the spread within explains that of the means. */
  betweenSpread: number;
  /** Standard doubt of the mean of the groups' means, with one degree of freedom less than groups: right whether groups differ or not. */
  meanDoubt: number;
}

/**
 * Probability that F with `above` and `below` degrees of freedom (each more than 0) exceeds `f` (from 0).
 * Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 26.6.2.
 * @throws DomainError for figures out of range.
 */
export function exceedsF(f: number, above: number, below: number): number {
  checked(f, { least: 0 }, 'The quotient', 'f');
  checked(above, { above: 0 }, 'Degrees of freedom', 'above');
  checked(below, { above: 0 }, 'Degrees of freedom', 'below');
  const scaled = above * f;
  return regularizedBeta(below / (below + scaled), scaled / (below + scaled), below / 2, above / 2);
}

/**
 * The analysis of groups of values; two groups or more, one of them with two values or more.
 * Source: JCGM 100:2008, H.5.2.4 to H.5.2.6.
 * @throws DomainError `too-few`, `not-a-number`.
 */
export function oneWay(groups: readonly (readonly number[])[]): OneWayAnalysis {
  // About the first value: means of values that agree in many leading digits would be rounded.
  const origin = groups[0]?.[0] ?? 0;
  const summaries = groups.map((group) => {
    const values = group.map((value) => value - origin);
    const centre = mean(values);
    const squares = squaredDeviations(values);
    return {
      count: values.length,
      mean: centre,
      standardDeviation: values.length > 1 ? Math.sqrt(squares / (values.length - 1)) : 0,
    };
  });
  const analysis = oneWayFromSummaries(summaries);
  return { ...analysis, mean: origin + analysis.mean };
}

/**
 * The same from what is known of each group in short.
 * Source: JCGM 100:2008, H.5.2; for groups of unequal size S. R. Searle, Linear Models (1971), chapter 10 (from memory).
 * @throws DomainError `too-few` for fewer than two groups or none with two values; `out-of-range` for counts below 1 or deviations below 0.
 */
export function oneWayFromSummaries(groups: readonly GroupSummary[]): OneWayAnalysis {
  const values = checkedSummaries(groups);
  const centre = groups.reduce((sum, group) => sum + group.count * group.mean, 0) / values;
  const between = meanSquare(
    groups.reduce((sum, group) => sum + group.count * (group.mean - centre) ** 2, 0),
    groups.length - 1,
  );
  const within = meanSquare(
    groups.reduce((sum, group) => sum + (group.count - 1) * group.standardDeviation ** 2, 0),
    values - groups.length,
  );
  const f = between.meanSquare === 0 ? 0 : between.meanSquare / within.meanSquare;
  const squaredCounts = groups.reduce((sum, group) => sum + group.count ** 2, 0);
  const perGroup = (values - squaredCounts / values) / between.degreesOfFreedom;
  const excess = Math.max(0, between.meanSquare - within.meanSquare) / perGroup;
  const spreadOfMeans = squaredDeviations(groups.map((group) => group.mean)) / between.degreesOfFreedom;
  return {
    mean: centre,
    between,
    within,
    f,
    probability:
      f === Number.POSITIVE_INFINITY ? 0 : exceedsF(f, between.degreesOfFreedom, within.degreesOfFreedom),
    withinSpread: Math.sqrt(within.meanSquare),
    betweenSpread: Math.sqrt(excess),
    meanDoubt: Math.sqrt(spreadOfMeans / groups.length),
  };
}

function meanSquare(sumOfSquares: number, degreesOfFreedom: number): MeanSquare {
  return { sumOfSquares, degreesOfFreedom, meanSquare: sumOfSquares / degreesOfFreedom };
}

/** Number of values in all groups. */
function checkedSummaries(groups: readonly GroupSummary[]): number {
  for (const group of groups) {
    checked(group.count, { least: 1 }, 'The number of values in a group', 'count');
    checked(group.mean, {}, 'The mean of a group', 'mean');
    checked(group.standardDeviation, { least: 0 }, 'The spread of a group', 'standardDeviation');
  }
  const values = groups.reduce((sum, group) => sum + group.count, 0);
  if (groups.length < 2 || values <= groups.length) {
    throw new DomainError(
      'too-few',
      'Groups can be compared from two on, and one of them needs two values at least.',
      'groups',
    );
  }
  return values;
}
