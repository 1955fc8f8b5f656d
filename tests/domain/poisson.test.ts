import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { chiSquareProbability, chiSquareQuantile } from '../../server/domain/chi-square.ts';
import { gammaQuantile, regularizedGamma } from '../../server/domain/incomplete-gamma.ts';
import {
  midPoissonInterval,
  poissonInterval,
  poissonProbability,
  poissonQuantile,
} from '../../server/domain/poisson.ts';
import { poissonDraw, shareOf, uniformsFrom } from './draws.ts';
import { between, near, refused } from './lots.ts';

const count = fc.integer({ min: 0, max: 5000 });
const draws = 20_000;

/** Intervals by count, each computed once. */
function remembered(interval: typeof poissonInterval): (count: number) => { low: number; high: number } {
  const known = new Map<number, { low: number; high: number }>();
  return (seen) => {
    const held = known.get(seen) ?? interval(seen, 0.95);
    known.set(seen, held);
    return held;
  };
}

describe('gamma and chi-square', () => {
  it('tails sum to 1, and the lower one rises', () => {
    fc.assert(
      fc.property(between(0.1, 1000), between(0.001, 2000), (a, x) => {
        const { lower, upper } = regularizedGamma(a, x);
        near(lower + upper, 1);
        expect(regularizedGamma(a, x * 1.01).lower).toBeGreaterThanOrEqual(lower);
      }),
    );
  });

  it('quantiles are exceeded as often as they should', () => {
    fc.assert(
      fc.property(between(0.2, 2000), between(0.001, 0.999), (a, probability) => {
        near(regularizedGamma(a, gammaQuantile(probability, a)).lower, probability, 1e-9);
        near(chiSquareProbability(chiSquareQuantile(probability, a), a), probability, 1e-9);
      }),
    );
  });

  // Second opinion: jStat 1.9.6.
  it('agree with another library', () => {
    fc.assert(
      fc.property(between(1, 150), between(0.02, 0.98), (degrees, probability) => {
        near(chiSquareQuantile(probability, degrees), jstat.chisquare.inv(probability, degrees), 1e-6);
        near(chiSquareProbability(degrees, degrees), jstat.chisquare.cdf(degrees, degrees), 1e-9);
      }),
    );
  });

  it('refuse what cannot be', () => {
    refused(() => regularizedGamma(0, 1), 'out-of-range', 'shape');
    refused(() => regularizedGamma(1, -1), 'out-of-range', 'x');
    refused(() => gammaQuantile(1, 3), 'out-of-range', 'probability');
    refused(() => chiSquareQuantile(0.5, Number.NaN), 'not-a-number', 'shape');
  });
});

describe('counts', () => {
  it('the chance of at most so many is the sum of the terms', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 60 }), between(0.01, 40), (seen, expected) => {
        let term = Math.exp(-expected);
        let sum = term;
        for (let k = 1; k <= seen; k += 1) {
          term *= expected / k;
          sum += term;
        }
        near(poissonProbability(seen, expected), sum, 1e-11);
      }),
    );
  });

  it('a quantile is the first count that reaches its probability', () => {
    fc.assert(
      fc.property(between(0.01, 3000), between(0.001, 0.999), (expected, probability) => {
        const quantile = poissonQuantile(probability, expected);
        expect(poissonProbability(quantile, expected)).toBeGreaterThanOrEqual(probability);
        if (quantile > 0) {
          expect(poissonProbability(quantile - 1, expected)).toBeLessThan(probability);
        }
      }),
    );
  });

  it('the exact ends leave half the rest on either side', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), between(0.5, 0.999), (seen, confidence) => {
        const { low, high } = poissonInterval(seen, confidence);
        near(1 - poissonProbability(seen - 1, low), (1 - confidence) / 2, 1e-7);
        near(poissonProbability(seen, high), (1 - confidence) / 2, 1e-7);
      }),
    );
  });

  it('intervals hold the count, widen with confidence, and the mid-P one lies within the exact one', () => {
    fc.assert(
      fc.property(count, between(0.5, 0.99), (seen, confidence) => {
        const exact = poissonInterval(seen, confidence);
        const wider = poissonInterval(seen, confidence + 0.009);
        const mid = midPoissonInterval(seen, confidence);
        expect(exact.low <= seen && seen <= exact.high).toBe(true);
        expect(wider.low <= exact.low && exact.high < wider.high).toBe(true);
        expect(exact.low <= mid.low && mid.high < exact.high).toBe(true);
        expect(poissonInterval(seen + 1, confidence).high).toBeGreaterThan(exact.high);
      }),
      { numRuns: 60 },
    );
  });

  it('refuse what cannot be', () => {
    for (const interval of [poissonInterval, midPoissonInterval]) {
      refused(() => interval(-1), 'out-of-range', 'count');
      refused(() => interval(2.5), 'out-of-range', 'count');
      refused(() => interval(Number.NaN), 'not-a-number', 'count');
      refused(() => interval(5, 1), 'out-of-range', 'confidence');
    }
    refused(() => poissonProbability(5, 0), 'out-of-range', 'mean');
    refused(() => poissonQuantile(0, 5), 'out-of-range', 'probability');
  });
});

/**
 * Counts come in whole numbers, so no interval covers exactly 95 % at every expectation. The exact interval never covers less; at small
 * expectations it covers up to 99 %, and it comes down into 94 to 96 % from about fifty on. The mid-P interval swings about 95 % (92 to 98 %
 * at single small expectations) and covers 94 to 96 % over expectations that differ.
 */
describe('coverage over 20 000 draws', () => {
  // The standard error of a coverage of 95 % is 0.15 %.
  it.each([1, 3, 10])('the exact interval covers 95 %% or more where %s are expected', (expected) => {
    const uniform = uniformsFrom(expected);
    const interval = remembered(poissonInterval);
    const covered = shareOf(draws, () => {
      const { low, high } = interval(poissonDraw(uniform, expected));
      return low <= expected && expected <= high;
    });
    expect(covered).toBeGreaterThan(0.95);
  });

  it.each([50, 100, 200, 500])('the exact interval covers 94 to 96 %% where %s are expected', (expected) => {
    const uniform = uniformsFrom(expected);
    const interval = remembered(poissonInterval);
    const covered = shareOf(draws, () => {
      const { low, high } = interval(poissonDraw(uniform, expected));
      return low <= expected && expected <= high;
    });
    expect(covered).toBeGreaterThan(0.94);
    expect(covered).toBeLessThan(0.96);
  });

  it('the mid-P interval covers 94 to 96 % where 5 to 100 are expected', () => {
    const uniform = uniformsFrom(11);
    const interval = remembered(midPoissonInterval);
    const covered = shareOf(draws, () => {
      const expected = 5 + 95 * uniform();
      const { low, high } = interval(poissonDraw(uniform, expected));
      return low <= expected && expected <= high;
    });
    expect(covered).toBeGreaterThan(0.94);
    expect(covered).toBeLessThan(0.96);
  });
});
