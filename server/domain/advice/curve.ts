import { normalQuantile } from '../statistics.ts';
import { normalDensity, normalProbability } from './normal.ts';
import type { Component, CurvePosterior } from './posterior.ts';
import type { Interval } from './types.ts';

/** What the belief about the curve says at a setting. */

/** Where the lever is taken to be: exactly on the mark, set to it anew (with its play), or as it stands now. */
export type Lever = 'exact' | 'anew' | 'standing';

/** One normal part of a mixture. Weights of all parts sum to 1. */
export interface Part {
  weight: number;
  mean: number;
  /** Standard deviation, more than 0. */
  spread: number;
}

/**
 * Rate at `setting` as a mixture, g/m². `standing` needs a lever that stands where a run in the model was made.
 * What rows and drill add to every rate alike is included unless `fixed` is false.
 */
export function rateAt(curve: CurvePosterior, setting: number, lever: Lever, fixed = true): Part[] {
  const u = (setting - curve.closedAt) / curve.unit;
  return curve.components.map((component) => {
    const { mean, variance } = lineAt(curve, component, u, lever);
    const common = fixed ? curve.fixedVariance * mean ** 2 : 0;
    return {
      weight: component.weight,
      mean: mean * curve.targetRate,
      spread: Math.sqrt(variance + common) * curve.targetRate + 1e-12,
    };
  });
}

function lineAt(curve: CurvePosterior, { mean, covariance }: Component, u: number, lever: Lever) {
  const slope = (mean[1]! + 2 * u * mean[2]!) / curve.unit;
  const basis = [1, u, u * u];
  const unknowns = [0, 1, 2];
  if (lever === 'standing' && curve.standing !== null) {
    basis.push(slope);
    unknowns.push(curve.standing);
  }
  let value = 0;
  let variance = lever === 'anew' ? (slope * curve.leverPlay) ** 2 : 0;
  for (let i = 0; i < basis.length; i += 1) {
    const row = covariance[unknowns[i]!]!;
    value += basis[i]! * mean[unknowns[i]!]!;
    for (let j = 0; j < basis.length; j += 1) variance += basis[i]! * basis[j]! * row[unknowns[j]!]!;
  }
  return { mean: value, variance: Math.max(0, variance) };
}

/** Change of rate per mark at `setting` as a mixture, g/m² per mark. */
export function slopeAt(curve: CurvePosterior, setting: number): Part[] {
  const u = (setting - curve.closedAt) / curve.unit;
  const perMark = curve.targetRate / curve.unit;
  return curve.components.map(({ weight, mean, covariance }) => {
    const variance = covariance[1]![1]! + 4 * u * covariance[1]![2]! + 4 * u * u * covariance[2]![2]!;
    return {
      weight,
      mean: (mean[1]! + 2 * u * mean[2]!) * perMark,
      spread: Math.sqrt(Math.max(0, variance)) * perMark + 1e-12,
    };
  });
}

/** Mean of a mixture. */
export function meanOf(parts: readonly Part[]): number {
  return parts.reduce((sum, { weight, mean }) => sum + weight * mean, 0);
}

/** Variance of a mixture. */
export function varianceOf(parts: readonly Part[]): number {
  const centre = meanOf(parts);
  return parts.reduce(
    (sum, { weight, mean, spread }) => sum + weight * (spread ** 2 + (mean - centre) ** 2),
    0,
  );
}

/** Probability that a mixture does not exceed `value`. */
export function probabilityBelow(parts: readonly Part[], value: number): number {
  return parts.reduce(
    (sum, { weight, mean, spread }) => sum + weight * normalProbability((value - mean) / spread),
    0,
  );
}

/** Probability that a mixture lies between `low` and `high`. */
export function probabilityWithin(parts: readonly Part[], low: number, high: number): number {
  return Math.max(0, probabilityBelow(parts, high) - probabilityBelow(parts, low));
}

/** Density of a mixture at `value`. */
function densityAt(parts: readonly Part[], value: number): number {
  return parts.reduce(
    (sum, { weight, mean, spread }) => sum + (weight / spread) * normalDensity((value - mean) / spread),
    0,
  );
}

/**
 * Value that a mixture does not exceed with `probability` (above 0, below 1), to a millionth of its spread: Newton's steps, halving where
 * they would leave the bracket.
 */
export function quantileOf(parts: readonly Part[], probability: number): number {
  const centre = meanOf(parts);
  const spread = Math.sqrt(varianceOf(parts));
  let low = Math.min(...parts.map((part) => part.mean - 8 * part.spread));
  let high = Math.max(...parts.map((part) => part.mean + 8 * part.spread));
  let value = centre + normalQuantile(probability) * spread;
  for (let step = 0; step < 100; step += 1) {
    const excess = probabilityBelow(parts, value) - probability;
    if (excess < 0) low = value;
    else high = value;
    const newton = value - excess / densityAt(parts, value);
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - value) < 1e-6 * spread) return next;
    value = next;
  }
  return value;
}

/** Mean of a mixture with the interval that holds it with `confidence`. */
export function intervalOf(parts: readonly Part[], confidence = 0.95): Interval {
  const tail = (1 - confidence) / 2;
  return { value: meanOf(parts), low: quantileOf(parts, tail), high: quantileOf(parts, 1 - tail) };
}

/** The same for a rate, which never falls below 0. */
export function rateInterval(parts: readonly Part[], confidence = 0.95): Interval {
  const { value, low, high } = intervalOf(parts, confidence);
  return { value: Math.max(0, value), low: Math.max(0, low), high: Math.max(0, high) };
}
