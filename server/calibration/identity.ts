import type { Fields } from '../records/model.ts';
import type { RunPlan } from '../run/types.ts';

/**
 * A calibration is the runs made on one drill, in one configuration, with one mix, for one target. Which one a plan belongs to is read off
 * the plan itself; nobody has to keep books.
 */

/** Configuration of a drill whose gears, gates and notches nobody has told apart. */
export const onlyConfiguration = 'as it stands';

export const configurationOf = (plan: RunPlan): string => {
  const name = plan.drill.scale?.configuration.trim() ?? '';
  return name === '' ? onlyConfiguration : name;
};

/** Wanted confidence of a plan that names none. Common practice, no source: nine in ten. */
export const usualConfidence = 0.9;

export const confidenceOf = (plan: RunPlan): number => plan.target.confidence ?? usualConfidence;

/** What tells one calibration from another, as text. */
export function calibrationKey(plan: RunPlan): string {
  const { drill, seed, target } = plan;
  return JSON.stringify([drill.name, configurationOf(plan), seed.name, target.gramsPerSquareMetre]);
}

export function drillFields({ drill }: RunPlan): Fields<'drill'> {
  return {
    name: drill.name,
    rowCount: drill.rowCount ?? null,
    rowSpacingMetres: drill.rowSpacingMetres,
    rowSpacingDoubtMetres: drill.rowSpacingDoubtMetres,
    circumferenceMetres: drill.circumferenceMetres,
    circumferenceDoubtMetres: drill.circumferenceDoubtMetres,
    slip: drill.slip,
    slipDoubt: drill.slipDoubt,
    shaftRatio: drill.shaftRatio ?? null,
    rowSpacingFrom: drill.rowSpacingFrom ?? null,
    circumferenceFrom: drill.circumferenceFrom ?? null,
    note: '',
  };
}

/** Null where the plan knows no setting scale. `before`: what is on record of it; marks that had names lose them where the plan has none. */
export function configurationFields(
  plan: RunPlan,
  drillId: string,
  before?: Fields<'configuration'>,
): Fields<'configuration'> | null {
  const { scale } = plan.drill;
  if (!scale) return null;
  const marks = scale.marks ?? (before?.marks === undefined ? undefined : []);
  return {
    drillId,
    name: configurationOf(plan),
    scaleLow: scale.low,
    scaleHigh: scale.high,
    scaleStep: scale.step,
    closedAt: scale.closedAt,
    leverPlay: scale.leverPlay,
    ...(marks === undefined ? {} : { marks }),
    printedCharts: [],
    rowCount: null,
    rowSpacingMetres: null,
    rowSpacingDoubtMetres: null,
    note: '',
  };
}

/** `parts`: of which lots it is made; none where nobody told. */
export function mixFields({ seed }: RunPlan, parts: Fields<'mix'>['parts'] = []): Fields<'mix'> {
  return {
    name: seed.name,
    basis: seed.basis ?? 'mass',
    parts,
    seedMassGrams: seed.seedMassGrams,
    repeatability: seed.repeatability,
    bulkDensityKilogramsPerCubicMetre: seed.bulkDensityKilogramsPerCubicMetre ?? null,
    note: '',
  };
}

export interface Places {
  drillId: string;
  configurationId: string | null;
  mixId: string;
}

/** The target as it was stated, where that is not a rate by mass. */
const statedTarget = ({ target: { stated } }: RunPlan): string =>
  stated == null ? '' : `${stated.figure} ${stated.unit}`;

export function calibrationFields(plan: RunPlan, places: Places): Fields<'calibration'> {
  return {
    ...places,
    targetGramsPerSquareMetre: plan.target.gramsPerSquareMetre,
    targetText: statedTarget(plan),
    tolerance: plan.target.tolerance,
    confidence: confidenceOf(plan),
    turns: plan.turns,
    rowsCaught: plan.rowsCaught,
    rowsDoubt: null,
    chosenSetting: null,
    finishedAt: null,
    note: '',
  };
}
