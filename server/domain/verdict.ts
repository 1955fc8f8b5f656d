import { type CatchForecast, chanceWithin } from './forecast.ts';
import { halfWidth } from './statistics.ts';

/** What the forecast says of a run: go on, or there is no point in it. An offer to a person, never an act. */

export const verdictKinds = [
  'open', // too early to tell
  'too-little', // the run will end below the tolerance band, as good as surely
  'too-much', // above it
  'enough', // more turns would hardly tell more than is known already
] as const;
/** One thing that a forecast can say of a run. */
export type VerdictKind = (typeof verdictKinds)[number];

/** A verdict on a run, with the figures behind it. */
export interface Verdict {
  kind: VerdictKind;
  /** Probability that the run will end inside the band. */
  chanceInside: number;
  /** Rate wanted over the present rate: what the delivery has to be multiplied by. By the rule of proportion. */
  factor: number;
}

/** The catch that is wanted at the preset turns: target and band, grams. */
export interface CatchBand {
  target: number;
  low: number;
  high: number;
}

/**
 * A run with less chance than this of ending inside the band is called. A third of 1 %: a run is looked at a hundred times and more, and one bad
 * look is enough to call it, so that 1 % at each look would call 7 in 1000 of the runs that would have passed.
 */
const leastChance = 0.003;

/** The forecast is narrow enough when its 95 % interval reaches either way no farther than this share of the band's half-width. */
const enoughShare = 0.5;

/** The verdict on a run with this forecast. `band.low` < `band.target` < `band.high`; the forecast's mean more than 0. */
export function verdictOn(forecast: CatchForecast, band: CatchBand): Verdict {
  const chanceInside = chanceWithin(forecast, band.low, band.high);
  const factor = band.target / forecast.grams;
  if (chanceInside < leastChance) {
    return { kind: forecast.grams < band.target ? 'too-little' : 'too-much', chanceInside, factor };
  }
  const needed = (enoughShare * (band.high - band.low)) / 2;
  const enough = halfWidth(forecast.doubt, 0.95) <= needed;
  return { kind: enough ? 'enough' : 'open', chanceInside, factor };
}
