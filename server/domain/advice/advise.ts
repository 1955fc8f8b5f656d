import { settingChart } from './chart.ts';
import { checkRequest } from './check.ts';
import { bestCandidate, type Candidate, chanceAt } from './choice.ts';
import { probabilityBelow, rateAt, slopeAt } from './curve.ts';
import { gather } from './evidence.ts';
import { explainAdvice } from './explain.ts';
import { findingsOf, ownRuns, reachFinding } from './findings.ts';
import { forecast } from './forecast.ts';
import { type SettingFor, settingFor } from './inverse.ts';
import { nextSetting } from './next.ts';
import { type CurvePosterior, curvePosterior } from './posterior.ts';
import { nearestMark } from './scale.ts';
import { stopVerdict } from './stop.ts';
import { curveSummary } from './summary.ts';
import type { Advice, AdviceRequest, StopVerdict } from './types.ts';

/** Below this probability that the end of the scale reaches the target, it is called out of reach. */
const outOfReach = 0.05;
/** Probability that the rate rises with the setting, below which the line is not followed. */
const surelyRising = 0.9;

/**
 * Advice from everything that is known: what to set next and why, whether testing can end, the setting chart, and what is odd. Pure: the
 * same request gives the same advice; to be asked again whenever a run is added or set aside. Runs may be none, contradictory, empty or
 * all set aside: that gives findings, never an error, never a setting off the scale.
 * @throws DomainError when a figure cannot be worked with (not a number, target not above 0, a scale upside down).
 */
export function advise(request: AdviceRequest): Advice {
  checkRequest(request);
  const curve = curvePosterior(request);
  return curve === null ? nothingToGoBy(request) : adviceFrom(curve, request);
}

function nothingToGoBy(request: AdviceRequest): Advice {
  const gathered = gather(request);
  const findings = findingsOf(request, gathered, null, { bent: false, bendProbability: 0 });
  const stop: StopVerdict = {
    done: false,
    setting: null,
    probability: 0,
    moreRuns: null,
    moreTurns: null,
    limit: null,
    asGoodAsItGets: false,
    sentence: findings[0]!.sentence,
    luckyHit: null,
  };
  const explanation = explainAdvice(null, request, null, null, stop);
  return {
    state: 'start',
    curve: null,
    next: null,
    stop,
    chart: [],
    leftOut: gathered.leftOut,
    findings,
    explanation,
  };
}

function adviceFrom(curve: CurvePosterior, request: AdviceRequest): Advice {
  const { gathered } = curve;
  const sought = settingFor(curve, request.scale, request.target.rate);
  const candidate = chooseCandidate(curve, request, sought);
  const summary = curveSummary(curve, sought, candidate);
  const stop = stopVerdict(curve, request, candidate, forecast(curve, request, candidate));
  const findings = findingsOf(request, gathered, curve, summary);
  const beyondReach = !stop.done && isOutOfReach(curve, request, sought);
  if (beyondReach) findings.unshift(reachFinding(curve, request, sought));
  const next = beyondReach ? null : nextSetting(curve, request, sought, candidate, stop.done);
  const started = ownRuns(gathered).length > 0;
  return {
    state: beyondReach ? 'out-of-reach' : stop.done ? 'done' : started ? 'go-on' : 'start',
    curve: summary,
    next,
    stop: beyondReach ? hopeless(stop, findings[0]!.sentence) : stop,
    chart: settingChart(curve, request.scale),
    leftOut: gathered.leftOut,
    findings,
    explanation: explainAdvice(curve, request, summary, next, stop),
  };
}

/** The verdict when the scale does not hold the target: no number of runs helps. */
function hopeless(stop: StopVerdict, sentence: string): StopVerdict {
  return { ...stop, moreRuns: null, moreTurns: null, limit: null, asGoodAsItGets: false, sentence };
}

/** The line's own choice; while it does not surely rise, the setting of the run that came nearest, so that it can be looked at again. */
function chooseCandidate(curve: CurvePosterior, request: AdviceRequest, sought: SettingFor): Candidate {
  const at = sought.setting?.value ?? request.scale.high;
  const rising = 1 - probabilityBelow(slopeAt(curve, at), 0);
  const runs = ownRuns(curve.gathered);
  if (rising >= surelyRising || runs.length === 0) return bestCandidate(curve, request, sought);
  const far = (rate: number) => Math.abs(Math.log(rate / request.target.rate));
  const nearest = runs.reduce((best, each) => (far(each.rate) < far(best.rate) ? each : best));
  const setting = nearestMark(request.scale, nearest.setting);
  return { setting, stays: false, probability: chanceAt(curve, request, setting, false) };
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
