import fc from 'fast-check';
import jstat from 'jstat';
import * as mathjs from 'mathjs';
import * as simple from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { chiSquareProbability, chiSquareQuantile } from '../../server/domain/chi-square.ts';
import { germinationInterval } from '../../server/domain/germination.ts';
import { logGamma, regularizedBeta } from '../../server/domain/incomplete-beta.ts';
import { regularizedGamma } from '../../server/domain/incomplete-gamma.ts';
import { exceedsF, oneWay } from '../../server/domain/one-way.ts';
import { poissonInterval, poissonProbability } from '../../server/domain/poisson.ts';
import { mean, squaredDeviations, standardDeviation } from '../../server/domain/sample.ts';
import { type DoubtedValue, weightedMean } from '../../server/domain/spread.ts';
import { normalQuantile, studentProbability, studentQuantile } from '../../server/domain/statistics.ts';
import { between, near } from './lots.ts';

/**
 * A second opinion over random inputs: jStat 1.9.6, simple-statistics 7.12, mathjs 15.2. Where they know fewer digits than we do (tables in
 * tests/published and 30-digit references in student-quantiles.tsv hold us to more), the bound is theirs and says so.
 */

const apart = (a: number, b: number, most: number) => expect(Math.abs(a - b)).toBeLessThanOrEqual(most);

/** Figures as scales show them, for doubles near the smallest there are compare nothing. */
const values = fc.array(
  fc.integer({ min: -100_000, max: 100_000 }).map((value) => value / 100),
  { minLength: 2, maxLength: 30 },
);
const probability = between(0.001, 0.999);
const freedom = between(1, 200);

describe('mean and spread', () => {
  it('three libraries agree', () => {
    fc.assert(
      fc.property(values, (list) => {
        for (const theirs of [simple.mean(list), jstat.mean(list), mathjs.mean(list)]) {
          apart(mean(list), theirs, 1e-9);
        }
        const deviations = [simple.sampleStandardDeviation(list), jstat.stdev(list, true), mathjs.std(list)];
        for (const theirs of deviations) apart(standardDeviation(list), Number(theirs), 1e-9);
        const sum = simple.sumNthPowerDeviations(list, 2);
        apart(squaredDeviations(list), sum, 1e-9 * (1 + sum));
      }),
    );
  });

  it('weighted by their doubts', () => {
    fc.assert(
      fc.property(values, between(0.1, 5), (list, doubt) => {
        const doubted: DoubtedValue[] = list.map((value, index) => ({
          value,
          doubt: doubt * (1 + (index % 3)),
        }));
        const weights = doubted.map((each) => each.doubt ** -2);
        apart(weightedMean(doubted).mean, simple.weightedMean(list, weights), 1e-8);
      }),
    );
  });

  it('one-way analysis of variance', () => {
    fc.assert(
      fc.property(fc.array(values, { minLength: 2, maxLength: 5 }), (groups) => {
        const theirs = jstat.anovafscore(groups);
        if (!Number.isFinite(theirs)) return;
        apart(oneWay(groups).f, theirs, 1e-7 * (1 + theirs));
      }),
    );
  });
});

