import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { settingFor } from '../../server/domain/advice/inverse.ts';
import { normalPosterior, type Observation } from '../../server/domain/advice/linear-model.ts';
import { normalProbability } from '../../server/domain/advice/normal.ts';
import type { CurvePosterior } from '../../server/domain/advice/posterior.ts';
import { inversePrediction, varianceOfReadings } from '../../server/domain/inverse-prediction.ts';
import { normalQuantile, studentQuantile } from '../../server/domain/statistics.ts';
import { lineAt, type StraightLine, straightLine } from '../../server/domain/straight-line.ts';
import { scale } from './requests.ts';

interface DataSet {
  name: string;
  x: number[];
  y: number[];
  certified: {
    estimates: string[];
    standardDeviations: string[];
    residualStandardDeviation: string;
  };
}

const file = new URL('../published/data/nist-strd.json', import.meta.url);
const sets: DataSet[] = JSON.parse(readFileSync(file, 'utf8')).datasets;
const set = (name: string) => sets.find((each) => each.name === name)!;

/** A prior that knows next to nothing: then the posterior is that of least squares. */
const ignorant = (size: number, spread: number) => ({
  mean: new Array<number>(size).fill(0),
  variance: new Array<number>(size).fill(spread ** 2),
});

/** Observations whose noise is the certified residual standard deviation; x in units of `unit`. */
function observations({ x, y, certified }: DataSet, powers: readonly number[], unit: number): Observation[] {
  const variance = Number(certified.residualStandardDeviation) ** 2;
  return x.map((each, i) => ({
    coefficients: powers.map((power) => (each / unit) ** power),
    value: y[i]!,
    variance,
  }));
}

// NIST Statistical Reference Datasets, linear regression, certified values (https://www.itl.nist.gov/div898/strd/): Norris (a line,
// 36 points), NoInt1 (a line through the origin, 11 points), Pontius (a load cell, quadratic, 40 points). What least squares certifies
// is what the Bayesian line must give when the prior knows nothing and the noise is the certified one.
describe('certified lines, with a prior that knows nothing', () => {
  it.each([
    ['Norris', [0, 1], 1000],
    ['NoInt1', [1], 100],
    ['Pontius', [0, 1, 2], 3e6],
  ])('%s: estimates and their standard deviations', (name, powers, unit) => {
    const data = set(name);
    const { mean, covariance } = normalPosterior(
      observations(data, powers, unit),
      ignorant(powers.length, 1e9),
    );
    powers.forEach((power, i) => {
      const size = unit ** power;
      expect(mean[i]! / size / Number(data.certified.estimates[i])).toBeCloseTo(1, 8);
      const standard = Math.sqrt(covariance[i]![i]!) / size;
      expect(standard / Number(data.certified.standardDeviations[i])).toBeCloseTo(1, 8);
    });
  });
});

// JCGM 100:2008, H.3, calibration of a thermometer; data and results READ in the documentation of GTC (MSLNZ), which "agree with the
// numbers reported in the GUM": -0.1712(29), 0.00218(67), correlation -0.930, at 30 °C -0.1494(41).
describe('GUM H.3, a thermometer’s line', () => {
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const variance = 1.10096583109e-4 / 9;
  const line = normalPosterior(
    t.map((each, i) => ({ coefficients: [1, each - 20], value: b[i]!, variance })),
    ignorant(2, 1e4),
  );
  const [intercept, slope] = line.mean as [number, number];
  const [[v00, v01], [, v11]] = line.covariance as [[number, number], [number, number]];

  it('intercept, slope, their doubts and correlation', () => {
    expect(intercept).toBeCloseTo(-0.1712, 4);
    expect(Math.sqrt(v00)).toBeCloseTo(0.0029, 4);
    expect(slope).toBeCloseTo(0.0021826977398872894, 9);
    expect(Math.sqrt(v11)).toBeCloseTo(0.00066793877322783, 9);
    expect(v01 / Math.sqrt(v00 * v11)).toBeCloseTo(-0.93, 3);
  });

  it('the correction at 30 °C', () => {
    expect(intercept + 10 * slope).toBeCloseTo(-0.1494, 4);
    expect(Math.sqrt(v00 + 20 * v01 + 100 * v11)).toBeCloseTo(0.0041, 4);
  });
});

