import type { MassBatch } from './rate-batch.ts';
import {
  type FilterState,
  freshFilter,
  metered,
  type Noise,
  type SwingTurn,
  swingTurn,
  weighed,
  weighedAtRest,
} from './rate-filter.ts';
import type { Doubt } from './statistics.ts';

/**
 * Filters side by side, one for each hypothesis about how the noise divides into lumps of seed, white noise and swing. How well each foretells
 * the readings weighs it; the common factor of its intensities is found along with it (conjugate inverse-gamma prior). Source: D. T. Magill, IEEE
 * Trans. Automatic Control 10 (1965) 434-439 (bank of filters); for the unknown factor any textbook of the Bayesian linear model.
 */

/** What is known of the noise before the wheel turns. */
export interface NoiseKnowledge {
  /** Grams per turn to expect, more than 0: order of magnitude. */
  expectedGramsPerTurn: number;
  /** Variance of a catch per gram caught when seeds arrive independently, more than 0, grams (`lumpiness`). */
  lumpiness: number;
  /** Variance of one reading of the standing scale, grams². */
  readingVariance: number;
}

/** One hypothesis and what the run has made of it. */
export interface Hypothesis {
  readonly noise: Noise;
  readonly logPrior: number;
  readonly filter: FilterState;
  /** Sums over the innovations: log of variance, and square over variance. */
  readonly logVariances: number;
  readonly squares: number;
}

/** All hypotheses, and how many batches they have seen. */
export interface BankState {
  readonly hypotheses: readonly Hypothesis[];
  /** Batches beyond those that rate and offset use up. */
  readonly batches: number;
}

/** How far the seeds' lumpiness may be from what is foretold, and the scale's noise while turning from `turningNoise`: spreads of the logarithm. */
const lumpSpread = 0.5;
const whiteSpread = 1.5;
/** White noise while the wheel turns as a multiple of that of the standing scale, before the run has shown it. */
const turningNoise = 6;
/** A scale less noisy than this is not believed, grams RMS a reading. */
const leastNoise = 0.005;

/** Steps of the ratio of lumpiness to white noise either way from the foretold one, and factor from step to step. */
const stepsDown = 6;
const stepsUp = 3;
const stepFactor = 3;
/** Shares of the scale's noise (as it is in one batch) that are swing, and how often a bag on a short or long line swings. */
const swings = [
  { share: 0, hertz: 1, weight: 0.5 },
  ...[0.75, 1.05, 1.45, 2].map((hertz) => ({ share: 0.8, hertz, weight: 0.5 / 4 })),
];
/** Readings in a batch, roughly: only sets how much swing the shares mean. */
const usualReadings = 10;

/** The common factor's prior counts as so many readings: the spread that is left to it once the ratio is given. */
const ratioVariance = lumpSpread ** 2 + whiteSpread ** 2;
const priorReadings = (2 * ratioVariance) / (lumpSpread * whiteSpread) ** 2;

/** The hypotheses before the wheel turns: every ratio of the noises with every swing. */
export function freshBank(knowledge: NoiseKnowledge): BankState {
  const hypotheses: Hypothesis[] = [];
  for (let step = -stepsDown; step <= stepsUp; step += 1) {
    for (const swing of swings) {
      hypotheses.push(freshHypothesis(knowledge, step * Math.log(stepFactor), swing));
    }
  }
  return { hypotheses, batches: -2 };
}

/**
 * `logRatio`: logarithm of the ratio of lumpiness to scale's noise over the foretold ratio. Of all pairs with that ratio the likeliest is taken
 * (both logarithms normal), so that the common factor is near 1.
 */
function freshHypothesis(
  knowledge: NoiseKnowledge,
  logRatio: number,
  swing: (typeof swings)[number],
): Hypothesis {
  const foretold = knowledge.expectedGramsPerTurn * knowledge.lumpiness;
  const turning = turningNoise * Math.max(knowledge.readingVariance, leastNoise ** 2);
  const perTurn = foretold * Math.exp((logRatio * lumpSpread ** 2) / ratioVariance);
  const scale = turning * Math.exp((-logRatio * whiteSpread ** 2) / ratioVariance);
  const noise = {
    perTurn,
    white: scale * (1 - swing.share),
    swing: (scale / usualReadings) * swing.share,
    swingHertz: swing.hertz,
  };
  return {
    noise,
    logPrior: Math.log(swing.weight) - logRatio ** 2 / (2 * ratioVariance),
    filter: freshFilter(knowledge.expectedGramsPerTurn, noise),
    logVariances: 0,
    squares: 0,
  };
}

