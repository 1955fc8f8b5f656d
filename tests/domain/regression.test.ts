import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { leastSquares, polynomialFit, powersOf, predict } from '../../server/domain/regression.ts';
import { bendOf, lineAt, lineThroughOrigin, straightLine } from '../../server/domain/straight-line.ts';
import { uniformsFrom } from './draws.ts';
import { between, near, refused } from './lots.ts';
import { noiseFrom } from './noise.ts';

/** Points in at least three places, scattered. */
const points = fc
  .array(
    fc.record({
      x: fc.integer({ min: -1000, max: 1000 }),
      y: fc.integer({ min: -1e9, max: 1e9 }).map((y) => y / 1000),
    }),
    {
      minLength: 4,
      maxLength: 20,
    },
  )
  .filter((list) => new Set(list.map(({ x }) => x)).size >= 3);
const xs = (list: { x: number }[]) => list.map(({ x }) => x);
const ys = (list: { y: number }[]) => list.map(({ y }) => y);
const close = (a: number, b: number, size: number) =>
  expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-9 * size + 1e-12);

describe('a straight line', () => {
  it('is found exactly where the points lie on one, in any whole numbers', () => {
    const whole = fc.integer({ min: -100_000, max: 100_000 });
    fc.assert(
      fc.property(fc.uniqueArray(whole, { minLength: 3, maxLength: 12 }), whole, whole, (x, a, b) => {
        const line = straightLine(
          x,
          x.map((each) => a + b * each),
        );
        // To the last digit, or where that is 0 to within 1e-15.
        expect(Math.max(Math.abs(line.intercept - a), Math.abs(line.slope - b))).toBeLessThan(1e-15);
        expect(line.spread).toBeLessThan(1e-12);
        expect(line.rSquared).toBe(1);
      }),
    );
  });

  it('agrees with another library', () => {
    fc.assert(
      fc.property(points, (list) => {
        const line = straightLine(xs(list), ys(list));
        const { m, b } = linearRegression(list.map(({ x, y }) => [x, y]));
        const size = Math.max(...ys(list).map(Math.abs));
        close(line.slope, m, size);
        close(line.intercept, b, 1000 * size);
      }),
    );
  });

  it('leaves residuals that sum to nothing, along x too, and does not mind the order', () => {
    fc.assert(
      fc.property(points, (list) => {
        const line = straightLine(xs(list), ys(list));
        const size = Math.max(...ys(list).map(Math.abs));
        close(
          line.residuals.reduce((a, b) => a + b),
          0,
          size,
        );
        close(
          line.residuals.reduce((sum, each, i) => sum + each * list[i]!.x, 0),
          0,
          1e4 * size,
        );
        const back = straightLine(xs(list.toReversed()), ys(list.toReversed()));
        near(back.slope, line.slope, 1e-14);
        near(back.slopeDoubt.standard, line.slopeDoubt.standard, 1e-13);
      }),
    );
  });

  it('follows the units: y stretched and shifted, x stretched', () => {
    fc.assert(
      fc.property(points, fc.constantFrom(0.25, 3, 1024), (list, factor) => {
        const line = straightLine(xs(list), ys(list));
        const stretched = straightLine(
          xs(list).map((x) => x * factor),
          ys(list).map((y) => 8 * y),
        );
        const size = Math.max(...ys(list).map(Math.abs));
        close(stretched.slope, (8 * line.slope) / factor, size);
        close(stretched.intercept, 8 * line.intercept, 1e4 * size);
        near(stretched.spread, 8 * line.spread, 1e-12);
      }),
    );
  });

  it('is known best at its centre; doubt of intercept is the doubt at 0', () => {
    fc.assert(
      fc.property(points, between(-3000, 3000), (list, x) => {
        const line = straightLine(xs(list), ys(list));
        expect(lineAt(line, x).standard).toBeGreaterThanOrEqual(lineAt(line, line.centre).standard);
        near(lineAt(line, 0).standard, line.interceptDoubt.standard, 1e-9);
        const size = Math.max(...ys(list).map(Math.abs));
        close(lineAt(line, x).value, line.intercept + line.slope * x, 1e5 * size);
      }),
    );
  });

  it('ten times the scatter, ten times the doubt', () => {
    const noise = noiseFrom(5);
    const errors = Array.from({ length: 12 }, noise);
    const doubt = (size: number) =>
      straightLine(
        errors.map((_, i) => i),
        errors.map((error, i) => 3 + 2 * i + size * error),
      ).slopeDoubt.standard;
    near(doubt(10), 10 * doubt(1), 1e-12);
    expect(doubt(1)).toBeGreaterThan(0);
  });

  it('the 95 % interval of the slope covers 94 to 96 % over 20 000 draws', () => {
    const noise = noiseFrom(8);
    const x = [0, 1, 2, 3, 4];
    let held = 0;
    for (let draw = 0; draw < 20_000; draw += 1) {
      const line = straightLine(
        x,
        x.map((each) => 1 + 2 * each + 0.3 * noise()),
      );
      // Student's t for 3 degrees of freedom at 97.5 %: NIST/SEMATECH e-Handbook, 1.3.6.7.2.
      held += Math.abs(line.slope - 2) <= 3.182 * line.slopeDoubt.standard ? 1 : 0;
    }
    expect(held / 20_000).toBeGreaterThan(0.945);
    expect(held / 20_000).toBeLessThan(0.955);
  });

  it('refuses what has no slope', () => {
    refused(() => straightLine([1, 2], [1, 2]), 'too-few', 'y');
    refused(() => straightLine([1, 1, 1], [1, 2, 3]), 'inconsistent', 'columns');
    refused(() => straightLine([0, 0, 0], [1, 2, 3]), 'inconsistent', 'columns');
    refused(() => straightLine([1, 2, 3], [1, 2]), 'too-few', 'y');
    refused(() => straightLine([1, 2], [1, 2, 4]), 'inconsistent', 'columns');
    refused(() => straightLine([1, 2, Number.NaN], [1, 2, 3]), 'not-a-number');
    refused(() => straightLine([1, 2, 3], [1, 2, Number.POSITIVE_INFINITY]), 'not-a-number');
    refused(() => straightLine([1, 2, 3], [1, 2, 1e70]), 'out-of-range');
  });
});

