import { type CatchForecast, forecastCatch } from '../domain/forecast.ts';
import { halfWidth } from '../domain/statistics.ts';
import { rateFromSlope } from '../domain/uncertainty.ts';
import { grams } from '../domain/units.ts';
import { type CatchBand, type Verdict, verdictOn } from '../domain/verdict.ts';
import { geometryOf, targetCatchOf } from './plan.ts';
import type { RunState } from './state.ts';
import type { ForecastFigure, RunPlan, StandFacts, VerdictFigure } from './types.ts';

/** Where a run is heading, while the wheel turns. */
export interface Outlook {
  forecast: ForecastFigure | null;
  verdict: VerdictFigure | null;
}

const none: Outlook = { forecast: null, verdict: null };

export function outlookOf(state: RunState, plan: RunPlan, stand: StandFacts): Outlook {
  const { rate, tare, phase, presetPulses } = state;
  if (phase !== 'turning' || rate === null || tare === null) {
    return none;
  }
  const count = presetPulses / stand.pulsesPerTurn;
  // The weighing at the end will be about as good as the tare.
  const expected = forecastCatch(rate, count, Math.SQRT2 * tare.doubt.standard);
  return expected === null || !(expected.grams > 0) ? none : lookingAt(expected, plan, count);
}

function lookingAt(expected: CatchForecast, plan: RunPlan, count: number): Outlook {
  const half = halfWidth(expected.doubt, 0.95);
  const rateOf = (caught: number) => rateFromSlope(geometryOf(plan), grams(caught / count));
  const gramsLow = Math.max(0, expected.grams - half);
  const gramsHigh = expected.grams + half;
  const forecast: ForecastFigure = {
    turns: count,
    grams: expected.grams,
    gramsLow,
    gramsHigh,
    gramsPerSquareMetre: rateOf(expected.grams),
    low: rateOf(gramsLow),
    high: rateOf(gramsHigh),
  };
  const target = targetCatchOf(plan, count);
  const { tolerance } = plan.target;
  const band = { target, low: target * (1 - tolerance), high: target * (1 + tolerance) };
  const verdict = verdictOn(expected, band);
  return { forecast, verdict: { ...verdict, sentence: sentenceOf(verdict, forecast, band) } };
}

const times = (factor: number) => factor.toFixed(factor < 0.95 ? 2 : 1);

function sentenceOf({ kind, factor }: Verdict, forecast: ForecastFigure, { target }: CatchBand): string {
  const half = (forecast.gramsHigh - forecast.gramsLow) / 2;
  const digits = half < 1 ? 1 : 0;
  const amounts = `${forecast.grams.toFixed(digits)} ± ${half.toFixed(digits)} g where ${target.toFixed(digits)} g are wanted`;
  switch (kind) {
    case 'too-little':
    case 'too-much':
      return `This run will end at ${amounts}: the drill needs about ${times(factor)} times its present rate. You may stop now and change the setting.`;
    case 'enough':
      return `This run will end at ${amounts}: more turns would tell little more. You may stop now.`;
    default:
      return `So far it looks like ${amounts}.`;
  }
}