/** The bank after one more batch. */
export function addToBank(bank: BankState, batch: MassBatch): BankState {
  const turns: SwingTurn[] = [];
  const hypotheses: Hypothesis[] = [];
  for (const { noise, logPrior, filter: before, logVariances, squares } of bank.hypotheses) {
    const { filter, innovation } = weighed(before, noise, batch, turnOf(turns, noise, batch));
    hypotheses.push({
      noise,
      logPrior,
      filter,
      logVariances: logVariances + Math.log(innovation.variance),
      squares: squares + innovation.grams ** 2 / innovation.variance,
    });
  }
  return { hypotheses, batches: bank.batches + 1 };
}

/** The turn of this hypothesis' swing, from the few that have been worked out for this batch or worked out now. */
function turnOf(turns: SwingTurn[], { swingHertz }: Noise, { seconds }: MassBatch): SwingTurn {
  for (const turn of turns) if (turn.swingHertz === swingHertz) return turn;
  const turn = swingTurn(swingHertz, seconds);
  turns.push(turn);
  return turn;
}

/**
 * The bank after the catch was weighed at rest, the wheel having gone on by `turns`: `grams` with `variance` (grams², both weighings). Says
 * nothing about the noise of the run, so that the weights stay.
 */
export function addCatchToBank(bank: BankState, turns: number, grams: number, variance: number): BankState {
  const hypotheses = bank.hypotheses.map((each) => {
    const inUnits = Math.max(variance / factorOf(each, bank.batches), 1e-12);
    return { ...each, filter: weighedAtRest(metered(each.filter, each.noise, turns), grams, inUnits) };
  });
  return { ...bank, hypotheses };
}

const readingsBehind = (batches: number) => priorReadings + Math.max(0, batches);

/** The common factor of a hypothesis' intensities, as the prior and its innovations show it. */
export function factorOf(hypothesis: Hypothesis, batches: number): number {
  return (priorReadings + hypothesis.squares) / readingsBehind(batches);
}

/** Weights of the hypotheses, sum 1: prior times marginal likelihood. */
export function weightsOf(bank: BankState): number[] {
  const readings = readingsBehind(bank.batches);
  const logs = bank.hypotheses.map(
    ({ logPrior, logVariances, squares }) =>
      logPrior - logVariances / 2 - (readings / 2) * Math.log(priorReadings + squares),
  );
  const most = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - most));
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return weights.map((weight) => weight / sum);
}

/** A quantity as the whole bank sees it. */
export interface Pooled {
  mean: number;
  doubt: Doubt;
}

/**
 * Mean of a quantity over the bank and its doubt. `of`: its mean and its variance (in units of the common factor) under one hypothesis. Stated as a
 * scaled t: the one whose unknown variance has the mean and the spread that the bank gives it. Source: moments of the inverse-gamma
 * distribution, any textbook of Bayesian statistics.
 */
export function pool(
  bank: BankState,
  of: (hypothesis: Hypothesis) => { mean: number; variance: number },
): Pooled {
  const weights = weightsOf(bank);
  const readings = readingsBehind(bank.batches);
  const values = bank.hypotheses.map(of);
  const mean = values.reduce((sum, value, index) => sum + weights[index]! * value.mean, 0);
  let first = 0;
  let second = 0;
  for (const [index, value] of values.entries()) {
    const factor = (priorReadings + bank.hypotheses[index]!.squares) / (readings - 2);
    const own = value.variance * factor;
    const apart = (value.mean - mean) ** 2;
    first += weights[index]! * (own + apart);
    second += weights[index]! * ((own + apart) ** 2 + (2 * own ** 2) / (readings - 4));
  }
  const degreesOfFreedom = 4 + 2 / (second / first ** 2 - 1);
  const standard = Math.sqrt((first * (degreesOfFreedom - 2)) / degreesOfFreedom);
  return { mean, doubt: { standard, degreesOfFreedom } };
}

/** Standard deviation of the scale's noise over `readings` readings, grams: the mean of its variance over the bank. */
export function scaleNoise(bank: BankState, readings: number): number {
  const weights = weightsOf(bank);
  const variance = bank.hypotheses.reduce(
    (sum, each, index) =>
      sum + weights[index]! * factorOf(each, bank.batches) * (each.noise.white / readings + each.noise.swing),
    0,
  );
  return Math.sqrt(variance);
}
