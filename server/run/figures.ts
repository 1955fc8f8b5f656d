import { noiseWhileTurning, type SlopeEstimate, settledEstimate, slopeEstimate } from '../domain/rate.ts';
import { placeIn, turnsPerMinuteNow } from '../domain/speed.ts';
import { traceFindings } from '../domain/trace/trace.ts';
import {
  type BudgetPart as DomainPart,
  rateFromSlope,
  rateInterval,
  slopeBudget,
} from '../domain/uncertainty.ts';
import { grams } from '../domain/units.ts';
import { differenceDoubt, noiseOver, type Weighing, weigh } from '../domain/weighing.ts';
import { hasFlag } from './flags.ts';
import { gapFigures } from './gap-figures.ts';
import { largestShownDoubt, readingSeconds } from './limits.ts';
import { outlookOf } from './outlook.ts';
import {
  geometryDoubtsOf,
  geometryOf,
  metresPerTurnOf,
  slopeDoubtOf,
  speedBandOf,
  targetCatchOf,
  zeroDriftOf,
} from './plan.ts';
import { sentenceFor } from './sentences.ts';
import type { RunState } from './state.ts';
import type {
  BudgetPart,
  RateFigure,
  RunFigures,
  RunPlan,
  SpeedFigure,
  StandFacts,
  TracePoint,
} from './types.ts';

/** What there is to show of a run, computed from its state. */

const nothing: RunFigures = {
  phase: 'idle',
  outcome: null,
  boardWhy: '-',
  turnsPreset: 0,
  turnsDone: 0,
  turnsToGo: 0,
  backwardTurns: 0,
  seconds: 0,
  grams: null,
  gramsDoubt: null,
  targetCatchGrams: 0,
  targetCatchLowGrams: 0,
  targetCatchHighGrams: 0,
  rate: null,
  budget: [],
  turnsPerMinute: null,
  groundSpeedMetresPerSecond: null,
  speed: null,
  forecast: null,
  verdict: null,
  findings: [],
  motorOn: false,
  lostReadings: 0,
  gaps: [],
  sentence: '',
};

/** The figures of a run at this moment. Pure; every number in it is finite. */
export function figures(state: RunState): RunFigures {
  const { plan, stand } = state;
  if (plan === null || stand === null) {
    const bare = { ...nothing, phase: state.phase, outcome: state.outcome };
    return { ...bare, sentence: sentenceFor(state, bare) };
  }
  const counted = counts(state, stand);
  const rate = rateNow(state, plan, stand);
  const mass = massNow(state, stand);
  const shown: RunFigures = {
    ...nothing,
    ...counted,
    ...targets(state, plan, counted),
    ...speeds(state, plan, stand),
    ...outlookOf(state, plan, stand),
    findings: state.trace === null ? [] : traceFindings(state.trace),
    phase: state.phase,
    outcome: state.outcome,
    boardWhy: state.now?.why ?? '-',
    seconds: secondsOf(state),
    grams: mass?.grams ?? null,
    gramsDoubt: mass?.doubt ?? null,
    rate: rate?.rate ?? null,
    budget: rate?.budget ?? [],
    motorOn: hasFlag(state, 'motorOn'),
    lostReadings: state.lostLines,
    gaps: gapFigures(state, stand),
  };
  return { ...shown, sentence: sentenceFor(state, shown) };
}

/** A point of the chart for the newest reading, or null before the wheel was set going or without a weight. */
export function tracePoint(state: RunState): TracePoint | null {
  const { now, start, tare, stand } = state;
  if (now === null || start === null || tare === null || stand === null || now.grams === null) {
    return null;
  }
  return {
    seconds: (now.micros - start.micros) / 1e6,
    turns: (now.net - start.net) / stand.pulsesPerTurn,
    grams: now.grams - tare.grams,
  };
}

function secondsOf(state: RunState): number {
  return state.now !== null && state.start !== null ? (state.now.micros - state.start.micros) / 1e6 : 0;
}

function counts(state: RunState, stand: StandFacts) {
  const { now, start, presetPulses } = state;
  const net = now !== null && start !== null ? now.net - start.net : 0;
  const backward = now !== null && start !== null ? now.backward - start.backward : 0;
  return {
    turnsPreset: presetPulses / stand.pulsesPerTurn,
    turnsDone: net / stand.pulsesPerTurn,
    turnsToGo: Math.max(0, presetPulses - net) / stand.pulsesPerTurn,
    backwardTurns: backward / stand.pulsesPerTurn,
  };
}

