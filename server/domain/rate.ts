import {
  addCatchToBank,
  addToBank,
  type BankState,
  freshBank,
  type NoiseKnowledge,
  pool,
  scaleNoise,
} from './rate-bank.ts';
import { addToBatches, type BatchState, noBatches } from './rate-batch.ts';
import { rateOf } from './rate-filter.ts';

/**
 * The rate while the wheel turns, and at the end: the slope of mass against turns. Mass lags the turns (seeds fall, the scale responds), so the
 * ratio of totals is low at first; a slope is not. Noise is of two kinds, the scale's own and the lumpiness of seeds, which adds up; how much
 * there is of each comes from the run itself, starting from what is known before. Memory and time for each reading are constant.
 */

/** All that is kept of the readings of a run: plain data of constant size. */
export interface RateState {
  readonly batches: BatchState;
  readonly bank: BankState;
  /** Turns to which the first batch goes back; null before there is one. */
  readonly firstTurns: number | null;
}

/** What is known of seed and scale before the wheel turns. */
export type RateKnowledge = NoiseKnowledge;

/** The state before the first reading in which the wheel moved. */
export function freshRate(knowledge: RateKnowledge): RateState {
  return { batches: noBatches, bank: freshBank(knowledge), firstTurns: null };
}

/**
 * The state after one more reading, beginning with the first that the wheel moved in: `micros` of board time, never going back, `turns` since the
 * start, and `grams` since the start, or null where the scale gave no good value and until seed arrives evenly (fall and response of the scale).
 */
export function addToRate(state: RateState, micros: number, turns: number, grams: number | null): RateState {
  const { state: batches, batch } = addToBatches(state.batches, micros, turns, grams);
  if (batch === null) {
    return { batches, bank: state.bank, firstTurns: state.firstTurns };
  }
  const firstTurns = state.firstTurns ?? batches.followed - batch.widthTurns;
  return { batches, bank: addToBank(state.bank, batch), firstTurns };
}

/** Slope and its doubt, grams per turn, the two parts as standard deviations. */
export interface SlopeEstimate {
  gramsPerTurn: number;
  weighing: number;
  seeds: number;
  /** Degrees of freedom of both. */
  degreesOfFreedom: number;
}

/** Turns and batches that a slope must stand on. */
const fewestTurns = 0.5;
const fewestBatches = 8;

/** The slope so far, or null while there is too little to state one. */
export function slopeEstimate(state: RateState): SlopeEstimate | null {
  const turns = turnsFollowed(state);
  if (turns < fewestTurns || state.bank.batches < fewestBatches) {
    return null;
  }
  return estimateOver(state.bank, turns);
}

function turnsFollowed({ batches, firstTurns }: RateState): number {
  return firstTurns === null ? 0 : batches.followed - firstTurns;
}

function estimateOver(bank: BankState, turns: number): SlopeEstimate | null {
  const { mean, doubt } = pool(bank, ({ filter }) => rateOf(filter));
  if (!(mean > 0)) {
    return null;
  }
  const walk = pool(bank, ({ noise }) => ({ mean: 0, variance: noise.perTurn / turns }));
  // What lumps of seed leave uncertain however well one weighs: for a random walk the end points hold all there is to know.
  const seeds = Math.min(walk.doubt.standard, doubt.standard);
  return {
    gramsPerTurn: mean,
    weighing: Math.sqrt(doubt.standard ** 2 - seeds ** 2),
    seeds,
    degreesOfFreedom: doubt.degreesOfFreedom,
  };
}

/** Standard deviation of the scale's noise over `readings` readings (1 or more) while the wheel turns, grams. */
export function noiseWhileTurning(state: RateState, readings: number): number {
  return scaleNoise(state.bank, readings);
}

/** The rate of a whole run: all readings, and the catch weighed at rest after `turns`, `standard` being the doubt of the two weighings. */
export function settledEstimate(
  state: RateState,
  turns: number,
  caught: number,
  standard: number,
): SlopeEstimate | null {
  const left = Math.max(0, turns - state.batches.followed);
  return estimateOver(addCatchToBank(state.bank, left, caught, standard ** 2), turns);
}
