import { describe, expect, it } from 'vitest';
import { weighCountedSample } from '../../server/domain/counted-sample.ts';
import { weighingDoubt } from '../../server/domain/enough-turns.ts';
import { germinationDoubt, germinationTolerance } from '../../server/domain/germination.ts';
import { poissonInterval, poissonQuantile } from '../../server/domain/poisson.ts';
import { planTest, type TestLength, usualTestLengths } from '../../server/domain/test-length.ts';
import { grams, gramsPerSquareMetre, metres, turns } from '../../server/domain/units.ts';

// Exact limits at 95 %: P. Macdonald (McMaster University) for 0 to 5, constants in a public repository to 12, J. Hanley (McGill
// University) beyond, two decimals. READ-2: seen quoted by a second party.
it.each([
  [0, '0.0000', '3.6889'],
  [1, '0.0253', '5.5716'],
  [2, '0.2422', '7.2247'],
  [3, '0.6187', '8.7673'],
  [4, '1.0899', '10.2416'],
  [5, '1.6235', '11.6683'],
  [6, '2.2019', '13.0595'],
  [7, '2.8144', '14.4227'],
  [8, '3.4538', '15.7632'],
  [9, '4.1154', '17.0848'],
  [10, '4.7954', '18.3904'],
  [11, '5.4912', '19.6820'],
  [12, '6.2006', '20.9616'],
  [14, '7.65', '23.49'],
  [20, '12.22', '30.89'],
  [30, '20.24', '42.83'],
])('exact limits of a count of %s: %s to %s', (count, low, high) => {
  const digits = low.length - low.indexOf('.') - 1;
  expect(poissonInterval(count).low.toFixed(digits)).toBe(low);
  expect(poissonInterval(count).high.toFixed(digits)).toBe(high);
});

// GraphPad, How QuickCalcs computes the confidence interval of a count (Garwood's method). READ.
it.each([
  [0.9, 17.38, 34.92],
  [0.95, 16.18, 36.9],
  [0.99, 14.0, 41.0],
])('a count of 25 at %s: %s to %s', (confidence, low, high) => {
  expect(poissonInterval(25, confidence).low).toBeCloseTo(low, 2);
  expect(poissonInterval(25, confidence).high).toBeCloseTo(high, 2);
});

// R poisson.test, in github.com/lgreski/datasciencectacontent, markdown/statinf-poissonInterval.md. READ.
it('5 in 94.32: 0.01721254 to 0.12371005', () => {
  expect(poissonInterval(5).low / 94.32).toBeCloseTo(0.01721254, 8);
  expect(poissonInterval(5).high / 94.32).toBeCloseTo(0.12371005, 8);
});

// Standardised mortality ratios with exact intervals, pmc.ncbi.nlm.nih.gov PMC4715601, table T2. READ; ratios are rounded to 0.01.
it.each([
  [1, 0.42, 0.01, 2.35],
  [7, 0.29, 0.12, 0.6],
  [12, 0.28, 0.15, 0.5],
  [25, 0.49, 0.32, 0.73],
  [37, 0.6, 0.42, 0.82],
  [45, 0.54, 0.39, 0.72],
  [43, 0.42, 0.3, 0.57],
  [40, 0.35, 0.25, 0.48],
  [50, 0.38, 0.28, 0.5],
  [70, 0.46, 0.36, 0.58],
  [330, 0.43, 0.39, 0.48],
])('%s deaths, ratio %s: %s to %s', (count, ratio, low, high) => {
  const exact = poissonInterval(count);
  expect(Math.abs((exact.low * ratio) / count - low)).toBeLessThanOrEqual(0.0151);
  expect(Math.abs((exact.high * ratio) / count - high)).toBeLessThanOrEqual(0.0151);
});

