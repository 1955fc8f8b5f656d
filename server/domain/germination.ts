import { checked, DomainError } from './error.ts';
import { regularizedBeta } from './incomplete-beta.ts';
import type { Interval } from './poisson.ts';
import { checkedShare } from './share.ts';

/** How well a germination test knows the lot. All shares are fractions. */

/** Seeds of a usual test: four hundred. Source: 7 CFR 201.63, whose tolerances are for tests of 400 seeds. */
export const usualTestSeeds = 400;

function checkedTested(seeds: number): number {
  checked(seeds, { least: 1, most: 1e6 }, 'The number of seeds tested', 'seedsTested');
  if (!Number.isInteger(seeds)) {
    throw new DomainError(
      'out-of-range',
      'The number of seeds tested must be a whole number.',
      'seedsTested',
    );
  }
  return seeds;
}

/**
 * Standard doubt of a germination (0 to 1) that comes from counting `seedsTested` seeds (whole, 1 to 1 000 000) alone: sqrt(g (1 - g) / n).
 * Source: binomial distribution. Sampling of the lot, the analyst and the months since the test come on top.
 * @throws DomainError for figures out of range.
 */
export function germinationDoubt(germination: number, seedsTested = usualTestSeeds): number {
  const share = checkedShare(germination, 'The germination', 'germination');
  return Math.sqrt((share * (1 - share)) / checkedTested(seedsTested));
}

/**
 * Exact interval of the lot's germination when `germinated` of `seedsTested` seeds (whole numbers) did: holds it with at least the given
 * `confidence` (above 0, below 1). Source: C. J. Clopper and E. S. Pearson, Biometrika 26 (1934) 404-413.
 * @throws DomainError for figures out of range, or more seeds germinated than tested.
 */
export function germinationInterval(germinated: number, seedsTested: number, confidence = 0.95): Interval {
  const n = checkedTested(seedsTested);
  checked(germinated, { least: 0 }, 'The number of seeds germinated', 'germinated');
  if (germinated > n || !Number.isInteger(germinated)) {
    throw new DomainError(
      'inconsistent',
      `${germinated} of ${n} seeds cannot have germinated: a whole number up to ${n} can.`,
      'germinated',
    );
  }
  const tail = (1 - checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence')) / 2;
  return {
    low: germinated === 0 ? 0 : betaQuantile(tail, germinated, n - germinated + 1),
    high: germinated === n ? 1 : betaQuantile(1 - tail, germinated + 1, n - germinated),
  };
}

/** Value that a beta variable does not exceed with the given probability, closed in on by halving. */
function betaQuantile(probability: number, a: number, b: number): number {
  let low = 0;
  let high = 1;
  for (let step = 0; step < 60; step += 1) {
    const centre = (low + high) / 2;
    if (regularizedBeta(centre, 1 - centre, a, b) > probability) {
      high = centre;
    } else {
      low = centre;
    }
  }
  return (low + high) / 2;
}

/** Least mean germination of each band and its tolerance. Source: 7 CFR 201.63, tests of 400 seeds. */
const tolerances = [
  [0.96, 0.05],
  [0.9, 0.06],
  [0.8, 0.07],
  [0.7, 0.08],
  [0.6, 0.09],
  [0, 0.1],
] as const;

/**
 * How far a later test may lie from the tag before it contradicts it, as a fraction, for the mean `germination` of the two (0 to 1; hard
 * seed counted in where the tag does). `smallTest` for a part of a mixture tested on 200 seeds only: two points more.
 * A yardstick of the seed trade, four to five times the binomial doubt of one test: for judging a tag, not a standard deviation.
 * Source: 7 CFR 201.63 (Federal Seed Act regulations).
 * @throws DomainError for a germination out of range.
 */
export function germinationTolerance(germination: number, smallTest = false): number {
  const share = checkedShare(germination, 'The germination', 'germination');
  const [, tolerance] = tolerances.find(([least]) => share >= least)!;
  return tolerance + (smallTest ? 0.02 : 0);
}
