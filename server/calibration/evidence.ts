import type { CalibrationRun } from '../domain/advice/types.ts';
import { testArea } from '../domain/geometry.ts';
import type { Doubt } from '../domain/statistics.ts';
import { gramsPerSquareMetre, turns } from '../domain/units.ts';
import type { CalibrationRunView } from '../http/calibration-messages.ts';
import type { StoredRun } from '../records/types.ts';
import { geometryOf } from '../run/plan.ts';
import type { BudgetPart, RunFigures, RunOutcome, RunPlan } from '../run/types.ts';
import { miscountChance } from './hand-run.ts';
import { configurationOf } from './identity.ts';

/** What a run on record says about the drill, with the drill's figures as they are now. */

/** Ways a run ends that leave a catch which can be believed. */
const sound: ReadonlySet<RunOutcome | null> = new Set(['complete', 'stopped', 'stop-button', 'host-silent']);

/**
 * Rates on record were told with the drill's figures of that day: the factor brings them to those of the plan in hand. How many rows hung over the
 * bag belongs to the run and not to the drill: that stays as it was.
 */
export function toPresentGeometry(then: RunPlan, now: RunPlan): number {
  const present = { ...geometryOf(now), rowsCaught: then.rowsCaught };
  return testArea(geometryOf(then), turns(1)) / testArea(present, turns(1));
}

/** Doubt of a run by itself: neither what all runs on the drill share nor the repeatability, which the advice finds. Relative. */
export function ownDoubt(budget: readonly BudgetPart[]): Doubt {
  const own = budget.filter(({ part, common }) => !common && part !== 'repeatability');
  return { standard: Math.hypot(...own.map(({ relative }) => relative)), degreesOfFreedom: Infinity };
}

/** Doubt that all runs on this drill share. Relative. */
export function commonDoubt(budget: readonly BudgetPart[]): Doubt {
  const shared = budget.filter(({ common }) => common);
  return { standard: Math.hypot(...shared.map(({ relative }) => relative)), degreesOfFreedom: Infinity };
}

/** Why a run can tell nothing about the rate, or null. */
export function whyNot(run: StoredRun): string | null {
  if (run.setAside !== null) return `Set aside by ${run.setAside.by}: ${run.setAside.why}`;
  if (run.figures === null) return 'It has not ended yet.';
  if (!sound.has(run.figures.outcome)) return run.figures.sentence;
  if (run.settingNumber === null) return 'Its setting is not a number, so it has no place on the scale.';
  const { rate, budget } = run.figures;
  if (rate === null ? !caughtNothing(run.figures) : ownDoubt(budget).standard > largestBelieved)
    return 'It has no rate: too little was caught.';
  return null;
}

/** A rate with a larger doubt of its own (relative) is none: editions before this one put such on record. */
const largestBelieved = 1;

/** Seeds that stick to a bag, grams. Common practice, no source. */
const stuckGrams = 0.5;

/** A whole run and an empty bag, as far as the scale can tell it from a good catch: that is a finding, not a failure. */
function caughtNothing({ outcome, grams, gramsDoubt, turnsDone, targetCatchGrams }: RunFigures): boolean {
  const unseen = 3 * (gramsDoubt ?? 0) + stuckGrams;
  const whole = outcome === 'complete' && turnsDone > 0 && grams !== null;
  return whole && Math.abs(grams) <= unseen && unseen < targetCatchGrams / 2;
}

/** The run as the page shows it. `name`: what the advice calls it. */
export function runView(run: StoredRun, name: string, plan: RunPlan): CalibrationRunView {
  const { figures, setAside } = run;
  const factor = toPresentGeometry(run.plan, plan);
  const rate = figures?.rate ?? null;
  const why = whyNot(run);
  return {
    id: run.id,
    name,
    at: run.startedAt,
    source: run.source,
    setting: run.settingNumber,
    settingText: run.settingText,
    turns: figures?.turnsDone ?? 0,
    grams: figures?.grams ?? null,
    rate:
      rate === null
        ? null
        : { value: rate.gramsPerSquareMetre * factor, low: rate.low * factor, high: rate.high * factor },
    setAside: setAside === null ? null : { why: setAside.why, by: setAside.by, at: setAside.at },
    counts: why === null,
    whyNot: why,
  };
}

/** The run as the advice reads it, or null where it can say nothing. A run set aside goes along, marked. */
export function evidenceOf(run: StoredRun, name: string, plan: RunPlan): CalibrationRun | null {
  const { figures, setAside, settingNumber } = run;
  if (whyNot({ ...run, setAside: null }) !== null || figures === null || settingNumber === null) return null;
  const rate = (figures.rate?.gramsPerSquareMetre ?? 0) * toPresentGeometry(run.plan, plan);
  return {
    name,
    setting: settingNumber,
    configuration: configurationOf(run.plan),
    rate: gramsPerSquareMetre(rate),
    doubt: ownDoubt(figures.budget),
    source: run.source,
    turns: turns(figures.turnsDone),
    // Nobody tells whether the lever was touched between two runs.
    leverMoved: true,
    miscountChance: run.source === 'hand' && run.hand?.countedByEye !== false ? miscountChance : 0,
    setAside: setAside === null ? null : { by: setAside.by, why: setAside.why },
  };
}
