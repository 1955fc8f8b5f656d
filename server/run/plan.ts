import { checked } from '../domain/error.ts';
import { checkedGeometry, type DrillGeometry, targetCatch } from '../domain/geometry.ts';
import type { RateKnowledge } from '../domain/rate.ts';
import { checkedShaftRatio } from '../domain/shaft.ts';
import { type SpeedBand, speedBand } from '../domain/speed.ts';
import { type GeometryDoubts, lumpiness } from '../domain/uncertainty.ts';
import { type Grams, grams, gramsPerSquareMetre, metres, turns } from '../domain/units.ts';
import { noiseOver, type Weighing, type WeighingWish } from '../domain/weighing.ts';
import {
  driftShare,
  readingSeconds,
  scaleSlopeDoubt,
  seedMassSpread,
  speedTolerance,
  weighingShare,
  zeroDriftGramsPerMinute,
} from './limits.ts';
import type { RunPlan, StandFacts } from './types.ts';

/** What a plan says, in the terms of the domain. */

export function geometryOf(plan: RunPlan): DrillGeometry {
  return {
    circumference: metres(plan.drill.circumferenceMetres),
    rowSpacing: metres(plan.drill.rowSpacingMetres),
    rowsCaught: plan.rowsCaught,
    slip: plan.drill.slip,
  };
}

export function geometryDoubtsOf(plan: RunPlan): GeometryDoubts {
  return {
    circumference: plan.drill.circumferenceDoubtMetres,
    rowSpacing: plan.drill.rowSpacingDoubtMetres,
    slip: plan.drill.slipDoubt,
  };
}

/** Grams that `count` turns should give at the plan's target. */
export function targetCatchOf(plan: RunPlan, count: number): number {
  return targetCatch(geometryOf(plan), turns(count), gramsPerSquareMetre(plan.target.gramsPerSquareMetre));
}

/** How well the run needs its weighings: measured by the tolerance band of the whole catch. */
export function weighingWishOf(plan: RunPlan): WeighingWish {
  const band = plan.target.tolerance * targetCatchOf(plan, plan.turns);
  return { standardError: weighingShare * band, drift: driftShare * band };
}

/** How lumpy the seed falls, grams. */
export function lumpinessOf(plan: RunPlan): Grams {
  return lumpiness(grams(plan.seed.seedMassGrams), seedMassSpread);
}

/** Standard wander of the whole scale's zero, grams a minute: each cell wanders by itself. */
export function zeroDriftOf(stand: StandFacts): number {
  return zeroDriftGramsPerMinute * Math.sqrt(stand.cells.length);
}

/** Relative standard doubt of the scale's slope: by its check, else the usual one. */
export function slopeDoubtOf(stand: StandFacts): number {
  return stand.scaleSlopeDoubt ?? scaleSlopeDoubt;
}

export function rateKnowledgeOf(plan: RunPlan, tare: Weighing): RateKnowledge {
  return {
    expectedGramsPerTurn: targetCatchOf(plan, 1),
    lumpiness: lumpinessOf(plan),
    readingVariance: noiseOver(tare, readingSeconds) ** 2,
  };
}

/** Ground that one turn of the wheel stands for, metres. */
export function metresPerTurnOf(plan: RunPlan): number {
  return plan.drill.circumferenceMetres / (1 - plan.drill.slip);
}

/** Wheel speeds that count as on plan, or null where the plan names none. */
export function speedBandOf(plan: RunPlan): SpeedBand | null {
  const planned = plan.plannedSpeedMetresPerSecond;
  return planned === null ? null : speedBand(planned, metresPerTurnOf(plan), speedTolerance);
}

/** The stand as the drive wheel meets it: where the sensor counts another shaft, with the pulses that make one turn of the wheel. */
export function standFor(plan: RunPlan, stand: StandFacts): StandFacts {
  const ratio = plan.drill.shaftRatio ?? 1;
  return ratio === 1 ? stand : { ...stand, pulsesPerTurn: stand.pulsesPerTurn * checkedShaftRatio(ratio) };
}

/** Place of the plan's setting on its scale: a number as one writes it, or the place of a named mark; null where it is neither. */
export function settingNumberOf({ drill: { setting, scale } }: RunPlan): number | null {
  const written = setting.trim();
  const place = (scale?.marks ?? []).findIndex((mark) => mark.toLowerCase() === written.toLowerCase());
  if (place >= 0) return scale!.low + place * scale!.step;
  const plain = written.replace(',', '.');
  return /^[+-]?\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

/** Preset count of pulses: the planned turns rounded to a whole pulse, at least one. */
export function presetPulsesOf(plan: RunPlan, stand: StandFacts): number {
  return Math.max(1, Math.round(plan.turns * stand.pulsesPerTurn));
}

/**
 * Goes through every figure of plan and stand that is reckoned with.
 * @throws DomainError with a sentence for the first that cannot be.
 */
export function checkPlan(plan: RunPlan, stand: StandFacts): void {
  checkedGeometry(geometryOf(plan));
  const doubts = geometryDoubtsOf(plan);
  checked(doubts.circumference, { least: 0 }, 'The doubt of the circumference', 'circumferenceDoubtMetres');
  checked(doubts.rowSpacing, { least: 0 }, 'The doubt of the row spacing', 'rowSpacingDoubtMetres');
  checked(doubts.slip, { least: 0 }, 'The doubt of the slip', 'slipDoubt');
  checked(plan.target.gramsPerSquareMetre, { above: 0 }, 'The wanted rate', 'gramsPerSquareMetre');
  checked(plan.target.tolerance, { above: 0 }, 'The tolerance', 'tolerance');
  checked(plan.seed.seedMassGrams, { above: 0 }, 'The mass of a seed', 'seedMassGrams');
  checked(plan.seed.repeatability, { least: 0 }, 'The repeatability', 'repeatability');
  checked(plan.turns, { above: 0 }, 'The number of turns', 'turns');
  checked(stand.pulsesPerTurn, { least: 1 }, 'The pulses per turn', 'pulsesPerTurn');
  checked(stand.cells.length, { least: 1 }, 'The number of load cells', 'cells');
  for (const cell of stand.cells) {
    checked(Math.abs(cell.gramsPerCount), { above: 0 }, 'The slope of a load cell', 'gramsPerCount');
  }
  checked(presetPulsesOf(plan, stand), { most: 16_777_215 }, 'The count of pulses', 'turns');
}
