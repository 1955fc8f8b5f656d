import { decide } from '../../server/domain/advice/decide.ts';
import { type CurvePosterior, curvePosterior } from '../../server/domain/advice/posterior.ts';
import type { AdviceRequest, CalibrationRun, StopVerdict } from '../../server/domain/advice/types.ts';
import { gramsPerSquareMetre, turns } from '../../server/domain/units.ts';
import { type ImaginedDrill, LeverAtWork } from './drills.ts';

/** Ways of finding the setting of an imagined drill, each beginning at its first guess. */

/** How a way ended. */
export interface Ending {
  /** Runs made. */
  runs: number;
  /** `limited`: ended with the word that step, lever or drill forbid more; `never`: gave up after `mostTries`. */
  how: 'done' | 'limited' | 'never';
  /** True rate of the drill as it was left, relative to the target, less 1. */
  error: number;
}

export const tolerance = 0.02;
export const confidence = 0.9;
export const mostTries = 15;

/** Keeps a setting on the drill's scale and on its marks. */
function toMark(drill: ImaginedDrill, setting: number): number {
  const steps = Math.round(Math.min(drill.high, Math.max(0, setting)) / drill.step);
  return Math.max(drill.step, Number((steps * drill.step).toFixed(9)));
}

function ended(lever: LeverAtWork, runs: number, how: Ending['how']): Ending {
  return { runs, how, error: lever.trueRate() / lever.drill.target - 1 };
}

type Seen = { setting: number; rate: number }[];

/** Runs until the first one within tolerance; `following` gives the next setting from what was seen. */
function untilFirstHit(
  drill: ImaginedDrill,
  weigh: (lever: LeverAtWork) => number,
  following: (seen: Seen) => number,
): Ending {
  const lever = new LeverAtWork(drill);
  const seen: Seen = [];
  let setting = drill.firstGuess;
  for (let run = 1; run <= mostTries; run += 1) {
    lever.moveTo(setting);
    const rate = weigh(lever);
    seen.push({ setting, rate });
    if (Math.abs(rate / drill.target - 1) <= tolerance) return ended(lever, run, 'done');
    setting = toMark(drill, following(seen));
  }
  return ended(lever, mostTries, 'never');
}

const last = (seen: Seen) => seen[seen.length - 1]!;

/** New setting = old setting x target / rate. */
const proportion = (target: number) => (seen: Seen) => {
  const { setting, rate } = last(seen);
  return rate > 0 ? (setting * target) / rate : 2 * setting;
};

/** The line through the last two runs; proportion while there is but one, or where the two stand at one setting or fall. */
const secant = (target: number) => (seen: Seen) => {
  const now = last(seen);
  const before = seen[seen.length - 2];
  const slope = before === undefined ? 0 : (now.rate - before.rate) / (now.setting - before.setting);
  return slope > 0 && Number.isFinite(slope)
    ? now.setting + (target - now.rate) / slope
    : proportion(target)(seen);
};

const standRate = (lever: LeverAtWork) => lever.standRun().rate;

export const byHand = (drill: ImaginedDrill) =>
  untilFirstHit(drill, (lever) => lever.handRun(), proportion(drill.target));
export const proportionOnStand = (drill: ImaginedDrill) =>
  untilFirstHit(drill, standRate, proportion(drill.target));
export const secantOnStand = (drill: ImaginedDrill) => untilFirstHit(drill, standRate, secant(drill.target));

/** What is asked of the advice: it knows the scale, a usual play and a usual repeatability, and never the drill's own. */
export function requestFor(drill: ImaginedDrill, runs: readonly CalibrationRun[]): AdviceRequest {
  return {
    runs,
    scale: {
      low: 0,
      high: drill.high,
      step: drill.step,
      closedAt: 0,
      leverPlay: drill.stated.leverPlay * drill.step,
      configuration: 'the only gear',
      otherConfigurations: [],
    },
    target: { rate: gramsPerSquareMetre(drill.target), tolerance, confidence },
    seed: { bulkDensity: null, seedGrams: null },
    prior: { past: [], chart: null, repeatability: drill.stated.repeatability },
    common: { standard: 0.003, degreesOfFreedom: Number.POSITIVE_INFINITY },
    rows: null,
    plannedTurns: turns(25),
  };
}

/** What the advice said at one moment, and what was so. */
export interface Statement {
  /** Runs made so far. */
  runs: number;
  stop: StopVerdict;
  curve: CurvePosterior;
  request: AdviceRequest;
}

/** Follows the advice until it says done, or that more runs are no use. `heard` gets every statement. */
export function byAdvice(
  drill: ImaginedDrill,
  heard: (statement: Statement, lever: LeverAtWork) => void = () => {},
): Ending {
  const lever = new LeverAtWork(drill);
  const runs: CalibrationRun[] = [];
  let next = { setting: drill.firstGuess, stays: false };
  for (let run = 1; run <= mostTries; run += 1) {
    if (!next.stays) lever.moveTo(next.setting);
    runs.push(standRun(lever, run, next));
    const request = requestFor(drill, runs);
    const curve = curvePosterior(request);
    if (curve === null) {
      // Nothing was caught yet: there is no advice but to open the meter further.
      next = { setting: toMark(drill, 2 * next.setting), stays: false };
      continue;
    }
    const { stop, candidate } = decide(curve, request);
    heard({ runs: run, stop, curve, request }, lever);
    next = candidate;
    if (stop.done || stop.asGoodAsItGets) {
      if (!candidate.stays) lever.moveTo(candidate.setting);
      return ended(lever, run, stop.done ? 'done' : 'limited');
    }
  }
  return ended(lever, mostTries, 'never');
}

function standRun(
  lever: LeverAtWork,
  run: number,
  { setting, stays }: { setting: number; stays: boolean },
): CalibrationRun {
  const { rate, ownDoubt } = lever.standRun();
  return {
    name: `run ${run}`,
    setting,
    configuration: 'the only gear',
    rate: gramsPerSquareMetre(rate),
    doubt: { standard: ownDoubt, degreesOfFreedom: Number.POSITIVE_INFINITY },
    source: 'stand',
    turns: turns(25),
    leverMoved: !stays,
    miscountChance: 0,
    setAside: null,
  };
}
