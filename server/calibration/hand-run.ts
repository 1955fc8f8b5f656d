import { countingDoubt, weighingDoubt } from '../domain/enough-turns.ts';
import { checked } from '../domain/error.ts';
import { rateFromCatch, testArea } from '../domain/geometry.ts';
import { type BudgetPart, catchBudget, combinedParts, rateInterval } from '../domain/uncertainty.ts';
import { grams, turns } from '../domain/units.ts';
import type { HandRunBody } from '../http/calibration-messages.ts';
import type { HandCatch } from '../records/types.ts';
import { largestShownDoubt, scaleSlopeDoubt } from '../run/limits.ts';
import { geometryDoubtsOf, geometryOf, lumpinessOf, targetCatchOf } from '../run/plan.ts';
import { figures, initialRun } from '../run/reduce.ts';
import type { RunFigures, RunPlan } from '../run/types.ts';

/** A catch weighed by hand, as a run like any other: its own figures, with their larger doubt. */

/** Starting and stopping at a mark on the wheel, the eye sees where it stands to an eighth of a turn. Common practice, no source. */
export const eyeMarksPerTurn = 8;

/** One count of turns in ten is one out when nobody keeps a tally. Common practice, no source. */
export const miscountChance = 0.1;

export const handCatch = (body: HandRunBody): HandCatch => ({
  turns: body.turns,
  grams: body.grams,
  gramsDoubt: weighingDoubt(grams(body.scaleStepGrams), grams(0)),
  countedByEye: body.countedByEye,
});

/** No drill gives more, grams a square metre (100 t/ha): such a catch is a slip of the pen. */
const mostRate = 10_000;

/** The figures of what was typed in. */
export const handFigures = (plan: RunPlan, body: HandRunBody): RunFigures =>
  catchFigures(plan, handCatch(body));

/**
 * The figures of such a catch; no rate where nothing was caught, or where turns or scale were so coarse that it says nothing.
 * @throws DomainError for a catch that no drill gives.
 */
export function catchFigures(plan: RunPlan, body: HandCatch): RunFigures {
  const target = targetCatchOf(plan, body.turns);
  const { tolerance } = plan.target;
  const { gramsDoubt } = body;
  const bare: RunFigures = {
    ...figures(initialRun()),
    phase: 'finished',
    outcome: 'complete',
    turnsPreset: body.turns,
    turnsDone: body.turns,
    grams: body.grams,
    gramsDoubt,
    targetCatchGrams: target,
    targetCatchLowGrams: target * (1 - tolerance),
    targetCatchHighGrams: target * (1 + tolerance),
    sentence: `Weighed by hand: ${body.grams} g in ${body.turns} turns.`,
  };
  if (body.grams === 0) return bare;
  const count = turns(body.turns);
  const caught = grams(body.grams);
  const parts = catchBudget(geometryOf(plan), geometryDoubtsOf(plan), {
    caught,
    weighing: { standard: gramsDoubt, degreesOfFreedom: Number.POSITIVE_INFINITY },
    scaleSlope: scaleSlopeDoubt,
    turns: count,
    turnsDoubt: countingDoubt(eyeMarksPerTurn),
    lumpiness: lumpinessOf(plan),
    repeatability: plan.seed.repeatability,
  });
  if (isVague(parts)) return bare;
  const most = Math.floor(mostRate * testArea(geometryOf(plan), count));
  checked(caught, { most }, 'The catch in grams', 'grams');
  const rate = rateInterval(rateFromCatch(geometryOf(plan), count, caught), parts);
  return { ...bare, rate, budget: parts.map(({ part, relative, common }) => ({ part, relative, common })) };
}

/** A doubt of its own that is larger than what a run of the stand would be told with. */
function isVague(parts: readonly BudgetPart[]): boolean {
  const own = combinedParts(
    parts.filter(({ part }) => part !== 'repeatability'),
    'run',
  );
  // Not a number: so little that its doubt is beyond reckoning.
  return !(own.standard <= largestShownDoubt);
}
