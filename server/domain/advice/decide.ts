import { bestCandidate, type Candidate, chanceAt } from './choice.ts';
import { probabilityBelow, rateAt, slopeAt } from './curve.ts';
import { fallingRates, ownRuns } from './findings.ts';
import { forecast } from './forecast.ts';
import { type SettingFor, settingFor } from './inverse.ts';
import type { CurvePosterior } from './posterior.ts';
import { nearestMark } from './scale.ts';
import { stopVerdict } from './stop.ts';
import type { AdviceRequest, StopVerdict } from './types.ts';

/** Below this probability that the end of the scale reaches the target, it is called out of reach. */
const outOfReach = 0.05;
/** Probability that the rate rises with the setting, below which the line is not followed. */
const surelyRising = 0.9;
/** Runs at one setting after which it has been looked at often enough. */
const enoughLooks = 3;

/** What is to be done. */
export interface Decision {
  sought: SettingFor;
  candidate: Candidate;
  stop: StopVerdict;
  /** The scale surely does not hold the target. */
  beyondReach: boolean;
}

/** The setting to go on with, and whether testing can end there. The request must have passed `checkRequest`. */
export function decide(curve: CurvePosterior, request: AdviceRequest): Decision {
  const sought = settingFor(curve, request.scale, request.target.rate);
  const candidate = chooseCandidate(curve, request, sought);
  const stop = stopVerdict(curve, request, candidate, forecast(curve, request, candidate));
  return { sought, candidate, stop, beyondReach: !stop.done && isOutOfReach(curve, request, sought) };
}

/** The line's own choice; while it does not surely rise, the setting of the run that came nearest, so that it can be looked at again. */
function chooseCandidate(curve: CurvePosterior, request: AdviceRequest, sought: SettingFor): Candidate {
  const at = sought.setting?.value ?? request.scale.high;
  const rising = 1 - probabilityBelow(slopeAt(curve, at), 0);
  const runs = ownRuns(curve.gathered);
  const settings = new Set(runs.map(({ setting }) => setting)).size;
  const odd = (settings > 1 && rising < surelyRising) || fallingRates(runs, request) !== null;
  if (!odd || runs.length === 0) return bestCandidate(curve, request, sought);
  const far = (rate: number) => Math.abs(Math.log(rate / request.target.rate));
  const nearest = runs.reduce((best, each) => (far(each.rate) < far(best.rate) ? each : best));
  const again = runs.filter((each) => each.setting === nearest.setting).length;
  if (again >= enoughLooks) return bestCandidate(curve, request, sought);
  const setting = nearestMark(request.scale, nearest.setting);
  return { setting, stays: false, probability: chanceAt(curve, request, setting, false), lookAgain: true };
}

/** True when even the end of the scale surely misses the target, and its tolerance. */
function isOutOfReach(curve: CurvePosterior, request: AdviceRequest, { beyond }: SettingFor): boolean {
  const { scale, target } = request;
  if (beyond === null) return false;
  const end = rateAt(curve, beyond === 'too little' ? scale.high : scale.low, 'anew');
  const reached =
    beyond === 'too little'
      ? 1 - probabilityBelow(end, target.rate * (1 - target.tolerance))
      : probabilityBelow(end, target.rate * (1 + target.tolerance));
  return reached < outOfReach;
}
