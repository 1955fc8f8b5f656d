import { beforeAll, describe, expect, it } from 'vitest';
import { bundled } from '../bundled.ts';
import type * as Draws from './coverage-draws.ts';

/**
 * Whether intervals of 95 % hold the truth 95 times in a hundred, over 20 000 seeded draws each with CATCHBENCH_WHOLE=1, else 8 000: 94 to 96 %
 * unless it says otherwise and why. The standard error of such a share is 0.15 or 0.24 %. Counts are in poisson.test.ts, counted samples in enough.test.ts, runs on the imagined drill in
 * tests/run/coverage.test.ts.
 */

let draw: typeof Draws;

beforeAll(async () => {
  draw = await bundled<typeof import('./coverage-draws.ts')>(new URL('coverage-draws.ts', import.meta.url));
});

function between(share: number, low: number, high: number): void {
  expect(share).toBeGreaterThanOrEqual(low);
  expect(share).toBeLessThanOrEqual(high);
}
const truly = (share: number) => between(share, 0.94, 0.96);

describe('the rate from a catch', () => {
  const noise = { weighing: 0.3, weighingFreedom: 4, slip: 0.015, circumference: 0.01, repeatability: 0.015 };

  it.each([
    ['seed and slip decide', noise],
    ['a scale known from four readings decides', { ...noise, weighing: 8, weighingFreedom: 3 }],
    ['that scale and all the rest weigh alike', { ...noise, weighing: 4, weighingFreedom: 3 }],
    ['a scale known from three readings decides', { ...noise, weighing: 8, weighingFreedom: 2 }],
  ])('%s', (_, of) => {
    truly(draw.rateFromCatchHolds(of, 1));
  });

  // With one degree of freedom the spread itself is hardly known; the interval errs on the wide side.
  it('a scale known from two readings is rather doubted too much', () => {
    between(draw.rateFromCatchHolds({ ...noise, weighing: 8, weighingFreedom: 1 }, 1), 0.95, 0.98);
  });
});

describe('repeated runs', () => {
  // Doubt common to all runs as large as that of their mean from run to run, and a third of it.
  it.each([
    [3, 1],
    [4, 1],
    [5, 1],
    [6, 1],
    [3, 0.3],
  ])('%s runs, common doubt %s times that of their mean', (count, common) => {
    const { field, comparing } = draw.repeatsHold(count, common, count);
    truly(field);
    truly(comparing);
  });

  it('two runs: true for comparing; with a common doubt on top, at least 95 %', () => {
    const { field, comparing } = draw.repeatsHold(2, 1, 2);
    truly(comparing);
    between(field, 0.95, 0.98);
    between(draw.repeatsHold(2, 0.2, 3).field, 0.945, 0.965);
  });

  it('two runs on a drill that is known from earlier ones', () => {
    truly(draw.informedRepeatsHold(3));
  });
});

describe('rows', () => {
  it.each([
    [6, 0.08],
    [10, 0.15],
  ])('%s rows that really differ by %s: the spread with chance taken off', (count, spread) => {
    truly(draw.rowsHold(count, spread, count).real);
  });

  // Where rows do not differ, 0 is inside unless chance alone passes its upper 2.5 %: one side cannot err.
  it('four rows alike: 0 is held 97.5 % of the time, and they are called uneven once in twenty', () => {
    const { real, uneven } = draw.rowsHold(4, 0, 4);
    between(real, 0.97, 0.98);
    between(uneven, 0.045, 0.055);
  });

  it.each([
    [3, 0.05],
    [6, 0.1],
    [6, 0.3],
    [24, 0.3],
  ])('coefficient of variation of %s rows at %s', (count, variation) => {
    truly(draw.variationHolds(count, variation, count));
  });
});

describe('field checks', () => {
  it('one: the factor next time, and the slip', () => {
    const { factor, slip } = draw.fieldCheckHolds(4);
    truly(factor);
    truly(slip);
  });

  // Where all fields are alike, half of the time their checks seem to differ a little and Student's t widens the interval for nothing.
  it('four that are alike: at least what is stated', () => {
    between(draw.combinedChecksHold(4, 0, 4), 0.95, 0.98);
  });

  it('five in fields that differ by 8 %', () => {
    truly(draw.combinedChecksHold(5, 0.08, 5));
  });

  // Known to fall short: two or three checks cannot tell a small difference of fields from doubt.
  it('three in fields that differ by as much as the doubts: nine times in ten', () => {
    between(draw.combinedChecksHold(3, 0.02, 3), 0.9, 0.95);
  });
});

describe('a germination test', () => {
  // Exact, so never less than stated for any lot; seeds come in whole numbers, so it is somewhat more.
  it.each([
    [0.9, 400],
    [0.9, 100],
    [0.6, 200],
  ])('at %s with %s seeds: what is stated or a little more', (germination, tested) => {
    between(draw.germinationHolds(germination, tested, 7), 0.95, 0.965);
  });
});

describe('Grubbs’ test', () => {
  it.each([3, 5, 12])('finds an outlier among %s good values once in twenty', (count) => {
    between(draw.grubbsAlarms(count, count), 0.045, 0.055);
  });
});
