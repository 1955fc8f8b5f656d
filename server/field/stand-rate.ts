import { toPresentGeometry, whyNot } from '../calibration/evidence.ts';
import {
  compareField,
  type FieldCheck,
  type FieldFactor,
  type SownArea,
  type StandRate,
  seedUsed,
} from '../domain/field-check.ts';
import { type RepeatedRun, summarizeRepeats } from '../domain/repeats.ts';
import { type BudgetPart, rateInterval } from '../domain/uncertainty.ts';
import { grams, gramsPerSquareMetre, metres, squareMetres } from '../domain/units.ts';
import type { FieldCheckBody } from '../http/field-messages.ts';
import type { Fields } from '../records/model.ts';
import type { StoredRun } from '../records/types.ts';
import { geometryOf } from '../run/plan.ts';
import type { RunPlan } from '../run/types.ts';

/** What the stand said at a setting, as far as its runs go. Pure. */

const sameSetting = (a: number, b: number): boolean => Math.abs(a - b) < 1e-9;

/** Runs of the calibration that count at this setting and have a rate. */
function runsAt(runs: readonly StoredRun[], setting: number): readonly StoredRun[] {
  return runs.filter(
    (run) =>
      run.settingNumber !== null &&
      sameSetting(run.settingNumber, setting) &&
      whyNot(run) === null &&
      (run.figures?.rate?.gramsPerSquareMetre ?? 0) > 0,
  );
}

const repeated = (run: StoredRun, index: number, plan: RunPlan): RepeatedRun => ({
  name: `run ${index + 1}`,
  rate: gramsPerSquareMetre(run.figures!.rate!.gramsPerSquareMetre * toPresentGeometry(run.plan, plan)),
  parts: run.figures!.budget.map((part) => ({ ...part, degreesOfFreedom: Number.POSITIVE_INFINITY })),
});

/** The repeatability that the plan states, for as much as so many runs would tell: enough that two runs by themselves do not decide. */
const priorOf = (plan: RunPlan) => ({
  standard: Math.max(leastRepeatability, plan.seed.repeatability),
  degreesOfFreedom: 10,
});

/** Spread from run to run where the plan says none. */
const leastRepeatability = 0.002;

export interface RunsAtSetting {
  setting: number;
  runs: number;
  stand: StandRate;
  low: number;
  high: number;
}

/**
 * The stand's rate at a setting by the mean of its runs there: what differs from run to run as the repeats tell it, what all runs share as
 * it stands in the newest one's budget. Null without a run there.
 */
export function standRateAt(
  runs: readonly StoredRun[],
  plan: RunPlan,
  setting: number,
): RunsAtSetting | null {
  const chosen = runsAt(runs, setting);
  const newest = chosen.at(-1);
  if (newest === undefined) return null;
  const each = chosen.map((run, index) => repeated(run, index, plan));
  const { mean, runToRun } = summarizeRepeats(each, { prior: priorOf(plan), confidence: 0.95 });
  const parts: BudgetPart[] = [
    {
      part: 'repeatability',
      relative: runToRun.standard,
      degreesOfFreedom: runToRun.degreesOfFreedom,
      common: false,
    },
    ...each.at(-1)!.parts.filter(({ common }) => common),
  ];
  const { low, high } = rateInterval(mean, parts);
  return {
    setting,
    runs: chosen.length,
    stand: { rate: mean, parts, geometry: geometryOf(plan) },
    low,
    high,
  };
}

/** Every setting that has been run, lowest first. */
export function standRates(runs: readonly StoredRun[], plan: RunPlan): readonly RunsAtSetting[] {
  const settings = [
    ...new Set(runs.flatMap(({ settingNumber }) => (settingNumber === null ? [] : [settingNumber]))),
  ];
  return settings.sort((a, b) => a - b).flatMap((setting) => standRateAt(runs, plan, setting) ?? []);
}

function sownOf({ area }: FieldCheckBody): SownArea {
  switch (area.kind) {
    case 'measured':
      return { ...area, area: squareMetres(area.area) };
    case 'driven':
      return { ...area, distance: metres(area.distance), width: metres(area.width) };
    case 'rows':
      return { ...area, distance: metres(area.distance) };
  }
}

/** What was typed in, in the terms of the domain. @throws DomainError where no less is left than was filled in. */
export function checkOf(body: FieldCheckBody): FieldCheck {
  return {
    name: body.name,
    used: seedUsed(body.filledGrams.map(grams), grams(body.leftGrams)),
    usedDoubt: body.usedDoubtGrams,
    onStandScale: body.onStandScale,
    area: sownOf(body),
  };
}

/** A check on record in the terms of the domain; null where it was not found by seed used. */
export function keptCheckOf(fields: Fields<'field-check'>): FieldCheck | null {
  const { seedGrams, areaSquareMetres, driven } = fields;
  if (fields.method !== 'seed-used' || seedGrams === null || areaSquareMetres === null) return null;
  return {
    name: fields.name ?? '',
    used: grams(seedGrams),
    usedDoubt: fields.seedDoubtGrams ?? 0,
    onStandScale: fields.onStandScale ?? false,
    area: keptArea(areaSquareMetres, fields.areaDoubtSquareMetres ?? 0, driven ?? null),
  };
}

function keptArea(area: number, doubt: number, driven: Fields<'field-check'>['driven'] | null): SownArea {
  if (driven == null) return { kind: 'measured', area: squareMetres(area), doubt };
  const way = { distance: metres(driven.distanceMetres), distanceDoubt: driven.distanceDoubtMetres };
  return driven.widthMetres === null
    ? { kind: 'rows', ...way, rows: driven.rows ?? 1 }
    : { kind: 'driven', ...way, width: metres(driven.widthMetres), widthDoubt: driven.widthDoubtMetres ?? 0 };
}

/** The check held against the stand. @throws DomainError for figures that cannot be. */
export const held = (at: RunsAtSetting, check: FieldCheck): FieldFactor => compareField(at.stand, check);
