import { gammaQuantile, regularizedGamma } from './incomplete-gamma.ts';

/**
 * Probability that chi-square with `degreesOfFreedom` (more than 0, fractions allowed) does not exceed `value` (from 0).
 * Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 26.4.19.
 * @throws DomainError for figures out of range.
 */
export function chiSquareProbability(value: number, degreesOfFreedom: number): number {
  return regularizedGamma(degreesOfFreedom / 2, value / 2).lower;
}

/**
 * Chi-square that is not exceeded with the given `probability` (above 0, below 1) at `degreesOfFreedom` (more than 0, fractions
 * allowed). Source: as `chiSquareProbability`, solved for the value.
 * @throws DomainError for figures out of range.
 */
export function chiSquareQuantile(probability: number, degreesOfFreedom: number): number {
  return 2 * gammaQuantile(probability, degreesOfFreedom / 2);
}
