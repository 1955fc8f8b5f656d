/**
 * The rate while the wheel turns: slope of mass against turns. Mass lags the turns (seeds fall, the scale responds), so the ratio of
 * totals is low at first; the difference of two moments of even flow is not, for the lag is the same at both. Noise is of two kinds:
 * the scale's own, fresh in each weighing, and the lumpiness of seeds, which adds up. How much there is of each comes from the run
 * itself, starting from what is known before. Nothing is kept but sums.
 *
 * The slope is that from the first to the newest half second. Where lumpiness rules, as it does with seed, no slope is much better
 * (for a random walk the end points hold all there is to know). A better estimator would replace this file: what it keeps is in
 * `RateState`, what it tells in `SlopeEstimate`.
 */

/** What is known before the wheel turns. */
export interface RateKnowledge {
  /** Grams per turn to expect, more than 0: sets the lumpiness until the run itself has shown a slope. */
  expectedGramsPerTurn: number;
  /** Variance of a catch per gram caught when seeds arrive independently, grams (`lumpiness`). */
  lumpiness: number;
  /** Variance of the scale's noise in a mean over `batchMicros`, from the standing scale, grams². */
  noiseVariance: number;
}

/** Mean turns and grams of the readings in one half second. */
interface Point {
  turns: number;
  grams: number;
}

export interface RateState {
  /** The batch now filling. */
  open: { number: number; readings: number; turns: number; grams: number } | null;
  first: Point | null;
  newest: Point | null;
  /** Sums over the steps from batch to batch: number, turns², turns x grams, grams², and each with the step before it. */
  steps: StepSums;
  lastStep: Point | null;
}

interface StepSums {
  count: number;
  turnsTurns: number;
  turnsGrams: number;
  gramsGrams: number;
  pairs: number;
  pairTurnsTurns: number;
  pairTurnsGrams: number;
  pairGramsGrams: number;
}

/** Long enough that a swinging bag (1 to 2 Hz) goes through most of a swing within it. */
export const batchMicros = 500_000;

const noSteps: StepSums = {
  count: 0,
  turnsTurns: 0,
  turnsGrams: 0,
  gramsGrams: 0,
  pairs: 0,
  pairTurnsTurns: 0,
  pairTurnsGrams: 0,
  pairGramsGrams: 0,
};

export const unknownRate: RateState = {
  open: null,
  first: null,
  newest: null,
  steps: noSteps,
  lastStep: null,
};

/** Slope and its doubt, grams per turn, the two parts as standard deviations. */
export interface SlopeEstimate {
  gramsPerTurn: number;
  weighing: number;
  seeds: number;
  /** Degrees of freedom of both. */
  degreesOfFreedom: number;
  /** Standard deviation of the scale's noise over half a second while the wheel turns, grams. */
  noise: number;
}

/**
 * The state after one more reading: `micros` of board time, never going back, `turns` and `grams` since the start. To be fed once
 * seed arrives evenly (fall time and response of the scale after the first turn). Constant time and memory.
 */
export function addToRate(state: RateState, micros: number, turns: number, grams: number): RateState {
  const number = Math.floor(micros / batchMicros);
  const { open } = state;
  if (open !== null && open.number === number) {
    const { readings } = open;
    return {
      ...state,
      open: { number, readings: readings + 1, turns: open.turns + turns, grams: open.grams + grams },
    };
  }
  const fresh = { ...state, open: { number, readings: 1, turns, grams } };
  return open === null
    ? fresh
    : withPoint(fresh, { turns: open.turns / open.readings, grams: open.grams / open.readings });
}

function withPoint(state: RateState, point: Point): RateState {
  const { newest, lastStep, steps } = state;
  if (newest === null) {
    return { ...state, first: point, newest: point };
  }
  const step = { turns: point.turns - newest.turns, grams: point.grams - newest.grams };
  return { ...state, newest: point, lastStep: step, steps: withStep(steps, step, lastStep) };
}

function withStep(sums: StepSums, step: Point, before: Point | null): StepSums {
  const next = {
    ...sums,
    count: sums.count + 1,
    turnsTurns: sums.turnsTurns + step.turns ** 2,
    turnsGrams: sums.turnsGrams + step.turns * step.grams,
    gramsGrams: sums.gramsGrams + step.grams ** 2,
  };
  if (before === null) {
    return next;
  }
  return {
    ...next,
    pairs: sums.pairs + 1,
    pairTurnsTurns: sums.pairTurnsTurns + step.turns * before.turns,
    pairTurnsGrams: sums.pairTurnsGrams + (step.turns * before.grams + before.turns * step.grams) / 2,
    pairGramsGrams: sums.pairGramsGrams + step.grams * before.grams,
  };
}

/** The variance known before counts for as much as that of so many steps of the run. */
const priorSteps = 20;
/** Turns and steps that a slope must stand on. */
const fewestTurns = 0.5;
const fewestSteps = 4;

/** The slope so far, or null while there is too little to state one. */
export function slopeEstimate(state: RateState, knowledge: RateKnowledge): SlopeEstimate | null {
  const { first, newest, steps } = state;
  if (first === null || newest === null || steps.count < fewestSteps) {
    return null;
  }
  const turns = newest.turns - first.turns;
  const gramsPerTurn = (newest.grams - first.grams) / turns;
  if (!(turns >= fewestTurns) || !(gramsPerTurn > 0)) {
    return null;
  }
  const noise = noiseOf(steps, gramsPerTurn, turns, knowledge);
  return {
    gramsPerTurn,
    weighing: Math.sqrt(2 * noise.scale) / turns,
    seeds: Math.sqrt(noise.perTurn / turns),
    degreesOfFreedom: priorSteps + steps.count - 1,
    noise: Math.sqrt(noise.scale),
  };
}

/**
 * Variance of the scale's noise in one batch, and of the lumpiness per turn, by the method of moments. A step from batch to batch,
 * less the slope, has the variance 2 r + 2/3 q and with the step before it the covariance -r + 1/6 q, r the scale's noise and q the
 * lumpiness of a step (a random walk averaged over each batch); so variance plus twice covariance is q.
 */
function noiseOf(steps: StepSums, slope: number, turns: number, knowledge: RateKnowledge) {
  const variance =
    (steps.gramsGrams - 2 * slope * steps.turnsGrams + slope ** 2 * steps.turnsTurns) / steps.count;
  const covariance =
    (steps.pairGramsGrams - 2 * slope * steps.pairTurnsGrams + slope ** 2 * steps.pairTurnsTurns) /
    steps.pairs;
  const stepsPerTurn = steps.count / turns;
  // Towards the expected rate at first: a slope that is off must not make its own doubt look small.
  const likelySlope = (knowledge.expectedGramsPerTurn + slope * turns) / (1 + turns);
  const foretold = likelySlope * knowledge.lumpiness;
  const seen = Math.max(0, variance + 2 * covariance) * stepsPerTurn;
  const perTurn = (priorSteps * foretold + steps.count * seen) / (priorSteps + steps.count);
  const scale = Math.max(knowledge.noiseVariance, perTurn / stepsPerTurn / 6 - covariance);
  return { scale, perTurn };
}
