import type {
  AdviceRequest,
  CalibrationRun,
  PastCalibration,
  PrintedChart,
  SeedCharacter,
} from '../domain/advice/types.ts';
import { combinedParts, geometryParts } from '../domain/uncertainty.ts';
import { gramsPerSquareMetre, turns } from '../domain/units.ts';
import { scaleSlopeDoubt } from '../run/limits.ts';
import { geometryDoubtsOf, geometryOf } from '../run/plan.ts';
import type { RunPlan } from '../run/types.ts';
import { confidenceOf, configurationOf } from './identity.ts';

/** What is known besides the runs. */
export interface Background {
  past: readonly PastCalibration[];
  chart: PrintedChart | null;
  /** Relative doubt of the rows caught standing for all; null when never compared. */
  rowsDoubt: number | null;
  /** Relative doubt of the scale's slope that the newest run on the stand reckoned with; the usual one where none did. */
  scaleDoubt?: number | null;
}

export const seedOf = ({ seed }: RunPlan): SeedCharacter => ({
  bulkDensity: seed.bulkDensityKilogramsPerCubicMetre ?? null,
  seedGrams: seed.seedMassGrams,
});

/** Spread from run to run to start from where the plan says none: a model with no noise at all would believe the first run. */
const leastRepeatability = 0.002;

/** Doubt that all runs on this drill share: wheel, row spacing, slip and the slope of the scale. */
function commonOf(plan: RunPlan, scaleDoubt: number) {
  const geometry = combinedParts(geometryParts(geometryOf(plan), geometryDoubtsOf(plan)));
  return { ...geometry, standard: Math.hypot(geometry.standard, scaleDoubt) };
}

/** Everything the advice rests on, or why there can be none. */
export function requestFor(
  plan: RunPlan,
  runs: readonly CalibrationRun[],
  { past, chart, rowsDoubt, scaleDoubt }: Background,
): { ok: true; request: AdviceRequest } | { ok: false; why: string } {
  const { scale, rowCount } = plan.drill;
  if (!scale) {
    return {
      ok: false,
      why: 'To be told the next setting, type in the drill’s setting scale: its lowest and highest mark and the step between marks.',
    };
  }
  const caughtAll = rowCount != null && plan.rowsCaught >= rowCount;
  const request: AdviceRequest = {
    runs,
    scale: { ...scale, configuration: configurationOf(plan) },
    target: {
      rate: gramsPerSquareMetre(plan.target.gramsPerSquareMetre),
      tolerance: plan.target.tolerance,
      confidence: confidenceOf(plan),
    },
    seed: seedOf(plan),
    prior: { past, chart, repeatability: Math.max(leastRepeatability, plan.seed.repeatability) },
    common: commonOf(plan, scaleDoubt ?? scaleSlopeDoubt),
    rows: caughtAll ? 0 : rowsDoubt,
    plannedTurns: turns(plan.turns),
  };
  return { ok: true, request };
}
