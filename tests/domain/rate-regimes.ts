import { addToRate, freshRate, type SlopeEstimate, slopeEstimate } from '../../server/domain/rate.ts';
import { studentQuantile } from '../../server/domain/statistics.ts';
import { uniformsFrom } from './draws.ts';

/**
 * The estimator against the least variance that any unbiased one can have. Readings are made here with exactly the noises that the bound is
 * computed for: a random walk over the turns (seeds) and white noise in each reading (scale), both of intensities that the estimator is not told.
 */

const readingsPerSecond = 80;
const turnsPerSecond = 0.75;
const turns = 25;
const lagSeconds = 0.25;
/** Readings from here on hold an even flow. */
const onsetSeconds = 1.2;
const readings = Math.round((turns / turnsPerSecond) * readingsPerSecond);
const gramsPerTurn = 3.47;
/** Parts of the run after which the rate is looked at. */
export const looks = [0.2, 0.5, 1] as const;

export interface Regime {
  /** Variance of the catch per gram that the plan foretells, grams. */
  foretoldLumpiness: number;
  /** Noise of a reading of the standing scale and of one while the wheel turns, grams RMS. */
  standingNoise: number;
  turningNoise: number;
}

/** A mix of 0.024 g a seed, or clover of 0.0024 g under a scale that the wheel shakes badly. */
export const regimes = {
  'white noise dominates': { foretoldLumpiness: 0.0024, standingNoise: 0.5, turningNoise: 2 },
  'both alike': { foretoldLumpiness: 0.024, standingNoise: 0.2, turningNoise: 0.5 },
  'seeds dominate': { foretoldLumpiness: 0.024, standingNoise: 0.03, turningNoise: 0.05 },
} satisfies Record<string, Regime>;

/** True intensities: variance per turn and variance of a reading. */
export interface Intensities {
  walk: number;
  white: number;
}

/** Turns that the mass of the readings up to `count` comes from, as far as flow is even. */
function sources(count: number): number[] {
  const from = Math.ceil(onsetSeconds * readingsPerSecond);
  return Array.from(
    { length: count - from + 1 },
    (_, index) => ((from + index) / readingsPerSecond - lagSeconds) * turnsPerSecond,
  );
}

/**
 * Generalized least squares for the slope with offset and slope unknown and the intensities known, reading by reading: the best that can be done, and
 * with Gaussian noise its variance is the Cramér-Rao bound. Written apart from the estimator under test, in information form.
 */
export class ExactSlope {
  private level = 0;
  private slope = 0;
  private levelVariance = 1e8;
  private shared = 0;
  private slopeVariance = 1e8;
  private before: number | null = null;
  private readonly noise: Intensities;

  constructor(noise: Intensities) {
    this.noise = noise;
  }

  add(source: number, grams: number): void {
    const step = source - (this.before ?? source);
    this.before = source;
    this.level += step * this.slope;
    this.levelVariance += 2 * step * this.shared + step * step * this.slopeVariance + step * this.noise.walk;
    this.shared += step * this.slopeVariance;
    const variance = this.levelVariance + this.noise.white;
    const [levelGain, slopeGain] = [this.levelVariance / variance, this.shared / variance];
    const surprise = grams - this.level;
    this.level += levelGain * surprise;
    this.slope += slopeGain * surprise;
    this.slopeVariance -= slopeGain * this.shared;
    this.shared -= slopeGain * this.levelVariance;
    this.levelVariance -= levelGain * this.levelVariance;
  }

  get estimate(): { gramsPerTurn: number; variance: number } {
    return { gramsPerTurn: this.slope, variance: this.slopeVariance };
  }
}

/** The same bound from the covariance matrix of the readings up to `count`: the inverse of the information on offset and slope. */
export function denseBound(noise: Intensities, count: number): number {
  const at = sources(count);
  const lower = choleskyOf(
    at.map((a, i) => at.map((b, j) => noise.walk * Math.min(a, b) + (i === j ? noise.white : 0))),
  );
  const ones = solveLower(
    lower,
    at.map(() => 1),
  );
  const slopes = solveLower(lower, at);
  const dot = (a: number[], b: number[]) => a.reduce((sum, value, index) => sum + value * b[index]!, 0);
  const [oo, os, ss] = [dot(ones, ones), dot(ones, slopes), dot(slopes, slopes)];
  return oo / (oo * ss - os * os);
}

