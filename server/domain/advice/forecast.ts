import type { Candidate } from './choice.ts';
import { meanOf, rateAt, slopeAt, varianceOf } from './curve.ts';
import { normalProbability } from './normal.ts';
import type { CurvePosterior } from './posterior.ts';
import type { AdviceRequest, StopLimit } from './types.ts';

/** How many more runs it will take, and what forbids it when none suffice. */

/** More runs than this nobody makes. */
export const mostRuns = 20;

/** What testing on can bring. */
export interface Forecast {
  /** Fewest runs after which the wanted confidence is to be expected, or null when `mostRuns` are not enough. */
  moreRuns: number | null;
  /** What stands in the way; null when nothing does. */
  limit: StopLimit | null;
  /** Probability that can be expected after very many runs. */
  ceiling: number;
}

/** What decides the probability at a setting; all relative to the target, variances but for `tolerance`, `off`. */
interface Balance {
  tolerance: number;
  /** How far the rate there is believed to lie off the target. */
  off: number;
  /** Doubt that runs can take away. */
  reducible: number;
  /** Of one more run. */
  run: number;
  /** A step of the scale. */
  step: number;
  leverPlay: number;
  common: number;
  rows: number;
}

/** Relative variance of a planned run's own doubt: the mean of those made, seed sampling and weighing scaled to the planned turns. */
function plannedVariance(curve: CurvePosterior, request: AdviceRequest): number {
  const own = curve.gathered.evidence.filter(({ group }) => group === null);
  if (own.length === 0) return request.prior.repeatability ** 2;
  const sum = own.reduce((total, each) => total + (each.variance * each.turns) / request.plannedTurns, 0);
  return sum / own.length;
}

function balanceAt(curve: CurvePosterior, request: AdviceRequest, candidate: Candidate): Balance {
  const target = request.target.rate;
  const parts = rateAt(curve, candidate.setting, candidate.stays ? 'standing' : 'anew', false);
  const slope = meanOf(slopeAt(curve, candidate.setting)) / target;
  // The typical spread, not the mean square: while little is known, a few wild components would rule that.
  const typical = curve.components.reduce((sum, each) => sum + each.weight * Math.log(each.repeatability), 0);
  return {
    tolerance: request.target.tolerance,
    off: Math.abs(meanOf(parts) / target - 1),
    reducible: varianceOf(parts) / target ** 2,
    run: Math.exp(2 * typical) + plannedVariance(curve, request),
    step: (slope * request.scale.step) ** 2 / 12,
    leverPlay: (slope * request.scale.leverPlay) ** 2,
    common: request.common.standard ** 2,
    rows: (request.rows ?? 0) ** 2,
  };
}

/**
 * Probability to be expected after `runs` more runs (0 to Infinity). The doubt falls as 1/(1/V + n/s²). What is learnt moves the setting,
 * but only as finely as step and lever allow; how far the rate lies off now counts as far as it is surely so.
 */
function expectedChance(balance: Balance, runs: number): number {
  const { tolerance, off, reducible, run, step, leverPlay, common, rows } = balance;
  const left = runs === Number.POSITIVE_INFINITY ? 0 : 1 / (1 / (reducible + 1e-15) + runs / run);
  const away = off * Math.sqrt(step / (step + reducible + 1e-15));
  const unsettled = Math.min(reducible - left, step + leverPlay);
  const spread = Math.sqrt(left + unsettled + common + rows) + 1e-12;
  return normalProbability((tolerance - away) / spread) - normalProbability((-tolerance - away) / spread);
}

/** The one doubt whose absence would raise the ceiling most. */
function bindingLimit(balance: Balance): StopLimit {
  const without: [StopLimit, Balance][] = [
    ['step', { ...balance, step: 0 }],
    ['lever-play', { ...balance, leverPlay: 0 }],
    ['rows', { ...balance, rows: 0 }],
    ['common', { ...balance, common: 0 }],
  ];
  const ceilings = without.map(([limit, each]): [StopLimit, number] => [
    limit,
    expectedChance(each, Number.POSITIVE_INFINITY),
  ]);
  return ceilings.reduce((most, each) => (each[1] > most[1] ? each : most))[0];
}

/** What testing on at `candidate` can bring, from what is believed now. */
export function forecast(curve: CurvePosterior, request: AdviceRequest, candidate: Candidate): Forecast {
  const { confidence } = request.target;
  const balance = balanceAt(curve, request, candidate);
  const ceiling = expectedChance(balance, Number.POSITIVE_INFINITY);
  if (ceiling < confidence) return { moreRuns: null, limit: bindingLimit(balance), ceiling };
  for (let runs = 1; runs <= mostRuns; runs += 1) {
    if (expectedChance(balance, runs) >= confidence) return { moreRuns: runs, limit: null, ceiling };
  }
  return { moreRuns: null, limit: 'noise', ceiling };
}