// 7 CFR 201.65 (76 FR 31794, 2011), noxious seeds: largest number found within tolerance for 0 to 100 on the label. READ, whole table.
// It is the 95 % point of the Poisson distribution less one, but for 0 (by rule) and 55 (a near tie).
const largestFound = [
  2, 2, 4, 5, 7, 8, 9, 11, 12, 13, 14, 16, 17, 18, 19, 21, 22, 23, 24, 25, 27, 28, 29, 30, 31, 32, 34, 35, 36,
  37, 38, 39, 41, 42, 43, 44, 45, 46, 47, 49, 50, 51, 52, 53, 54, 55, 56, 58, 59, 60, 61, 62, 63, 64, 65, 67,
  68, 69, 70, 71, 72, 73, 74, 75, 76, 78, 79, 80, 81, 82, 83, 84, 85, 86, 87, 89, 90, 91, 92, 93, 94, 95, 96,
  97, 98, 99, 101, 102, 103, 104, 105, 106, 107, 108, 109, 110, 111, 112, 114, 115, 116,
];
it('tolerances for noxious seed are Poisson quantiles', () => {
  const differ = largestFound.flatMap((found, label) =>
    label > 0 && poissonQuantile(0.95, label) - 1 !== found ? [label] : [],
  );
  expect(largestFound).toHaveLength(101);
  expect(differ).toEqual([55]);
});

// AOSA Rules for Testing Seeds, Appendix 4, tutorial of 13 July 2001 (frsa.org/SAfacts/App4tutorial.html): Dimorphotheca sinuata, eight
// hundreds. READ: data and formula; results computed.
it('eight hundreds of seeds: 2.1326 g a thousand, variation 2.014 %', () => {
  const weights = [0.2224, 0.2134, 0.213, 0.2116, 0.2145, 0.2071, 0.2116, 0.2125].map(grams);
  const counted = weighCountedSample({ weights, seedsEach: 100, scaleStep: grams(0.0001), chaffy: false });
  expect(counted.thousandSeedWeight).toBeCloseTo(2.132625, 12);
  expect(counted.variation).toBeCloseTo(0.0201449, 7);
  expect(counted.standardDoubt * Math.sqrt(8)).toBeCloseTo(0.0429616, 7);
  expect(counted.thousandSeedWeight * 2.5).toBeCloseTo(5.3316, 4);
  expect(counted.stands).toBe(true);
});

// 7 CFR 201.63. READ: points of tolerance for the mean germination, 400 seeds.
it.each([
  [96, 5],
  [95.9, 6],
  [90, 6],
  [85, 7],
  [75, 8],
  [65, 9],
  [40, 10],
])('germination %s %%: %s points', (germination, points) => {
  expect(germinationTolerance(germination / 100)).toBeCloseTo(points / 100, 12);
  expect(germinationTolerance(germination / 100, true)).toBeCloseTo((points + 2) / 100, 12);
});

// Binomial doubt at 90 % and 400 seeds, computed: 1.5 points.
it('90 % of 400 seeds is known to 1.5 points', () => {
  expect(germinationDoubt(0.9)).toBeCloseTo(0.015, 12);
});

// Steps of 0.1 g at tare and gross, JCGM 100:2008, 4.3.7; computed: 0.041 g, so 1 % takes about 4 g and 0.2 % about 20 g.
it('a display in steps of 0.1 g weighs a catch to 0.041 g', () => {
  expect(weighingDoubt(grams(0.1), grams(0))).toBeCloseTo(0.041, 3);
});

// Cover crop mixtures require properly calibrated grain drill, Southeast Farm Press. READ: 24 openers at 7.5 in, 1/20 acre is 2 178 ft²,
// 145.2 ft to drive, 19 turns counted in the field.
describe('a twentieth of an acre', () => {
  const geometry = {
    circumference: metres((145.2 * 0.3048) / 19),
    rowSpacing: metres(7.5 * 0.0254),
    rowsCaught: 6,
    slip: 0,
  };

  it('19 turns, 145.2 ft; a quarter of the rows catches a quarter of it', () => {
    const plan = planTest(
      geometry,
      { ...usualTestLengths['1/20 ac'], rows: 24 } as TestLength,
      gramsPerSquareMetre(5),
      true,
    );
    expect(plan.exactTurns).toBeCloseTo(19, 9);
    expect(plan.turns).toBe(turns(19));
    expect(plan.distance / 0.3048).toBeCloseTo(145.2, 9);
    expect((plan.area * 4) / 0.3048 ** 2).toBeCloseTo(2178, 8);
  });
});
