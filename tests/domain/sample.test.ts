import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mean, squaredDeviations, standardDeviation } from '../../server/domain/sample.ts';
import { between, near, refused } from './lots.ts';

const values = fc.array(between(-1e6, 1e6), { minLength: 2, maxLength: 20 });

describe('mean and standard deviation', () => {
  it('do not depend on the order', () => {
    fc.assert(
      fc.property(values, (list) => {
        expect(Math.abs(mean(list.toReversed()) - mean(list))).toBeLessThan(1e-9);
        expect(standardDeviation(list.toSorted((a, b) => a - b))).toBeCloseTo(standardDeviation(list), 6);
      }),
    );
  });

  it('follow a shift and a scale', () => {
    fc.assert(
      fc.property(values, between(-1e6, 1e6), between(0.1, 10), (list, shift, scale) => {
        const moved = list.map((value) => scale * value + shift);
        expect(mean(moved)).toBeCloseTo(scale * mean(list) + shift, 6);
        expect(standardDeviation(moved)).toBeCloseTo(scale * standardDeviation(list), 6);
      }),
    );
  });

  it('lie within the values; the spread is 0 only where all are alike', () => {
    fc.assert(
      fc.property(values, (list) => {
        expect(mean(list)).toBeGreaterThanOrEqual(Math.min(...list) - 1e-9);
        expect(mean(list)).toBeLessThanOrEqual(Math.max(...list) + 1e-9);
        // A value far from the others lies at most (n - 1) / sqrt(n) deviations out.
        const farthest = Math.max(...list.map((value) => Math.abs(value - mean(list))));
        const n = list.length;
        expect(farthest).toBeLessThanOrEqual(((n - 1) / Math.sqrt(n)) * standardDeviation(list) + 1e-9);
      }),
    );
    expect(standardDeviation([7.3, 7.3, 7.3])).toBe(0);
  });

  it('keep the digits of figures that agree in the leading ones', () => {
    const far = [0, 1, 2, 3].map((value) => 1e9 + value / 1024);
    near(standardDeviation(far), Math.sqrt(5 / 3) / 1024, 1e-12);
    near(squaredDeviations(far), 5 / 1024 ** 2, 1e-12);
  });

  it('refuse too few and what is no number', () => {
    refused(() => mean([]), 'too-few', 'values');
    refused(() => standardDeviation([4]), 'too-few', 'values');
    refused(() => standardDeviation([4, Number.NaN]), 'not-a-number', 'values');
    refused(() => mean([Number.POSITIVE_INFINITY]), 'not-a-number', 'values');
  });
});
