import type { MassBatch } from './rate-batch.ts';

/**
 * Kalman filter for the mass in the bag against the turns of the wheel, under one hypothesis about the noise. The mass follows
 * m(u) = rate x u + W(u), W a random walk (seeds come in lumps); the scale shows m + offset + swing + white noise. Source: R. E. Kalman,
 * J. Basic Eng. 82 (1960) 35-45; for linear models with Gaussian noise the filter's estimate is that of generalized least squares.
 */

/** Intensities of the noise: all as variances, up to one common factor that the run itself shows. */
export interface Noise {
  /** Of the catch, for each turn. Grams². */
  perTurn: number;
  /** Of one reading, fresh in each. Grams². */
  white: number;
  /** Of the slow swing of the bag while the wheel turns, and how often it swings. Grams². */
  swing: number;
  swingHertz: number;
}

/** Places in the state: mass metered since the start, grams per turn, constant offset of the scale, swing and its quadrature. */
const size = 5;
const [MASS, RATE, OFFSET, SWING, QUADRATURE] = [0, 1, 2, 3, 4] as const;

/** What one filter knows: means of the five parts of its state, and their covariance. */
export interface FilterState {
  /** Grams; grams per turn; grams. */
  readonly mean: readonly number[];
  /** Row by row; in units of the common factor. */
  readonly covariance: readonly number[];
}

/** Damping ratio of the swing: broad, since its frequency is only guessed. */
const swingDamping = 0.2;

/**
 * Before the wheel turns: nothing metered, the rate and the scale's offset (lag, tare) as good as unknown. `gramsPerTurn`: order of
 * magnitude to expect, more than 0.
 */
export function freshFilter(gramsPerTurn: number, noise: Noise): FilterState {
  const covariance: number[] = [];
  for (let place = 0; place < size * size; place += 1) covariance.push(0);
  covariance[RATE * size + RATE] = (10 * gramsPerTurn) ** 2;
  covariance[OFFSET * size + OFFSET] = (10 * gramsPerTurn) ** 2;
  covariance[SWING * size + SWING] = noise.swing;
  covariance[QUADRATURE * size + QUADRATURE] = noise.swing;
  return { mean: [0, gramsPerTurn, 0, 0, 0], covariance };
}

/** What a reading says beyond what was foretold, and the variance that it should have, in units of the common factor. */
export interface Innovation {
  grams: number;
  variance: number;
}

/** Filter after the wheel has gone on by `turns`, 0 or more, with no weighing. */
export function metered(filter: FilterState, noise: Noise, turns: number): FilterState {
  const mean = filter.mean.slice();
  const p = filter.covariance.slice();
  meterOn(mean, p, turns, noise.perTurn);
  return { mean, covariance: p };
}

/** What some seconds do to a swing: it turns on by an angle, and fades. */
export interface SwingTurn {
  swingHertz: number;
  cos: number;
  sin: number;
  /** Share of the variance that is left. */
  left: number;
}

/** The same for all filters with this frequency: worked out once a batch. */
export function swingTurn(swingHertz: number, seconds: number): SwingTurn {
  const omega = 2 * Math.PI * swingHertz;
  const shrink = Math.exp(-swingDamping * omega * seconds);
  return {
    swingHertz,
    cos: shrink * Math.cos(omega * seconds),
    sin: shrink * Math.sin(omega * seconds),
    left: shrink * shrink,
  };
}

/** Filter after one more batch of readings, and what that batch brought. `turned`: `swingTurn` of its swing over the batch's seconds. */
export function weighed(
  filter: FilterState,
  noise: Noise,
  batch: MassBatch,
  turned = swingTurn(noise.swingHertz, batch.seconds),
): { filter: FilterState; innovation: Innovation } {
  const { gapTurns, widthTurns, readings, grams } = batch;
  const mean = filter.mean.slice();
  const p = filter.covariance.slice();
  meterOn(mean, p, gapTurns + widthTurns, noise.perTurn);
  if (noise.swing > 0) {
    swingOn(mean, p, noise.swing, turned);
  }
  // What a batch sees is the mass at its end less half its growth. The walk within it is averaged: for a walk w over the batch with mean a,
  // var(w - a) = width / 3 and cov(w, w - a) = width / 2.
  const half = widthTurns / 2;
  const walk = noise.perTurn * widthTurns;
  const share = coveredBy(p, half);
  share[MASS]! -= walk / 2;
  const seen = share[MASS]! - half * share[RATE]! + share[OFFSET]! + share[SWING]!;
  const innovation = {
    grams: grams - (mean[MASS]! - half * mean[RATE]! + mean[OFFSET]! + mean[SWING]!),
    variance: seen - walk / 2 + walk / 3 + noise.white / readings,
  };
  correct(mean, p, share, innovation);
  return { filter: { mean, covariance: p }, innovation };
}