function targets(state: RunState, plan: RunPlan, counted: { turnsPreset: number; turnsDone: number }) {
  const over = state.phase === 'settling' || state.phase === 'finished';
  const target = targetCatchOf(plan, over && counted.turnsDone > 0 ? counted.turnsDone : counted.turnsPreset);
  return {
    targetCatchGrams: target,
    targetCatchLowGrams: target * (1 - plan.target.tolerance),
    targetCatchHighGrams: target * (1 + plan.target.tolerance),
  };
}

function speeds(state: RunState, plan: RunPlan, stand: StandFacts) {
  const perMinute = state.phase === 'finished' ? null : turnsPerMinuteNow(state.speed, stand.pulsesPerTurn);
  return {
    turnsPerMinute: perMinute,
    groundSpeedMetresPerSecond:
      perMinute === null ? null : (Math.abs(perMinute) / 60) * metresPerTurnOf(plan),
    speed: speedFigure(state, plan, perMinute),
  };
}

function speedFigure(state: RunState, plan: RunPlan, perMinute: number | null): SpeedFigure | null {
  const band = speedBandOf(plan);
  if (band === null) {
    return null;
  }
  const { pace, phase } = state;
  return {
    lowTurnsPerMinute: band.low,
    highTurnsPerMinute: band.high,
    now: perMinute === null || phase !== 'turning' ? null : placeIn(band, perMinute),
    shareOnPlan: pace.turns > 0 ? pace.onPlan / pace.turns : null,
  };
}

/** Mass in the bag since the tare, and its standard doubt. */
function massNow(state: RunState, stand: StandFacts): { grams: number; doubt: number } | null {
  const { tare, now } = state;
  if (tare === null || now === null) {
    return null;
  }
  const still = state.final ?? (state.phase === 'turning' ? null : weigh(state.window));
  if (still !== null && state.phase !== 'ready') {
    const { caught, weighing } = difference(tare, still, stand);
    return { grams: caught, doubt: Math.hypot(weighing.standard, caught * slopeDoubtOf(stand)) };
  }
  if (now.grams === null) {
    return null;
  }
  const caught = now.grams - tare.grams;
  const noise =
    state.rate === null
      ? noiseOver(tare, shortSeconds)
      : noiseWhileTurning(state.rate, shortSeconds / readingSeconds);
  return { grams: caught, doubt: Math.hypot(noise, tare.doubt.standard, caught * slopeDoubtOf(stand)) };
}

/** What came into the bag between two weighings, and the doubt that weighing gives it. */
function difference(tare: Weighing, after: Weighing, stand: StandFacts) {
  return { caught: after.grams - tare.grams, weighing: differenceDoubt(tare, after, zeroDriftOf(stand)) };
}

/** Time over which an eye takes the mean of a flickering figure. */
const shortSeconds = 0.1;

/** Where between two pulses the wheel stood at the start and at the end, each anywhere: the difference of two uniform positions. */
const pulsePositionDoubt = 1 / Math.sqrt(6);

function rateNow(state: RunState, plan: RunPlan, stand: StandFacts) {
  const { outcome, tare, start, rate, final, now } = state;
  if (outcome === 'aborted' || tare === null || start === null || rate === null) {
    return null;
  }
  if (final === null) {
    const slope = slopeEstimate(rate);
    const vague =
      slope === null || Math.hypot(slope.weighing, slope.seeds) > largestShownDoubt * slope.gramsPerTurn;
    return vague ? null : stated(plan, stand, slope, 0);
  }
  const net = (now?.net ?? 0) - start.net;
  const { caught, weighing } = difference(tare, final, stand);
  if (net <= 0 || !(caught > Math.max(plan.seed.seedMassGrams, 2 * weighing.standard))) {
    return null;
  }
  const count = net / stand.pulsesPerTurn;
  const slope = settledEstimate(rate, count, caught, weighing.standard);
  return slope === null ? null : stated(plan, stand, slope, pulsePositionDoubt / stand.pulsesPerTurn / count);
}

function stated(
  plan: RunPlan,
  stand: StandFacts,
  slope: SlopeEstimate,
  turnsShare: number,
): { rate: RateFigure; budget: BudgetPart[] } {
  const parts: DomainPart[] = slopeBudget(geometryOf(plan), geometryDoubtsOf(plan), {
    ...slope,
    turnsShare,
    scaleSlope: slopeDoubtOf(stand),
    repeatability: plan.seed.repeatability,
  });
  return {
    rate: rateInterval(rateFromSlope(geometryOf(plan), grams(slope.gramsPerTurn)), parts),
    budget: parts.map(({ part, relative, common }) => ({ part, relative, common })),
  };
}
