import { probabilityWithin, rateAt } from './curve.ts';
import type { SettingFor } from './inverse.ts';
import type { CurvePosterior } from './posterior.ts';
import { markAt, nearestIndex, stepsOf } from './scale.ts';
import type { AdviceRequest } from './types.ts';

/** A setting that could be the final one. */
export interface Candidate {
  setting: number;
  /** The lever stays where it is; else it is set anew. */
  stays: boolean;
  /** Probability that the true rate there lies within tolerance. */
  probability: number;
  /** It is not the likeliest setting: a run is to be made again because the rates do not rise with the setting. */
  lookAgain?: true;
}

/** Marks looked at on either side of the setting sought. */
const reach = 6;
/** Moving the lever must raise the probability by this much, for it brings the lever's play anew. */
const worthMoving = 0.02;

/** While no mark is as likely right as this, the one nearest to the setting sought is the plain choice. */
const worthSearching = 0.5;

/** Probability that the true rate at `setting` lies within tolerance of the target. */
export function chanceAt(
  curve: CurvePosterior,
  request: AdviceRequest,
  setting: number,
  stays: boolean,
): number {
  const { rate, tolerance } = request.target;
  const parts = rateAt(curve, setting, stays ? 'standing' : 'anew');
  return probabilityWithin(parts, rate * (1 - tolerance), rate * (1 + tolerance));
}

/** The lever left where it is, when a run in the model was made there. */
export function stayingCandidate(curve: CurvePosterior, request: AdviceRequest): Candidate | null {
  const setting = curve.standingSetting;
  if (setting === null) return null;
  return { setting, stays: true, probability: chanceAt(curve, request, setting, true) };
}

/** The best of the marks about the setting sought, the lever set anew; at an end of the scale when the target lies beyond. */
export function movingCandidate(
  curve: CurvePosterior,
  request: AdviceRequest,
  sought: SettingFor,
): Candidate {
  const { scale } = request;
  const towards = sought.beyond === 'too little' ? scale.high : scale.low;
  const centre = nearestIndex(scale, sought.setting?.value ?? towards);
  const candidate = (index: number): Candidate => {
    const setting = markAt(scale, index);
    return { setting, stays: false, probability: chanceAt(curve, request, setting, false) };
  };
  let best = candidate(centre);
  const last = Math.min(stepsOf(scale), centre + reach);
  for (let index = Math.max(0, centre - reach); index <= last; index += 1) {
    const other = candidate(index);
    if (other.probability > best.probability) best = other;
  }
  return best.probability < worthSearching ? candidate(centre) : best;
}

/** Which of the two to go on with: the lever stays when that is enough, or when moving it gains next to nothing. */
export function bestCandidate(curve: CurvePosterior, request: AdviceRequest, sought: SettingFor): Candidate {
  const staying = stayingCandidate(curve, request);
  const moving = movingCandidate(curve, request, sought);
  if (staying === null) return moving;
  const enough = staying.probability >= request.target.confidence;
  return enough || moving.probability < staying.probability + worthMoving ? staying : moving;
}
