import { checked, DomainError } from './error.ts';
import { gammaQuantile, regularizedGamma } from './incomplete-gamma.ts';

/** An interval from `low` to `high`, both in the unit of the value it surrounds. */
export interface Interval {
  low: number;
  high: number;
}

/** `count` itself when it is a whole number from 0 to 10 million. */
function checkedCount(count: number): number {
  checked(count, { least: 0, most: 1e7 }, 'A count', 'count');
  if (!Number.isInteger(count)) {
    throw new DomainError('out-of-range', 'A count must be a whole number.', 'count');
  }
  return count;
}

function checkedConfidence(confidence: number): number {
  return checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
}

/**
 * Probability of at most `count` (whole, from 0) where `mean` (more than 0) are expected. Source: Abramowitz & Stegun 26.4.21:
 * the sum of Poisson terms is an upper tail of the gamma distribution.
 * @throws DomainError for figures out of range.
 */
export function poissonProbability(count: number, mean: number): number {
  checked(mean, { above: 0 }, 'The expected count', 'mean');
  return regularizedGamma(checkedCount(count) + 1, mean).upper;
}

/**
 * Smallest count that is not exceeded with at least the given `probability` (above 0, below 1) where `mean` (more than 0, at most
 * a million) are expected.
 * @throws DomainError for figures out of range.
 */
export function poissonQuantile(probability: number, mean: number): number {
  checked(probability, { above: 0, below: 1 }, 'A probability', 'probability');
  checked(mean, { above: 0, most: 1e6 }, 'The expected count', 'mean');
  let low = -1;
  let high = Math.ceil(mean + 40 * Math.sqrt(mean) + 50);
  while (high - low > 1) {
    const centre = Math.floor((low + high) / 2);
    if (poissonProbability(centre, mean) >= probability) {
      high = centre;
    } else {
      low = centre;
    }
  }
  return high;
}

/**
 * Exact interval of the expected count behind a `count` (whole, from 0 to 10 million): it holds the true expectation with at least
 * the given `confidence` (above 0, below 1), and with noticeably more at small counts, for counts come in whole numbers.
 * Source: F. Garwood, Fiducial limits for the Poisson distribution, Biometrika 28 (1936) 437-442.
 * @throws DomainError for figures out of range.
 */
export function poissonInterval(count: number, confidence = 0.95): Interval {
  checkedCount(count);
  const tail = (1 - checkedConfidence(confidence)) / 2;
  return {
    low: count === 0 ? 0 : gammaQuantile(tail, count),
    high: gammaQuantile(1 - tail, count + 1),
  };
}

/**
 * Interval of the expected count behind a `count` that gives the count itself half its weight (mid-P): narrower than the exact one
 * and near its stated `confidence` on average, but it may fall a little short of it for a given expectation. Ranges as
 * `poissonInterval`. Source: H. O. Lancaster, Significance tests in discrete distributions, JASA 56 (1961) 223-234 (from memory).
 * @throws DomainError for figures out of range.
 */
export function midPoissonInterval(count: number, confidence = 0.95): Interval {
  checkedCount(count);
  const tail = (1 - checkedConfidence(confidence)) / 2;
  const exact = poissonInterval(count, confidence);
  // P(fewer) + P(just so many) / 2, falling as the mean grows.
  const atMost = (mean: number) =>
    (regularizedGamma(count + 1, mean).upper + (count === 0 ? 0 : regularizedGamma(count, mean).upper)) / 2;
  return {
    low: count === 0 ? 0 : fallingRoot(atMost, 1 - tail, exact),
    high: fallingRoot(atMost, tail, exact),
  };
}

/** Where a falling function takes the wanted value between the ends of `within`. */
function fallingRoot(f: (x: number) => number, wanted: number, within: Interval): number {
  let { low, high } = within;
  for (let step = 0; step < 60; step += 1) {
    const centre = (low + high) / 2;
    if (f(centre) > wanted) {
      low = centre;
    } else {
      high = centre;
    }
  }
  return (low + high) / 2;
}
