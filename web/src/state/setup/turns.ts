import {
  countingDoubt,
  enoughTurns,
  type TestLimit,
  type TestNoise,
} from '../../../../server/domain/enough-turns.ts';
import { targetCatch } from '../../../../server/domain/geometry.ts';
import { mixLumpiness } from '../../../../server/domain/mix-seeds.ts';
import { normalQuantile } from '../../../../server/domain/statistics.ts';
import { planTest, type TestLength, usualTestLengths } from '../../../../server/domain/test-length.ts';
import { lumpiness } from '../../../../server/domain/uncertainty.ts';
import { grams, gramsPerSquareMetre, metres, turns } from '../../../../server/domain/units.ts';
import type { Plan } from '../../../../server/http/messages.ts';
import {
  readingSeconds,
  scaleSlopeDoubt,
  seedMassSpread,
  standingNoiseGrams,
  zeroDriftGramsPerMinute,
} from '../../../../server/run/limits.ts';
import { summaryOf } from './seed.ts';

/** How many turns a run should have, and what decides it. Pure. */

/** What is known of the stand: a common one while none is connected. */
export interface Stand {
  cells: number;
  pulsesPerTurn: number;
}
export const commonStand: Stand = { cells: 1, pulsesPerTurn: 4 };

/** A catch is weighed over about so long, and its tare lies so far back. */
const weighed = { seconds: 1, minutesBetween: 1 } as const;

export interface TurnsAdvice {
  /** Whole turns that are enough; null when no number is. */
  enough: number | null;
  binds: TestLimit;
  /** Turns that each doubt alone would ask for. */
  alone: { scale: number; counting: number; seedSampling: number };
  /** Half-width of the interval of one run of the planned turns, as a share of the rate, at the wanted confidence. */
  plannedHalfWidth: number;
  confidence: number;
  tolerance: number;
}

const geometryOf = ({ drill, rowsCaught }: Plan) => ({
  circumference: metres(drill.circumferenceMetres),
  rowSpacing: metres(drill.rowSpacingMetres),
  rowsCaught,
  slip: drill.slip,
});

/** What makes a run of this plan unsure. */
export function noiseOf(plan: Plan, stand: Stand): TestNoise {
  const summary = summaryOf(plan.seed);
  const noise = standingNoiseGrams / Math.sqrt(weighed.seconds / readingSeconds);
  const drift = zeroDriftGramsPerMinute * weighed.minutesBetween;
  return {
    gramsPerTurn: targetCatch(
      geometryOf(plan),
      turns(1),
      gramsPerSquareMetre(plan.target.gramsPerSquareMetre),
    ),
    weighing: grams(Math.sqrt(stand.cells) * Math.hypot(Math.SQRT2 * noise, drift)),
    counting: countingDoubt(Math.max(1, stand.pulsesPerTurn * (plan.drill.shaftRatio ?? 1))),
    lumpiness:
      summary === null
        ? lumpiness(grams(plan.seed.seedMassGrams), seedMassSpread)
        : mixLumpiness(summary.mix, seedMassSpread),
    fixed: Math.hypot(plan.seed.repeatability, scaleSlopeDoubt),
  };
}

/** A confidence where the plan names none. Common practice, no source: nine in ten. */
export const usualConfidence = 0.9;

/** Null where the plan's figures cannot be worked with. */
export function turnsAdvice(plan: Plan, stand: Stand): TurnsAdvice | null {
  const { tolerance, confidence = usualConfidence } = plan.target;
  try {
    const noise = noiseOf(plan, stand);
    const { turns: count, binds, alone } = enoughTurns(noise, tolerance, confidence);
    const planned = Math.hypot(
      noise.weighing / (noise.gramsPerTurn * plan.turns),
      noise.counting / plan.turns,
      Math.sqrt(noise.lumpiness / (noise.gramsPerTurn * plan.turns)),
      noise.fixed,
    );
    return {
      enough: count === null ? null : Math.max(1, Math.ceil(count)),
      binds,
      alone,
      plannedHalfWidth: normalQuantile(0.5 + confidence / 2) * planned,
      confidence,
      tolerance,
    };
  } catch {
    return null;
  }
}

export type LengthName = keyof typeof usualTestLengths;
export const lengthNames = Object.keys(usualTestLengths) as LengthName[];

/** Whole turns for a usual length of test; null where the plan's figures cannot be worked with, or so many nobody makes. */
export function turnsForLength(plan: Plan, name: LengthName): number | null {
  const length: TestLength = usualTestLengths[name];
  try {
    const { turns: count } = planTest(
      geometryOf(plan),
      length,
      gramsPerSquareMetre(plan.target.gramsPerSquareMetre),
      true,
    );
    return count <= 2000 ? count : null;
  } catch {
    return null;
  }
}
