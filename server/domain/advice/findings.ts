import { meanOf, rateAt } from './curve.ts';
import { type Evidence, type Gathered, isNothing } from './evidence.ts';
import type { SettingFor } from './inverse.ts';
import type { CurvePosterior } from './posterior.ts';
import type { AdviceRequest, Finding, SettingScale } from './types.ts';
import { capital, chanceWords, listWords, markWords, percentWords } from './words.ts';

/** Two runs further apart than so many standard deviations of what noise explains are called contradictory. */
const beyondNoise = 3.5;
/** The stated repeatability may be too small by this factor before anything is called odd. */
const repeatabilityRoom = 1.5;
/** From this probability on a run is called miscounted. */
const likelyMiscounted = 0.8;

/** The runs of this calibration that are in the model. */
export function ownRuns({ evidence }: Gathered): Evidence[] {
  return evidence.filter(({ group }) => group === null);
}

/** Relative spread that noise alone gives the difference of two runs. */
function noiseBetween(a: Evidence, b: Evidence, { prior, scale }: AdviceRequest): number {
  const repeatability = 2 * (repeatabilityRoom * prior.repeatability) ** 2;
  const away = Math.max(Math.abs((a.setting + b.setting) / 2 - scale.closedAt), scale.step);
  const lever = a.placement === b.placement ? 0 : 2 * (scale.leverPlay / away) ** 2;
  const miscounts = [a, b].map(({ miscountChance, turns }) => (miscountChance > 0 ? 1 / turns ** 2 : 0));
  return Math.sqrt(a.variance + b.variance + repeatability + lever + miscounts[0]! + miscounts[1]!);
}

/** The pair for which `excess` (relative difference over its noise) is largest, when it is beyond noise. */
function worstPair(
  runs: readonly Evidence[],
  request: AdviceRequest,
  difference: (a: Evidence, b: Evidence) => number,
): { a: Evidence; b: Evidence; relative: number; noise: number } | null {
  let worst: { a: Evidence; b: Evidence; relative: number; noise: number } | null = null;
  for (const [index, a] of runs.entries()) {
    for (const b of runs.slice(index + 1)) {
      const relative = (2 * difference(a, b)) / (a.rate + b.rate);
      const noise = noiseBetween(a, b, request);
      const excess = relative / noise;
      if (excess > beyondNoise && (worst === null || excess > worst.relative / worst.noise)) {
        worst = { a, b, relative, noise };
      }
    }
  }
  return worst;
}

function contradictory(runs: readonly Evidence[], request: AdviceRequest): Finding[] {
  const pair = worstPair(runs, request, (a, b) => (a.setting === b.setting ? Math.abs(a.rate - b.rate) : 0));
  if (pair === null) return [];
  const { a, b, relative, noise } = pair;
  return [
    {
      code: 'contradictory',
      runs: [a.name, b.name],
      sentence:
        `${capital(a.name)} and ${b.name} were both made at ${markWords(a.setting, request.scale)} but differ by ${percentWords(relative)}, where weighing, ` +
        `seed and metering explain about ${percentWords(noise)}. Both still count, so the doubt is large: look for the cause (tube, hopper, lever, count of turns) and set the wrong one aside.`,
    },
  ];
}

/** The two runs that most clearly say that the rate falls as the setting rises, the lower setting first; null when none do. */
export function fallingRates(runs: readonly Evidence[], request: AdviceRequest) {
  const sorted = [...runs].sort((a, b) => a.setting - b.setting);
  return worstPair(sorted, request, (a, b) => (a.setting < b.setting ? a.rate - b.rate : 0));
}

function decreasing(runs: readonly Evidence[], request: AdviceRequest): Finding[] {
  const pair = fallingRates(runs, request);
  if (pair === null) return [];
  const { a, b, relative } = pair;
  const mark = (setting: number) => markWords(setting, request.scale);
  return [
    {
      code: 'decreasing',
      runs: [a.name, b.name],
      sentence:
        `The rate falls as the setting rises: ${b.name} at ${mark(b.setting)} gave ${percentWords(relative)} less than ${a.name} at ${mark(a.setting)}. ` +
        'A meter does not do that: a setting may be written down wrong, a tube blocked or the hopper low. Check both and set the wrong one aside.',
    },
  ];
}