/** Filter after the catch has been weighed at rest, with no seed in the air: `variance` in units of the common factor, more than 0. */
export function weighedAtRest(filter: FilterState, grams: number, variance: number): FilterState {
  const mean = filter.mean.slice();
  const p = filter.covariance.slice();
  const share = p.slice(MASS * size, (MASS + 1) * size);
  correct(mean, p, share, { grams: grams - mean[MASS]!, variance: share[MASS]! + variance });
  return { mean, covariance: p };
}

/** Grams per turn, and its variance in units of the common factor. */
export function rateOf({ mean, covariance }: FilterState): { mean: number; variance: number } {
  return { mean: mean[RATE]!, variance: covariance[RATE * size + RATE]! };
}

/** Mass metered since the start once the wheel has gone on by `turns`, grams, and its variance in units of the common factor. */
export function massAfter(
  { mean, covariance }: FilterState,
  noise: Noise,
  turns: number,
): { mean: number; variance: number } {
  const own = covariance[MASS * size + MASS]!;
  const shared = covariance[MASS * size + RATE]!;
  const rate = covariance[RATE * size + RATE]!;
  return {
    mean: mean[MASS]! + turns * mean[RATE]!,
    variance: own + 2 * turns * shared + turns ** 2 * rate + turns * noise.perTurn,
  };
}

/** In place: the wheel goes on by `turns`. */
function meterOn(mean: number[], p: number[], turns: number, perTurn: number): void {
  mean[MASS]! += turns * mean[RATE]!;
  for (let i = 0; i < size; i += 1) {
    p[MASS * size + i]! += turns * p[RATE * size + i]!;
  }
  for (let i = 0; i < size; i += 1) {
    p[i * size + MASS]! += turns * p[i * size + RATE]!;
  }
  p[MASS * size + MASS]! += turns * perTurn;
}

/** In place: the swing turns on, fades, and is stirred so that its variance stays. */
function swingOn(mean: number[], p: number[], swing: number, { cos, sin, left }: SwingTurn): void {
  rotate(mean, SWING, QUADRATURE, cos, sin);
  for (let i = 0; i < size; i += 1) rotate(p, SWING * size + i, QUADRATURE * size + i, cos, sin);
  for (let i = 0; i < size; i += 1) rotate(p, i * size + SWING, i * size + QUADRATURE, cos, sin);
  const stir = swing * (1 - left);
  p[SWING * size + SWING]! += stir;
  p[QUADRATURE * size + QUADRATURE]! += stir;
}

/** In place: `share` is the covariance of the state with what was seen. */
function correct(mean: number[], p: number[], share: readonly number[], seen: Innovation): void {
  for (let i = 0; i < size; i += 1) {
    const gain = share[i]! / seen.variance;
    mean[i]! += gain * seen.grams;
    for (let j = 0; j < size; j += 1) {
      p[i * size + j]! -= gain * share[j]!;
    }
  }
}

/** Covariance of the state with mass - `half` x rate + offset + swing. */
function coveredBy(p: readonly number[], half: number): number[] {
  const share = [0, 0, 0, 0, 0];
  for (let i = 0; i < size; i += 1) {
    const row = i * size;
    share[i] = p[row + MASS]! - half * p[row + RATE]! + p[row + OFFSET]! + p[row + SWING]!;
  }
  return share;
}

/** In place: turns the pair of values at two places by an angle, and shrinks it. */
function rotate(values: number[], first: number, second: number, cos: number, sin: number): void {
  const x = values[first]!;
  const y = values[second]!;
  values[first] = cos * x - sin * y;
  values[second] = sin * x + cos * y;
}
