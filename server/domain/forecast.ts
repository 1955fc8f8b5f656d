import type { RateState } from './rate.ts';
import { pool } from './rate-bank.ts';
import { massAfter } from './rate-filter.ts';
import { type Doubt, studentProbability } from './statistics.ts';

/** What will lie in the bag when the wheel has made its turns, as far as the run has shown. */
export interface CatchForecast {
  grams: number;
  /** Of seeds to come, of the rate so far, and of the weighing at the end. */
  doubt: Doubt;
}

/** Turns and batches of even flow that a forecast must stand on. */
const fewestTurns = 0.5;
const fewestBatches = 5;

/**
 * Forecast of the catch after `turns` since the start, weighed at rest with the standard doubt `weighing` (grams). Null while there is too little
 * to go by. For turns already made it is what they should have given.
 */
export function forecastCatch(state: RateState, turns: number, weighing: number): CatchForecast | null {
  const { batches, bank, firstTurns } = state;
  if (firstTurns === null || bank.batches < fewestBatches || batches.followed - firstTurns < fewestTurns) {
    return null;
  }
  const left = Math.max(0, turns - batches.followed);
  const { mean, doubt } = pool(bank, ({ filter, noise }) => massAfter(filter, noise, left));
  const standard = Math.hypot(doubt.standard, weighing);
  return { grams: mean, doubt: { standard, degreesOfFreedom: doubt.degreesOfFreedom } };
}

/** Probability that the catch will lie from `low` to `high` grams. */
export function chanceWithin({ grams, doubt }: CatchForecast, low: number, high: number): number {
  const below = (limit: number) =>
    studentProbability((limit - grams) / doubt.standard, doubt.degreesOfFreedom);
  return Math.max(0, below(high) - below(low));
}
