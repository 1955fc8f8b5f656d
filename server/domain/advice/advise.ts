import { settingChart } from './chart.ts';
import { checkRequest } from './check.ts';
import { decide } from './decide.ts';
import { gather } from './evidence.ts';
import { explainAdvice } from './explain.ts';
import { findingsOf, ownRuns, reachFinding } from './findings.ts';
import { nextSetting } from './next.ts';
import { type CurvePosterior, curvePosterior } from './posterior.ts';
import { curveSummary } from './summary.ts';
import type { Advice, AdviceRequest, StopVerdict } from './types.ts';

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
  const { sought, candidate, stop, beyondReach } = decide(curve, request);
  const summary = curveSummary(curve, sought, candidate);
  const findings = findingsOf(request, gathered, curve, summary);
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
