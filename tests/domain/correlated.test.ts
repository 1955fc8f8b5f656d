import fc from 'fast-check';
import * as simple from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { combineCorrelated, correlationOf } from '../../server/domain/correlated.ts';
import { combineDoubts } from '../../server/domain/statistics.ts';
import { between, near, refused } from './lots.ts';

const parts = fc.array(between(-10, 10), { minLength: 1, maxLength: 6 });
const alike = (size: number, r: number) =>
  Array.from({ length: size }, (_, i) => Array.from({ length: size }, (_, j) => (i === j ? 1 : r)));
const pairs = fc.array(fc.tuple(between(-100, 100), between(-100, 100)), { minLength: 3, maxLength: 20 });

describe('doubts that hang together', () => {
  it('add by squares when independent, plainly when they go hand in hand', () => {
    fc.assert(
      fc.property(parts, (p) => {
        const independent = combineDoubts(
          p.map((each) => ({ standard: Math.abs(each), degreesOfFreedom: Number.POSITIVE_INFINITY })),
        );
        expect(combineCorrelated(p, alike(p.length, 0))).toBeCloseTo(independent.standard, 9);
        const sum = p.reduce((total, each) => total + each, 0);
        expect(combineCorrelated(p, alike(p.length, 1))).toBeCloseTo(Math.abs(sum), 6);
      }),
    );
  });

  it('four cells adjusted with one check mass: twice the doubt that four masses would leave', () => {
    const cells = [0.1, 0.1, 0.1, 0.1];
    near(combineCorrelated(cells, alike(4, 1)), 2 * combineCorrelated(cells, alike(4, 0)));
  });

  it('opposite signs that go hand in hand cancel: a scale’s slope in the ratio of two catches', () => {
    expect(combineCorrelated([0.01, -0.01], alike(2, 1))).toBe(0);
  });

  it('refuses correlations that cannot be', () => {
    refused(() => combineCorrelated([], []), 'too-few', 'parts');
    refused(() => combineCorrelated([1, 1], [[1]]), 'inconsistent', 'correlations');
    refused(() => combineCorrelated([1, 1], alike(2, 1.5)), 'out-of-range', 'correlations');
    const lopsided = [
      [1, 0.2],
      [0.3, 1],
    ];
    refused(() => combineCorrelated([1, 1], lopsided), 'inconsistent', 'correlations');
    refused(() => combineCorrelated([1, 1, 1], alike(3, -0.9)), 'inconsistent', 'correlations');
    refused(() => combineCorrelated([Number.NaN], [[1]]), 'not-a-number', 'parts');
  });
});

describe('the correlation of figures seen together', () => {
  // Second opinion: simple-statistics 7.12.1, sampleCorrelation.
  it('agrees with another library', () => {
    fc.assert(
      fc.property(pairs, (seen) => {
        const first = seen.map(([a]) => a);
        const second = seen.map(([, b]) => b);
        fc.pre(simple.standardDeviation(first) > 1e-3 && simple.standardDeviation(second) > 1e-3);
        expect(correlationOf(first, second)).toBeCloseTo(simple.sampleCorrelation(first, second), 9);
      }),
    );
  });

  it('is the same both ways, and blind to units', () => {
    fc.assert(
      fc.property(pairs, between(0.1, 10), (seen, scale) => {
        const first = seen.map(([a]) => a);
        const second = seen.map(([, b]) => b);
        fc.pre(simple.standardDeviation(first) > 1e-3 && simple.standardDeviation(second) > 1e-3);
        const r = correlationOf(first, second);
        expect(correlationOf(second, first)).toBeCloseTo(r, 12);
        const other = first.map((a) => 7 - scale * a);
        expect(correlationOf(other, second)).toBeCloseTo(-r, 9);
      }),
    );
  });

  it('refuses what shows none', () => {
    refused(() => correlationOf([1], [2]), 'too-few', 'first');
    refused(() => correlationOf([1, 2], [1, 2, 3]), 'inconsistent', 'second');
    refused(() => correlationOf([1, 2], [5, 5]), 'inconsistent', 'second');
    refused(() => correlationOf([1, Number.NaN], [5, 6]), 'not-a-number', 'first');
  });
});
