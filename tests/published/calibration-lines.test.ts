import { describe, expect, it } from 'vitest';
import { inversePrediction, varianceOfReadings } from '../../server/domain/inverse-prediction.ts';
import { halfWidth } from '../../server/domain/statistics.ts';
import { lineAt, straightLine } from '../../server/domain/straight-line.ts';

// D. L. Massart et al., Handbook of Chemometrics and Qualimetrics, Part A (Elsevier 1997), chapter 8, example 7, page 200. Results READ as the
// book's known values, and to seven figures, in the tests of the R package chemCal (github.com/jranke/chemCal); the y are from memory and
// confirmed by reproducing every one of those figures.
describe('a calibration line read backwards', () => {
  const line = straightLine([0, 10, 20, 30, 40, 50], [4.0, 21.2, 44.6, 61.8, 78.0, 105.2]);

  it.each([
    ['one reading of 15', 15, 1, 6.1, 4.9, 6.09381, 1.767278, 4.906751],
    ['one reading of 90', 90, 1, 43.9, 4.9, 43.93983, 1.767747, 4.908053],
    ['the mean of five readings of 90', 90, 5, 43.9, 3.2, 43.93983, 1.141204, 3.168489],
  ])('%s', (_, y, readings, bookX, bookHalf, x, standard, half) => {
    const found = inversePrediction(line, y, varianceOfReadings(line, readings));
    expect(Math.abs(found.x! - bookX)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(halfWidth(found.doubt, 0.95) - bookHalf)).toBeLessThanOrEqual(0.05);
    expect(found.x! / x).toBeCloseTo(1, 6);
    expect(found.doubt.standard / standard).toBeCloseTo(1, 6);
    expect(halfWidth(found.doubt, 0.95) / half).toBeCloseTo(1, 6);
  });

  // Fieller's limits on the same data: no printed figure was found; these were computed elsewhere from the formula as Draper and Smith
  // give it, x̄ + d/(1-g) ± (t s/b)/(1-g) sqrt((1-g)(1/m + 1/n) + d²/Sxx).
  it.each([
    [15, 1, 0.9668725, 10.8374359],
    [90, 1, 39.1952254, 49.0684301],
    [90, 5, 40.9415366, 47.3221189],
  ])('Fieller: %s, %s readings', (y, readings, low, high) => {
    const { whereabouts, slopeDoubtSquared } = inversePrediction(line, y, varianceOfReadings(line, readings));
    expect(slopeDoubtSquared).toBeCloseTo(0.01003547, 8);
    expect(whereabouts).toMatchObject({ kind: 'interval' });
    const { low: from, high: to } = whereabouts as { low: number; high: number };
    expect(from).toBeCloseTo(low, 6);
    expect(to).toBeCloseTo(high, 6);
  });
});

// Same book, example 8, pages 188 and 200, marks as above: five readings at each x, the line fitted to their means with weights 1 / s², s
// rounded to two places and weights to three.
describe('a weighted calibration line read backwards', () => {
  const readings = [
    [4, 3, 4, 5, 4],
    [22, 20, 21, 22, 21],
    [44, 46, 45, 44, 44],
    [60, 63, 60, 63, 63],
    [75, 81, 79, 78, 77],
    [104, 109, 107, 101, 105],
  ];
  const weights = [1.984, 1.417, 1.262, 0.372, 0.199, 0.109];
  const means = readings.map((five) => five.reduce((a, b) => a + b) / 5);
  const line = straightLine([0, 10, 20, 30, 40, 50], means, { kind: 'weighted', weights });

  it('intercept, slope and spread', () => {
    expect(line.intercept).toBeCloseTo(3.4826832, 7);
    expect(line.slope).toBeCloseTo(1.963614, 7);
    expect(line.spread).toBeCloseTo(1.9212666, 7);
  });

  it.each([
    [15, 1.67, 5.9, 2.5, 5.865367, 0.8926109, 2.478285],
    [90, 0.145, 44.1, 7.9, 44.06025, 2.829162, 7.85501],
  ])('a reading of %s with weight %s', (y, weight, bookX, bookHalf, x, standard, half) => {
    const found = inversePrediction(line, y, line.spread ** 2 / weight);
    expect(Math.abs(found.x! - bookX)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(halfWidth(found.doubt, 0.95) - bookHalf)).toBeLessThanOrEqual(0.05);
    expect(found.x! / x).toBeCloseTo(1, 6);
    expect(found.doubt.standard / standard).toBeCloseTo(1, 6);
    expect(halfWidth(found.doubt, 0.95) / half).toBeCloseTo(1, 6);
  });
});

// JCGM 100:2008 (GUM), H.3, calibration of a thermometer. Data and results READ in GTC's documentation, GUM_H3 (gtc.readthedocs.io, MSLNZ/GTC),
// which reproduces the Guide.
describe('the line of a thermometer', () => {
  const temperatures = [
    21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511,
  ];
  const corrections = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const line = straightLine(
    temperatures.map((t) => t - 20),
    corrections,
  );

  it('intercept -0.1712(29), slope 0.00218(67), correlation -0.930', () => {
    expect(line.intercept).toBeCloseTo(-0.1712, 4);
    expect(line.interceptDoubt.standard).toBeCloseTo(0.0029, 4);
    expect(line.slope).toBeCloseTo(0.0021826977398872894, 12);
    expect(line.slopeDoubt.standard).toBeCloseTo(0.000667938773227833, 12);
    expect(line.slopeDoubt.degreesOfFreedom).toBe(9);
    expect(line.correlation).toBeCloseTo(-0.93, 3);
    expect(line.residualSumOfSquares).toBeCloseTo(0.000110096583109, 13);
  });

  it('-0.1494(41) at 30 degrees', () => {
    const { value, standard } = lineAt(line, 10);
    expect(value).toBeCloseTo(-0.1494, 4);
    expect(standard).toBeCloseTo(0.0041, 4);
  });

  // Same page: an error of 0.005 common to all corrections leaves the slope as it is and gives the intercept 0.00577 with 145.4 degrees of
  // freedom: what is common to all observations no line can see.
  it('a common error of 0.005 is added to the intercept alone', () => {
    const { standard, degreesOfFreedom } = line.interceptDoubt;
    const together = Math.hypot(standard, 0.005);
    expect(together).toBeCloseTo(0.00576893138292676, 10);
    expect((degreesOfFreedom * together ** 4) / standard ** 4).toBeCloseTo(145.37964721, 4);
  });
});
