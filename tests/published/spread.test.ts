import { describe, expect, it } from 'vitest';
import {
  type DoubtedValue,
  realSpread,
  spreadAgainstChance,
  weightedMean,
} from '../../server/domain/spread.ts';

// Real spread with chance taken off has the same form wherever values come with doubts: laboratories here, rows and runs with us.

// R. N. Kacker, Metrologia 41 (2004) 132-136, Table 1, first row; recomputed in R (metafor, method PM, tolerance 1e-9). READ in
// statsmodels, stats/tests/test_meta.py and stats/tests/results/results_meta.py.
describe('nine laboratories', () => {
  const values = [61, 61.4, 62.21, 62.3, 62.34, 62.6, 62.7, 62.84, 65.9];
  const variances = [0.2025, 1.21, 0.09, 0.2025, 0.3844, 0.5625, 0.0676, 0.0225, 1.8225];
  const labs: DoubtedValue[] = values.map((value, lab) => ({ value, doubt: Math.sqrt(variances[lab]!) }));

  it('spread 0.8399 beyond their doubts', () => {
    const { standard } = realSpread([labs]);
    expect(standard).toBeCloseTo(0.8399, 4);
    expect(standard ** 2).toBeCloseTo(0.705395309224248, 10);
  });

  it('weighted mean 62.4076 ± 0.3380 with it, 62.5834 ± 0.1078 without', () => {
    const { mean, doubt } = weightedMean(labs, realSpread([labs]).standard);
    expect(mean).toBeCloseTo(62.4076199113286, 10);
    expect(doubt).toBeCloseTo(0.338030602684471, 10);
    expect(weightedMean(labs).mean).toBeCloseTo(62.5833970939982, 10);
    expect(weightedMean(labs).doubt).toBeCloseTo(0.107845705498231, 12);
  });

  it('chi-square 24.80 with 8 degrees of freedom, probability 0.00168', () => {
    const verdict = spreadAgainstChance([labs]);
    expect(verdict.chiSquare).toBeCloseTo(24.801897741835, 9);
    expect(verdict.probability).toBeCloseTo(0.00167935146372742, 11);
    expect(verdict).toMatchObject({ degreesOfFreedom: 8, beyondChance: true });
  });
});

// W. Viechtbauer, Statistics in Medicine 26 (2007) 37-52, Table II: nine trials, logarithms of odds ratios; interval of the variance by the
// Q-profile method 0.072 to 2.203. READ in metafor, tests/testthat/test_analysis_example_viechtbauer2007a.r; data READ in metadat,
// data-raw/dat.collins1985b.txt (numbers treated, not treated, and cases among them).
it('nine trials: variance between them 0.072 to 2.203', () => {
  const trials = [
    [131, 136, 14, 14],
    [385, 134, 21, 17],
    [57, 48, 14, 24],
    [38, 40, 6, 18],
    [1011, 760, 12, 35],
    [1370, 1336, 138, 175],
    [506, 524, 15, 20],
    [108, 103, 6, 2],
    [153, 102, 65, 40],
  ] as const;
  const values = trials.map(([treated, others, cases, otherCases]) => ({
    value: Math.log((cases * (others - otherCases)) / (otherCases * (treated - cases))),
    doubt: Math.sqrt(1 / cases + 1 / (treated - cases) + 1 / otherCases + 1 / (others - otherCases)),
  }));
  const { low, high } = realSpread([values]);
  expect(low ** 2).toBeCloseTo(0.072, 3);
  expect(high ** 2).toBeCloseTo(2.203, 3);
});

// Thirteen trials of a vaccine (Colditz and others 1994), logarithms of risk ratios: 0.1197 to 1.1115. READ in metafor,
// tests/testthat/test_misc_confint.r; data READ in metadat, data-raw/dat.colditz1994.txt (ill and well, with and without).
it('thirteen trials: variance between them 0.1197 to 1.1115', () => {
  const trials = [
    [4, 119, 11, 128],
    [6, 300, 29, 274],
    [3, 228, 11, 209],
    [62, 13_536, 248, 12_619],
    [33, 5036, 47, 5761],
    [180, 1361, 372, 1079],
    [8, 2537, 10, 619],
    [505, 87_886, 499, 87_892],
    [29, 7470, 45, 7232],
    [17, 1699, 65, 1600],
    [186, 50_448, 141, 27_197],
    [5, 2493, 3, 2338],
    [27, 16_886, 29, 17_825],
  ] as const;
  const values = trials.map(([ill, well, otherIll, otherWell]) => ({
    value: Math.log(ill / (ill + well) / (otherIll / (otherIll + otherWell))),
    doubt: Math.sqrt(1 / ill - 1 / (ill + well) + 1 / otherIll - 1 / (otherIll + otherWell)),
  }));
  const { low, high } = realSpread([values]);
  expect(low ** 2).toBeCloseTo(0.1197, 4);
  expect(high ** 2).toBeCloseTo(1.1115, 4);
});