describe('continuous distributions', () => {
  it('Student’s t, both ways', () => {
    fc.assert(
      fc.property(probability, freedom, between(-20, 20), (p, degrees, t) => {
        apart(studentProbability(t, degrees), jstat.studentt.cdf(t, degrees), 1e-7);
        // Their quantile goes by a root to about seven digits.
        const theirs = jstat.studentt.inv(p, degrees);
        apart(studentQuantile(p, degrees), theirs, 1e-5 * (1 + Math.abs(theirs)));
      }),
    );
  });

  it('the normal deviate: to eight decimals with one library, to a few hundredths with another', () => {
    fc.assert(
      fc.property(probability, (p) => {
        apart(normalQuantile(p), jstat.normal.inv(p, 0, 1), 1e-8);
        apart(jstat.normal.cdf(normalQuantile(p), 0, 1), p, 1e-9);
        // simple-statistics: W. J. Kennedy and J. E. Gentle's approximation of the deviate, good to about 0.01 in the tails.
        apart(normalQuantile(p), simple.probit(p), 0.02);
      }),
    );
  });

  it('chi-square, both ways', () => {
    fc.assert(
      fc.property(between(0.02, 0.98), freedom, between(0.1, 300), (p, degrees, value) => {
        apart(chiSquareProbability(value, degrees), jstat.chisquare.cdf(value, degrees), 1e-9);
        near(chiSquareQuantile(p, degrees), jstat.chisquare.inv(p, degrees), 1e-6);
      }),
    );
  });

  // simple-statistics carries a printed table of chi-square, by degrees of freedom and the probability of passing the value. Nine of its
  // figures are off in the last digit (6 degrees at 0.1: 10.65 for 10.6446).
  it('chi-square against the table that a library carries', () => {
    const table = simple.chiSquaredDistributionTable as unknown as Record<string, Record<string, number>>;
    const off = Object.entries(table).flatMap(([degrees, row]) =>
      Object.entries(row).map(([tail, value]) =>
        Math.abs(chiSquareQuantile(1 - Number(tail), Number(degrees)) - value),
      ),
    );
    expect(off).toHaveLength(407);
    expect(Math.max(...off)).toBeLessThan(0.01);
    expect(off.filter((each) => each > 0.00501)).toHaveLength(9);
  });

  it('F, and the functions all of them rest on', () => {
    fc.assert(
      fc.property(between(0.05, 20), between(1, 60), between(1, 60), (f, above, below) => {
        // Their continued fraction stops at 3e-7 of itself.
        apart(1 - exceedsF(f, above, below), jstat.centralF.cdf(f, above, below), 1e-6);
        const x = f / 21;
        apart(regularizedBeta(x, 1 - x, above, below), jstat.ibeta(x, above, below), 1e-6);
        apart(regularizedGamma(above, f).lower, jstat.lowRegGamma(above, f), 1e-8);
        for (const theirs of [jstat.gammaln(above), mathjs.lgamma(above), simple.gammaln(above)]) {
          apart(logGamma(above), theirs, 1e-7 * (1 + Math.abs(theirs)));
        }
      }),
    );
  });
});

describe('counts', () => {
  it('Poisson: at most so many', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 60 }), between(0.1, 50), (count, expected) => {
        apart(poissonProbability(count, expected), jstat.poisson.cdf(count, expected), 1e-10);
      }),
    );
  });

  it('Poisson: the terms of a library, added up', () => {
    fc.assert(
      fc.property(between(4, 15), (expected) => {
        const terms = simple.poissonDistribution(expected)!;
        const sum = simple.sum(terms.slice(0, 5));
        apart(poissonProbability(4, expected), sum, 1e-9);
      }),
    );
  });

  it('the exact interval of a count leaves half the rest on either side, by another library’s count', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), between(0.6, 0.99), (count, confidence) => {
        const { low, high } = poissonInterval(count, confidence);
        apart(1 - jstat.poisson.cdf(count - 1, low), (1 - confidence) / 2, 1e-8);
        apart(jstat.poisson.cdf(count, high), (1 - confidence) / 2, 1e-8);
      }),
    );
  });

  it('binomial: the exact interval of a germination likewise, and by the beta quantile', () => {
    const test = fc
      .integer({ min: 2, max: 100 })
      .chain((tested) => fc.tuple(fc.integer({ min: 1, max: tested - 1 }), fc.constant(tested)));
    fc.assert(
      fc.property(test, between(0.6, 0.99), ([germinated, tested], confidence) => {
        const { low, high } = germinationInterval(germinated, tested, confidence);
        const tail = (1 - confidence) / 2;
        apart(1 - jstat.binomial.cdf(germinated - 1, tested, low), tail, 1e-7);
        apart(jstat.binomial.cdf(germinated, tested, high), tail, 1e-7);
        apart(low, jstat.beta.inv(tail, germinated, tested - germinated + 1), 1e-6);
      }),
    );
  });
});
