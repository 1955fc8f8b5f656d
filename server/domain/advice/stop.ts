import { type Candidate, chanceAt } from './choice.ts';
import { meanOf, rateAt } from './curve.ts';
import type { Forecast } from './forecast.ts';
import type { CurvePosterior } from './posterior.ts';
import type { AdviceRequest, CalibrationRun, StopLimit, StopVerdict } from './types.ts';
import { chanceWords, markWords, moreRunsWords, percentWords } from './words.ts';

/** Within so much of what endless testing would bring, more runs are wasted. */
const nearCeiling = 0.05;

const remedies: Record<StopLimit, string> = {
  noise:
    'The runs scatter too much for this tolerance: longer runs with more seed, a steadier drive, or a wider tolerance.',
  step: 'The marks of the scale lie too far apart for this tolerance: set between two marks if the lever holds there, or allow more.',
  'lever-play':
    'The lever does not come to rest truly enough for this tolerance: take up its play, always set it from the same side, or allow more.',
  rows: 'The rows differ too much for the rows caught to stand for all: catch more rows, or put the uneven rows right first.',
  common:
    'Wheel, row spacing and scale are not known well enough for this tolerance, and more runs do not help: measure the roll-out over several turns and check the scale, or allow more.',
};

/** Words about the setting that is judged. */
function placeWords({ setting, stays }: Candidate, request: AdviceRequest): string {
  const mark = markWords(setting, request.scale);
  return stays ? `with the lever as it stands at ${mark}` : `with the lever set to ${mark}`;
}

function doneSentence(candidate: Candidate, request: AdviceRequest): string {
  const { tolerance } = request.target;
  const chance = chanceWords(candidate.probability);
  const within = `the true rate is within ${percentWords(tolerance)} of the target with ${chance} probability`;
  const act = candidate.stays
    ? 'Leave it there.'
    : 'No further run is needed; one more at that setting would be a check.';
  return `Done: ${placeWords(candidate, request)}, ${within}. ${act}`;
}

function goOnSentence(candidate: Candidate, request: AdviceRequest, ahead: Forecast): string {
  const { tolerance, confidence } = request.target;
  const chance = chanceWords(candidate.probability);
  const now = `So far the rate ${placeWords(candidate, request)} is within ${percentWords(tolerance)} of the target with ${chance} probability; ${chanceWords(confidence)} is wanted.`;
  if (ahead.moreRuns === null) return `${now} ${remedies[ahead.limit ?? 'noise']}`;
  const turns = Math.round(ahead.moreRuns * request.plannedTurns);
  return `${now} Probably ${moreRunsWords(ahead.moreRuns)}, ${turns} turns in all.`;
}

/** The newest run, when it is in the model and its own rate lies within tolerance. */
function newestHit(curve: CurvePosterior, { runs, target }: AdviceRequest): CalibrationRun | null {
  const newest = runs[runs.length - 1];
  if (newest === undefined || curve.standing === null) return null;
  const counts = curve.gathered.evidence.some(({ name, group }) => group === null && name === newest.name);
  return counts && Math.abs(newest.rate / target.rate - 1) <= target.tolerance ? newest : null;
}

/** Why one run on the target proves little: what a run scatters, and what the runs together say. */
function luckyHitSentence(curve: CurvePosterior, request: AdviceRequest): string | null {
  const hit = newestHit(curve, request);
  if (hit === null) return null;
  const { rate, tolerance } = request.target;
  const repeatability = curve.components.reduce((sum, each) => sum + each.weight * each.repeatability, 0);
  const scatter = Math.hypot(repeatability, hit.doubt.standard);
  const believed = meanOf(rateAt(curve, hit.setting, 'standing')) / rate - 1;
  const chance = chanceAt(curve, request, hit.setting, true);
  const together =
    Math.abs(believed) < 0.001
      ? 'all runs together put the rate on the target'
      : `all runs together put the rate ${percentWords(believed)} ${believed > 0 ? 'above' : 'below'} it`;
  return (
    `${hit.name} landed within ${percentWords(tolerance)} of the target, but a single run scatters by about ${percentWords(scatter)} ` +
    `either way: it can hit by luck. ${together[0]!.toUpperCase()}${together.slice(1)}, and right with ${chanceWords(chance)} probability.`
  );
}

/** Whether testing can end at `candidate`, with the forecast for it. */
export function stopVerdict(
  curve: CurvePosterior,
  request: AdviceRequest,
  candidate: Candidate,
  ahead: Forecast,
): StopVerdict {
  const { setting, probability } = candidate;
  const done =
    probability >= request.target.confidence && curve.gathered.evidence.some((e) => e.group === null);
  if (done) {
    const sentence = doneSentence(candidate, request);
    const rest = { moreRuns: 0, moreTurns: 0, limit: null, asGoodAsItGets: false, luckyHit: null };
    return { done, setting, probability, ...rest, sentence };
  }
  const { moreRuns, limit, ceiling } = ahead;
  return {
    done,
    setting,
    probability,
    moreRuns,
    moreTurns: moreRuns === null ? null : moreRuns * request.plannedTurns,
    limit,
    asGoodAsItGets: limit !== null && limit !== 'noise' && probability >= ceiling - nearCeiling,
    sentence: goOnSentence(candidate, request, ahead),
    luckyHit: luckyHitSentence(curve, request),
  };
}
