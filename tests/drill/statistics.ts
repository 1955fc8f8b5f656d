import { expect } from 'vitest';

/** Sums that the tests of the imagined drill share. Textbook statistics, from memory. */

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Variance with divisor n - 1. */
export function variance(values: readonly number[]): number {
  const centre = mean(values);
  return values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1);
}

export function correlation(x: readonly number[], y: readonly number[]): number {
  const mx = mean(x);
  const my = mean(y);
  const products = x.map((value, i) => (value - mx) * (y[i]! - my));
  return mean(products) / Math.sqrt((variance(x) * variance(y) * (x.length - 1) ** 2) / x.length ** 2);
}

/** Pearson's chi-square of counts against what was expected. */
export function chiSquare(observed: readonly number[], expected: readonly number[]): number {
  return observed.reduce((sum, count, i) => sum + (count - expected[i]!) ** 2 / expected[i]!, 0);
}

/**
 * How many standard deviations a chi-square value with `degrees` of freedom lies from its middle (Wilson and Hilferty's cube
 * root). The tests' seeds are fixed, so a bound of 3 means: this seed is no freak.
 */
export function chiSquareZ(value: number, degrees: number): number {
  const spread = 2 / (9 * degrees);
  return (Math.cbrt(value / degrees) - (1 - spread)) / Math.sqrt(spread);
}

/** Expects `value` to lie no further than `within` from `wanted`. */
export function expectNear(value: number, wanted: number, within: number): void {
  expect(value).toBeGreaterThanOrEqual(wanted - within);
  expect(value).toBeLessThanOrEqual(wanted + within);
}