/** A belief in one straight line, `reading` being the variance of what is looked up on it. */
function beliefIn(line: StraightLine, reading: number): CurvePosterior {
  const a = line.interceptDoubt.standard ** 2 + reading;
  const b = line.slopeDoubt.standard ** 2;
  const component = {
    weight: 1,
    repeatability: 0,
    bend: false,
    miscounted: null,
    mean: [line.intercept, line.slope, 0],
    covariance: [
      [a, line.covariance, 0],
      [line.covariance, b, 0],
      [0, 0, 0],
    ],
    logEvidence: 0,
  };
  return {
    components: [component],
    targetRate: 1,
    closedAt: 0,
    unit: 1,
    standing: null,
    standingSetting: null,
    leverPlay: 0,
    fixedVariance: 0,
    gathered: { evidence: [], groups: [], leftOut: [], placements: 0, standing: null },
  };
}

// D. L. Massart et al., Handbook of Chemometrics and Qualimetrics, Part A (1997), chapter 8, example 7: data and sources as in
// tests/published/calibration-lines.test.ts; Fieller's limits on them were computed elsewhere from Draper and Smith's formula. The
// confidence is chosen so that the normal deviate equals Student's t with the example's 4 degrees of freedom.
describe('the interval of a setting is Fieller’s', () => {
  const line = straightLine([0, 10, 20, 30, 40, 50], [4.0, 21.2, 44.6, 61.8, 78.0, 105.2]);
  const confidence = 2 * normalProbability(studentQuantile(0.975, 4)) - 1;
  const wide = { ...scale, low: -50, high: 100 };

  it.each([
    [15, 1, 6.09381, 0.9668725, 10.8374359],
    [90, 1, 43.93983, 39.1952254, 49.0684301],
    [90, 5, 43.93983, 40.9415366, 47.3221189],
  ])('%s, %s readings', (y, readings, x, low, high) => {
    const curve = beliefIn(line, varianceOfReadings(line, readings));
    const { setting } = settingFor(curve, wide, y, confidence);
    expect(setting!.value).toBeCloseTo(x, 4);
    expect(setting!.low).toBeCloseTo(low, 4);
    expect(setting!.high).toBeCloseTo(high, 4);
  });

  it('a plain wish: the same limits as by the formula for least squares', () => {
    const { whereabouts } = inversePrediction(line, 60);
    const { setting } = settingFor(beliefIn(line, 0), wide, 60, confidence);
    expect(whereabouts.kind).toBe('interval');
    const { low, high } = whereabouts as { low: number; high: number };
    expect(setting!.low).toBeCloseTo(low, 4);
    expect(setting!.high).toBeCloseTo(high, 4);
    expect(lineAt(line, setting!.value).value).toBeCloseTo(60, 4);
  });
});

// J. Burkardt's table of the normal distribution (function normal_01_cdf_values), READ in Beliavsky/Pure-Fortran-Examples,
// burkardt/asa111.f90.
describe('the normal distribution', () => {
  it.each([
    [0, 0.5],
    [0.5, 0.6914624612740131],
    [1, 0.8413447460685429],
    [2, 0.9772498680518208],
    [3, 0.9986501019683699],
  ])('does not exceed %s with probability %s', (z, probability) => {
    expect(normalProbability(z)).toBeCloseTo(probability, 14);
    expect(normalProbability(-z)).toBeCloseTo(1 - probability, 14);
  });

  it('undoes its quantile', () => {
    for (let probability = 0.001; probability < 1; probability += 0.013) {
      expect(normalProbability(normalQuantile(probability))).toBeCloseTo(probability, 13);
    }
  });
});
