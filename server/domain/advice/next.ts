import type { Candidate } from './choice.ts';
import { rateAt, rateInterval } from './curve.ts';
import type { Evidence } from './evidence.ts';
import type { SettingFor } from './inverse.ts';
import type { CurvePosterior } from './posterior.ts';
import { nearestMark } from './scale.ts';
import type { AdviceRequest, NextSetting } from './types.ts';
import { againstTarget, capital, listWords, markWords } from './words.ts';

/** Runs named one by one in a reason; of more only the nearest to the target. */
const mostNamed = 4;

function basis(each: Evidence, request: AdviceRequest): string {
  const off = againstTarget(each.rate, request.target.rate);
  const verb = each.group === null ? 'lay' : 'lies';
  return `${each.name} ${verb} ${off} at ${markWords(each.setting, request.scale)}`;
}

/** The rates nearest to the target, this calibration's own runs first. */
function nearestRates(curve: CurvePosterior, { target }: AdviceRequest): Evidence[] {
  const { evidence } = curve.gathered;
  const own = evidence.filter(({ group }) => group === null);
  const far = ({ rate }: Evidence) => Math.abs(Math.log(rate / target.rate));
  return [...(own.length > 0 ? own : evidence)].sort((a, b) => far(a) - far(b)).slice(0, mostNamed);
}

function soughtWords(sought: SettingFor, request: AdviceRequest): string {
  const { scale } = request;
  if (sought.setting === null) {
    return `By that the target lies beyond the ${sought.beyond === 'too little' ? 'upper' : 'lower'} end of the scale`;
  }
  const { value, low, high } = sought.setting;
  const fine = { ...scale, step: scale.step / 10 };
  const from = sought.openLow ? `the lower end ${markWords(low, scale)}` : markWords(low, fine);
  const to = sought.openHigh ? `the upper end ${markWords(high, scale)}` : markWords(high, fine);
  return `By that the target lies at ${markWords(value, fine)}, with 95 % probability between ${from} and ${to}`;
}

/** Why the mark is not the one nearest to the setting sought, where it is not. */
function besideWords({ scale }: AdviceRequest, sought: SettingFor, { setting, stays }: Candidate): string {
  if (stays || sought.setting === null || setting === nearestMark(scale, sought.setting.value)) return '';
  return ` Of the marks about it, ${markWords(setting, scale)} has the best chance of being right, all doubts counted.`;
}

function reasonWords(
  curve: CurvePosterior,
  request: AdviceRequest,
  sought: SettingFor,
  candidate: Candidate,
): string {
  const named = nearestRates(curve, request).map((each) => basis(each, request));
  if (candidate.lookAgain) {
    return `${capital(listWords(named))}. The rate does not rise with the setting, so no line is followed yet: the run that came nearest is to be made again.`;
  }
  const own = curve.gathered.evidence.filter(({ group }) => group === null);
  const settings = new Set(own.map(({ setting }) => setting)).size;
  const how =
    settings === 1 && curve.gathered.groups.length === 0
      ? ' One setting says nothing about the offset of the line, so proportion is all there is.'
      : '';
  return `${capital(listWords(named))}.${how} ${soughtWords(sought, request)}.${besideWords(request, sought, candidate)}`;
}

function actWords({ setting, stays }: Candidate, request: AdviceRequest): string {
  const mark = markWords(setting, request.scale);
  if (stays) return `Leave the lever at ${mark}, untouched, and run again.`;
  return `Set the lever to ${mark}, coming up to it from below as for every run, so that its play lies on the same side.`;
}

/** What to set next and why, for the `candidate` chosen. `done`: that setting is the final one and needs no run. */
export function nextSetting(
  curve: CurvePosterior,
  request: AdviceRequest,
  sought: SettingFor,
  candidate: Candidate,
  done: boolean,
): NextSetting {
  const { scale } = request;
  const ends = { value: candidate.setting, low: scale.low, high: scale.high };
  const { evidence } = curve.gathered;
  const lever = candidate.stays ? 'standing' : 'anew';
  const stay = `Leave the lever at ${markWords(candidate.setting, scale)}: testing is done.`;
  return {
    setting: candidate.setting,
    leverStays: candidate.stays,
    interval: sought.setting ?? ends,
    openLow: sought.openLow,
    openHigh: sought.openHigh,
    expected: rateInterval(rateAt(curve, candidate.setting, lever)),
    restsOn: [...new Set(evidence.map(({ name }) => name))],
    sentence: done && candidate.stays ? stay : actWords(candidate, request),
    reason: reasonWords(curve, request, sought, candidate),
  };
}