describe('weights', () => {
  it('twice the weight is the same point twice', () => {
    const x = [0, 1, 2, 3];
    const y = [1, 3, 4, 8];
    const weighted = straightLine(x, y, { kind: 'weighted', weights: [1, 2, 1, 1] });
    const twice = straightLine([...x, 1], [...y, 3]);
    near(weighted.slope, twice.slope, 1e-14);
    near(weighted.intercept, twice.intercept, 1e-13);
    near(weighted.residualSumOfSquares, twice.residualSumOfSquares, 1e-13);
  });

  it('any common factor of weights changes nothing but the unit of spread', () => {
    const x = [0, 1, 2, 3];
    const y = [1, 3, 4, 8];
    const one = straightLine(x, y, { kind: 'weighted', weights: [1, 2, 3, 4] });
    const ten = straightLine(x, y, { kind: 'weighted', weights: [10, 20, 30, 40] });
    near(ten.slopeDoubt.standard, one.slopeDoubt.standard, 1e-13);
    near(ten.spread, one.spread * Math.sqrt(10), 1e-13);
  });

  it('known variances give doubts that do not depend on how the points happen to lie', () => {
    const known = { kind: 'known', variances: [4, 4, 4] } as const;
    const straight = straightLine([0, 1, 2], [0, 1, 2], known);
    const bent = straightLine([0, 1, 2], [0, 5, 2], known);
    expect(straight.slopeDoubt).toEqual({ standard: Math.SQRT2, degreesOfFreedom: Number.POSITIVE_INFINITY });
    expect(bent.slopeDoubt).toEqual(straight.slopeDoubt);
    expect(straightLine([0, 1], [3, 5], { kind: 'known', variances: [1, 1] }).slope).toBe(2);
    expect(lineThroughOrigin([2], [6], { kind: 'known', variances: [4] })).toMatchObject({
      slope: 3,
      slopeDoubt: { standard: 1 },
    });
  });

  it('refuses weights and variances that are none', () => {
    for (const bad of [0, -1, Number.NaN]) {
      const code = Number.isNaN(bad) ? 'not-a-number' : 'out-of-range';
      refused(
        () => straightLine([0, 1, 2], [0, 1, 2], { kind: 'weighted', weights: [1, bad, 1] }),
        code,
        'scatter',
      );
      refused(
        () => straightLine([0, 1, 2], [0, 1, 2], { kind: 'known', variances: [1, bad, 1] }),
        code,
        'scatter',
      );
    }
    refused(
      () => straightLine([0, 1, 2], [0, 1, 2], { kind: 'known', variances: [1] }),
      'inconsistent',
      'scatter',
    );
  });
});

