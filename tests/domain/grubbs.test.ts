import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  exactFrom,
  grubbsCritical,
  grubbsProbability,
  grubbsTest,
  type OutlierSide,
} from '../../server/domain/grubbs.ts';
import { shareOf } from './draws.ts';
import { between, near, refused } from './lots.ts';
import { noiseFrom } from './noise.ts';

const sides: OutlierSide[] = ['either', 'high', 'low'];
/** Eighths, so that shifts and scales are exact. */
const values = fc.array(
  fc.integer({ min: -800, max: 800 }).map((value) => value / 8),
  { minLength: 3, maxLength: 30 },
);

describe('Grubbs’ test', () => {
  it('does not depend on order, shift, scale or sign', () => {
    fc.assert(
      fc.property(values, fc.integer({ min: -1000, max: 1000 }), between(0.01, 100), (list, shift, scale) => {
        const test = grubbsTest(list);
        if (test.statistic === 0) return;
        const moved = grubbsTest(list.map((value) => shift - scale * value).reverse());
        expect(moved.statistic).toBeCloseTo(test.statistic, 6);
        const low = grubbsTest(list, 0.05, 'low');
        const mirrored = grubbsTest(
          list.map((value) => -value),
          0.05,
          'high',
        );
        expect(mirrored.statistic).toBeCloseTo(low.statistic, 9);
        expect(Math.max(low.statistic, grubbsTest(list, 0.05, 'high').statistic)).toBeCloseTo(
          test.statistic,
          9,
        );
      }),
    );
  });

  it('calls outlying exactly what chance gives with less than the significance', () => {
    fc.assert(
      fc.property(values, between(0.001, 0.5), fc.constantFrom(...sides), (list, significance, side) => {
        const { statistic, critical, probability, outlying } = grubbsTest(list, significance, side);
        if (Math.abs(statistic / critical - 1) > 1e-9) expect(outlying).toBe(probability < significance);
        expect(statistic).toBeLessThanOrEqual(((list.length - 1) / Math.sqrt(list.length)) * (1 + 1e-12));
      }),
    );
  });

  it('critical value and probability undo each other', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 200 }),
        between(0.0005, 0.5),
        fc.constantFrom(...sides),
        (count, significance, side) => {
          near(grubbsProbability(grubbsCritical(count, significance, side), count, side), significance, 1e-6);
        },
      ),
    );
  });

  it('grows with the number of values and with strictness; two-sided is stricter', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 100 }), between(0.001, 0.4), (count, significance) => {
        const critical = grubbsCritical(count, significance);
        expect(grubbsCritical(count + 1, significance)).toBeGreaterThan(critical);
        expect(grubbsCritical(count, significance / 2)).toBeGreaterThan(critical);
        near(critical, grubbsCritical(count, significance / 2, 'high'));
      }),
    );
  });

  // The bound is the probability itself where no two values can lie so far out; so the test errs in just 5 % of 20 000 draws.
  it.each([3, 5, 12])('finds an outlier among %s good values once in twenty', (count) => {
    expect(grubbsCritical(count, 0.05)).toBeGreaterThan(exactFrom(count));
    const normal = noiseFrom(count);
    const alarms = shareOf(20_000, () => grubbsTest(Array.from({ length: count }, normal)).outlying);
    expect(alarms).toBeGreaterThan(0.045);
    expect(alarms).toBeLessThan(0.055);
  });

  it('works on the smallest numbers there are', () => {
    expect(grubbsTest([2.4e-162, 0, 0]).statistic).toBeCloseTo(2 / Math.sqrt(3), 12);
  });

  it('nothing is outlying among values alike; one apart from others alike is as far out as can be', () => {
    expect(grubbsTest([5, 5, 5, 5])).toMatchObject({ statistic: 0, probability: 1, outlying: false });
    const test = grubbsTest([5, 5, 5, 6]);
    near(test.statistic, 1.5);
    expect(test).toMatchObject({ index: 3, probability: 0, exact: true, outlying: true });
    expect(grubbsProbability(1.5, 4)).toBeLessThan(1e-6);
  });

  it('refuses what cannot be', () => {
    refused(() => grubbsTest([1, 2]), 'too-few', 'values');
    refused(() => grubbsTest([1, 2, Number.NaN]), 'not-a-number', 'values');
    refused(() => grubbsTest([1, 2, 3], 0), 'out-of-range', 'significance');
    refused(() => grubbsCritical(2, 0.05), 'out-of-range', 'count');
    refused(() => grubbsCritical(5.5, 0.05), 'out-of-range', 'count');
    refused(() => grubbsProbability(2, 4), 'out-of-range', 'statistic');
    refused(() => grubbsProbability(-1, 4), 'out-of-range', 'statistic');
  });
});