function choleskyOf(matrix: number[][]): number[][] {
  const lower = matrix.map((row) => row.map(() => 0));
  for (let i = 0; i < matrix.length; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = matrix[i]![j]!;
      for (let k = 0; k < j; k += 1) sum -= lower[i]![k]! * lower[j]![k]!;
      lower[i]![j] = i === j ? Math.sqrt(sum) : sum / lower[j]![j]!;
    }
  }
  return lower;
}

function solveLower(lower: number[][], right: number[]): number[] {
  const solved: number[] = [];
  for (let i = 0; i < right.length; i += 1) {
    let sum = right[i]!;
    for (let k = 0; k < i; k += 1) sum -= lower[i]![k]! * solved[k]!;
    solved.push(sum / lower[i]![i]!);
  }
  return solved;
}

/** The estimate at one look of one run, with the exact one beside it. */
export interface Look {
  estimate: SlopeEstimate;
  exact: { gramsPerTurn: number; variance: number };
}

/** Lumpiness and white noise as they really are: up to twice or half of what is foretold, as variances. */
function drawn(regime: Regime, uniform: () => number): Intensities {
  const factor = () => 4 ** (uniform() - 0.5);
  return {
    walk: gramsPerTurn * regime.foretoldLumpiness * factor(),
    white: regime.turningNoise ** 2 * factor(),
  };
}

export function oneRun(regime: Regime, seed: number): Look[] {
  const uniform = uniformsFrom(seed * 7919);
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const noise = drawn(regime, uniform);
  const exact = new ExactSlope(noise);
  let state = freshRate({
    // The plan's target, which the drill need not meet.
    expectedGramsPerTurn: gramsPerTurn * (0.8 + 0.5 * uniform()),
    lumpiness: regime.foretoldLumpiness,
    readingVariance: regime.standingNoise ** 2,
  });
  const found: Look[] = [];
  let walked = 0;
  let before = 0;
  for (let reading = 1; reading <= readings; reading += 1) {
    const second = reading / readingsPerSecond;
    const source = Math.max(0, second - lagSeconds) * turnsPerSecond;
    walked += Math.sqrt(noise.walk * (source - before)) * normal();
    before = source;
    const grams = gramsPerTurn * source + walked + Math.sqrt(noise.white) * normal();
    const even = second >= onsetSeconds;
    if (even) exact.add(source, grams);
    state = addToRate(state, reading * 12_500, second * turnsPerSecond, even ? grams : null);
    if (looks.some((part) => Math.round(part * readings) === reading))
      found.push({ estimate: slopeEstimate(state)!, exact: exact.estimate });
  }
  return found;
}

/** What many runs amount to at one look. */
export interface Findings {
  /** Mean square error over the bound; with the chance of the draw taken out by the exact estimates of the same runs; its standard error. */
  overBoundAsDrawn: number;
  overBound: number;
  overBoundError: number;
  /** Share of the 95 % intervals that hold the true slope. */
  holds: number;
  /** Relative to the slope, and its standard error. */
  bias: number;
  biasError: number;
}

export function regimeFindings(name: keyof typeof regimes, runs: number): Findings[] {
  const all = Array.from({ length: runs }, (_, index) => oneRun(regimes[name], index + 1));
  return looks.map((_, look) => findingsOf(all.map((run) => run[look]!)));
}

function findingsOf(all: Look[]): Findings {
  const runs = all.length;
  const mean = (of: (look: Look) => number) => all.reduce((sum, look) => sum + of(look), 0) / runs;
  const bound = mean(({ exact }) => exact.variance);
  const off = ({ estimate }: Look) => estimate.gramsPerTurn - gramsPerTurn;
  const excess = (look: Look) => (off(look) ** 2 - (look.exact.gramsPerTurn - gramsPerTurn) ** 2) / bound;
  const overBound = 1 + mean(excess);
  const overBoundError = Math.sqrt(mean((look) => (excess(look) - overBound + 1) ** 2) / runs);
  const asDrawn = mean((look) => off(look) ** 2) / bound;
  const holds = mean(({ estimate }) => {
    const { weighing, seeds, degreesOfFreedom } = estimate;
    const half = studentQuantile(0.975, degreesOfFreedom) * Math.hypot(weighing, seeds);
    return Number(Math.abs(estimate.gramsPerTurn - gramsPerTurn) <= half);
  });
  const bias = mean(off) / gramsPerTurn;
  const biasError = Math.sqrt((asDrawn * bound) / runs) / gramsPerTurn;
  return { overBoundAsDrawn: asDrawn, overBound, overBoundError, holds, bias, biasError };
}