function aboutCount(runs: readonly Evidence[], request: AdviceRequest, gathered: Gathered): Finding[] {
  const all = request.runs.map(({ name }) => name);
  if (runs.length === 1) {
    const sentence =
      'There is one run: it tells the rate at its own setting, but not yet how the rate changes with the setting. The next one will.';
    return [{ code: 'one-run', runs: [runs[0]!.name], sentence }];
  }
  if (runs.length > 0) return [];
  const start =
    gathered.groups.length > 0
      ? 'What follows comes from earlier calibrations or the printed chart alone.'
      : `Begin with a short run of a few turns at about ${middleMark(request.scale)}, or type in two or three rows of the drill’s printed chart.`;
  if (all.length > 0) {
    const sentence = `None of the runs counts: all are set aside or left out. They stay on record. ${start}`;
    return [{ code: 'all-set-aside', runs: all, sentence }];
  }
  return [{ code: 'no-runs', runs: [], sentence: `There is no run yet. ${start}` }];
}

function middleMark(scale: SettingScale): string {
  return markWords(scale.low + Math.round((scale.high - scale.low) / scale.step / 2) * scale.step, scale);
}

function leftOutFindings(request: AdviceRequest): Finding[] {
  const { runs, scale } = request;
  const inModel = runs.filter(({ setAside }) => setAside === null);
  const empty = inModel.filter(({ rate }) => isNothing(rate, request)).map(({ name }) => name);
  const other = inModel
    .filter(({ configuration }) => configuration !== scale.configuration)
    .map(({ name }) => name);
  const findings: Finding[] = [];
  if (empty.length > 0) {
    const sentence =
      `Nothing was caught in ${listWords(empty)}: the meter was closed, its drive out of gear, or the tube blocked. ` +
      'That is no point on the line and is left out. See that seed runs before the next test.';
    findings.push({ code: 'nothing-caught', runs: empty, sentence });
  }
  if (other.length > 0) {
    const sentence = `${capital(listWords(other))} stood in another gear, gate or notch than ${scale.configuration}: the same setting means another rate there, so they are left out.`;
    findings.push({ code: 'other-configuration', runs: other, sentence });
  }
  return findings;
}

/** When the target lies off the scale: what the scale gives at its end, and what to change. */
export function reachFinding(curve: CurvePosterior, request: AdviceRequest, sought: SettingFor): Finding {
  const { scale, target } = request;
  const short = sought.beyond === 'too little';
  const end = short ? scale.high : scale.low;
  const share = Math.max(0, meanOf(rateAt(curve, end, 'exact'))) / target.rate;
  const others =
    scale.otherConfigurations.length > 0
      ? `Change to ${listWords([...scale.otherConfigurations]).replace(' and ', ' or ')}`
      : 'Change gear, gate, notch or drive speed, if the drill has any';
  return {
    code: short ? 'too-high' : 'too-low',
    runs: ownRuns(curve.gathered).map(({ name }) => name),
    sentence:
      `The target lies off the scale: at its ${short ? 'upper' : 'lower'} end, ${markWords(end, scale)}, the drill gives about ${percentWords(share)} of it. ` +
      `${others}, and begin again there${short ? '; or sow at a lower rate' : '; or sow at a higher rate'}.`,
  };
}

function bentFinding(curve: CurvePosterior, bent: boolean, bendProbability: number): Finding[] {
  if (!bent) return [];
  const sentence = `The rate does not rise in a straight line: the runs show a bend with ${chanceWords(bendProbability)} probability, and it is reckoned with. Do not stretch it beyond the runs.`;
  return [{ code: 'bent', runs: ownRuns(curve.gathered).map(({ name }) => name), sentence }];
}

function miscountFindings(curve: CurvePosterior): Finding[] {
  const chances = new Map<string, number>();
  for (const { miscounted, weight } of curve.components) {
    if (miscounted !== null) chances.set(miscounted, (chances.get(miscounted) ?? 0) + weight);
  }
  return [...chances]
    .filter(([, chance]) => chance >= likelyMiscounted)
    .map(([name, chance]) => ({
      code: 'miscounted',
      runs: [name],
      sentence: `A turn of ${name} was probably counted once too often or left out (${chanceWords(chance)}): the other runs fit so much better then. Count it again if you can.`,
    }));
}

/** All that is odd or in the way, the most telling first. `curve` null when there is nothing to go by. */
export function findingsOf(
  request: AdviceRequest,
  gathered: Gathered,
  curve: CurvePosterior | null,
  bend: { bent: boolean; bendProbability: number },
): Finding[] {
  const runs = ownRuns(gathered);
  const findings = [
    ...aboutCount(runs, request, gathered),
    ...leftOutFindings(request),
    ...contradictory(runs, request),
    ...decreasing(runs, request),
  ];
  if (curve !== null) {
    findings.push(...miscountFindings(curve), ...bentFinding(curve, bend.bent, bend.bendProbability));
  }
  if (request.rows === null && runs.length > 0) {
    const sentence =
      'The rows were never compared: these figures hold for the rows caught, and for the drill only as far as its rows agree.';
    findings.push({ code: 'rows-not-compared', runs: [], sentence });
  }
  return findings;
}