describe('several unknowns', () => {
  it('are found whatever the order of the columns, and predictions agree', () => {
    const uniform = uniformsFrom(4);
    const columns = [1, 2, 3].map(() => Array.from({ length: 12 }, () => 100 * uniform()));
    const y = columns[0]!.map((_, i) => 2 * columns[0]![i]! - columns[1]![i]! + 7 + uniform());
    const ones = y.map(() => 1);
    const fit = leastSquares([ones, ...columns], y);
    const turned = leastSquares([ones, ...columns.toReversed()], y);
    near(turned.coefficients[3]!, fit.coefficients[1]!, 1e-13);
    near(turned.covariance[3]![1]!, fit.covariance[1]![3]!, 1e-12);
    const there = predict(fit, [1, 10, 20, 30]);
    const same = predict(turned, [1, 30, 20, 10]);
    near(there.value, same.value, 1e-13);
    near(there.standard, same.standard, 1e-12);
    // The variance of a prediction is that of the sum of its terms: JCGM 100:2008, 5.2.2.
    const row = [1, 10, 20, 30];
    const variance = fit.covariance.reduce(
      (sum, line, i) => sum + line.reduce((inner, cov, j) => inner + row[i]! * row[j]! * cov, 0),
      0,
    );
    near(there.standard ** 2, variance, 1e-9);
  });

  it('refuses columns that say the same twice, and says so', () => {
    const x = [1, 2, 3, 4, 5];
    refused(
      () => leastSquares([x.map(() => 1), x, x.map((each) => 3 * each - 1)], [1, 2, 1, 2, 1]),
      'inconsistent',
      'columns',
    );
    // The same but for the rounding of decimals.
    const tenths = x.map((each) => each / 10);
    refused(
      () => leastSquares([tenths, tenths.map((each) => 3.3 * each)], [1, 2, 1, 2, 1]),
      'inconsistent',
      'columns',
    );
    refused(() => leastSquares([], [1, 2]), 'too-few', 'y');
    refused(() => predict(leastSquares([x], x), [1, 2]), 'inconsistent', 'row');
    refused(() => predict(leastSquares([x], x), [Number.NaN]), 'not-a-number', 'row');
  });

  it('a parabola through whole numbers comes out whole', () => {
    const x = [-3, 0, 1, 4, 9];
    const fit = polynomialFit(
      x,
      x.map((each) => 5 - 2 * each + 3 * each ** 2),
      2,
    );
    expect(fit.coefficients).toEqual([5, -2, 3]);
    expect(predict(fit, powersOf(2, 2)).value).toBeCloseTo(13, 12);
    refused(() => polynomialFit(x, x, 1.5), 'out-of-range', 'degree');
    refused(() => polynomialFit(x, x, -1), 'out-of-range', 'degree');
    refused(() => polynomialFit([Number.NaN, 1, 2], [1, 2, 3], 1), 'not-a-number', 'x');
  });

  it('what each column explains adds up to what they explain together', () => {
    const x = [0, 1, 2, 3, 4, 5];
    const y = [1, 2, 6, 7, 11, 19];
    const fit = polynomialFit(x, y, 3);
    const whole = y.reduce((sum, each) => sum + each ** 2, 0);
    near(fit.sumsOfSquares.reduce((a, b) => a + b) + fit.residualSumOfSquares, whole, 1e-14);
  });
});

describe('a bend', () => {
  it('is told from chance: false alarms at their rate, real ones found', () => {
    const noise = noiseFrom(12);
    const x = [0, 1, 2, 3, 4, 5, 6, 7];
    const found = (curvature: number) => {
      let bent = 0;
      for (let draw = 0; draw < 2000; draw += 1) {
        const y = x.map((each) => 3 + each + curvature * each ** 2 + 0.1 * noise());
        bent += bendOf(x, y).probability < 0.05 ? 1 : 0;
      }
      return bent / 2000;
    };
    expect(Math.abs(found(0) - 0.05)).toBeLessThan(0.015);
    expect(found(0.05)).toBeGreaterThan(0.95);
  });

  it('shows from three places on', () => {
    refused(() => bendOf([0, 0, 1, 1], [0, 0, 1, 1]), 'too-few', 'x');
  });
});
