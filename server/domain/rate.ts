/**
 * The rate while the wheel turns: slope of mass against turns. Mass lags the turns (seeds fall, the cell responds), so the ratio of
 * totals is low at first and the slope is not. Noise is of two kinds: the scale's own, fresh in each weighing, and the lumpiness of
 * seeds, which adds up. A filter of two numbers (mass now, grams per turn) weighs both; it keeps no history.
 *
 * Source: R. E. Kalman, J. Basic Eng. 82 (1960) 35-45; local linear trend with the slope constant, turns in place of time.
 */

/** What the estimator is told before the run. */
export interface RateKnowledge {
  /** Grams per turn to expect, more than 0: sets the lumpiness until the run itself has shown a slope. */
  expectedGramsPerTurn: number;
  /** Mass-weighted mean mass of one seed, grams. */
  seedMass: number;
  /** Standard deviation of the scale's noise in a mean over one tenth of a second, grams. */
  batchNoise: number;
}

export interface RateState {
  /** Mean turns and grams of the batch now filling. */
  open: { number: number; readings: number; turns: number; grams: number } | null;
  /** The filter after the newest full batch; null before the first. */
  filter: Filter | null;
}

interface Filter {
  turns: number;
  firstTurns: number;
  grams: number;
  gramsPerTurn: number;
  /** Variances and covariance of grams and gramsPerTurn. */
  varGrams: number;
  covariance: number;
  varSlope: number;
  /** Sum and number of squared surprises, each in units of its own variance: more than 1 on average means more noise than told. */
  surprise: number;
  surprises: number;
}

export const unknownRate: RateState = { open: null, filter: null };

/** How far from the expected rate the true one may lie: as good as anywhere. */
const vagueFactor = 100;
const batchMicros = 100_000;

/** Slope and its doubt, grams per turn, both parts as standard deviations. */
export interface SlopeEstimate {
  gramsPerTurn: number;
  weighing: number;
  seeds: number;
  /** Mass now, smoothed, grams. */
  grams: number;
  gramsDoubt: number;
}

/**
 * The state after one more reading. `micros`: board time, never going back. Readings must be left out until seed arrives evenly
 * (fall time and response of the scale after the first turn).
 */
export function addToRate(
  state: RateState,
  knowledge: RateKnowledge,
  micros: number,
  turns: number,
  grams: number,
): RateState {
  const number = Math.floor(micros / batchMicros);
  const { open } = state;
  if (open !== null && open.number === number) {
    return {
      filter: state.filter,
      open: { number, readings: open.readings + 1, turns: open.turns + turns, grams: open.grams + grams },
    };
  }
  const fresh = { number, readings: 1, turns, grams };
  if (open === null) {
    return { filter: state.filter, open: fresh };
  }
  const batch = { turns: open.turns / open.readings, grams: open.grams / open.readings };
  return { filter: filtered(state.filter, knowledge, batch.turns, batch.grams), open: fresh };
}

function filtered(filter: Filter | null, knowledge: RateKnowledge, turns: number, grams: number): Filter {
  const noise = knowledge.batchNoise ** 2;
  if (filter === null) {
    return {
      turns,
      firstTurns: turns,
      grams,
      gramsPerTurn: knowledge.expectedGramsPerTurn,
      varGrams: noise,
      covariance: 0,
      varSlope: (vagueFactor * knowledge.expectedGramsPerTurn) ** 2,
      surprise: 0,
      surprises: 0,
    };
  }
  const step = Math.max(0, turns - filter.turns);
  const lumps = Math.max(filter.gramsPerTurn, 0) * knowledge.seedMass * step;
  const expected = filter.grams + filter.gramsPerTurn * step;
  const varExpected = filter.varGrams + step * (2 * filter.covariance + step * filter.varSlope) + lumps;
  const covariance = filter.covariance + step * filter.varSlope;
  const spread = varExpected + noise;
  if (!(spread > 0)) {
    return { ...filter, turns: filter.turns + step, grams };
  }
  const error = grams - expected;
  const known = filter.surprises > 0 || filter.varSlope < knowledge.expectedGramsPerTurn ** 2;
  return {
    turns: filter.turns + step,
    firstTurns: filter.firstTurns,
    grams: expected + (varExpected / spread) * error,
    gramsPerTurn: filter.gramsPerTurn + (covariance / spread) * error,
    varGrams: (varExpected * noise) / spread,
    covariance: (covariance * noise) / spread,
    varSlope: Math.max(0, filter.varSlope - covariance ** 2 / spread),
    surprise: filter.surprise + (known ? error ** 2 / spread : 0),
    surprises: filter.surprises + (known ? 1 : 0),
  };
}

/** Fewest batches behind a slope that is shown. */
const fewestSurprises = 5;

/**
 * The slope so far, or null while there is too little to state one. Where the run is noisier than foretold, the doubt grows with it;
 * where it is calmer, the doubt stays.
 */
export function slopeEstimate(state: RateState, knowledge: RateKnowledge): SlopeEstimate | null {
  const { filter } = state;
  if (filter === null || filter.surprises < fewestSurprises || !(filter.gramsPerTurn > 0)) {
    return null;
  }
  const excess = Math.max(1, filter.surprise / filter.surprises);
  const done = filter.turns - filter.firstTurns;
  const total = filter.varSlope * excess;
  const seeds = Math.min(total, (filter.gramsPerTurn * knowledge.seedMass) / done);
  return {
    gramsPerTurn: filter.gramsPerTurn,
    weighing: Math.sqrt(total - seeds),
    seeds: Math.sqrt(seeds),
    grams: filter.grams,
    gramsDoubt: Math.sqrt(filter.varGrams * excess),
  };
}
