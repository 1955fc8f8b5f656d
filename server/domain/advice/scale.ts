import type { SettingScale } from './types.ts';

/** Number of steps from the lowest to the highest mark. */
export function stepsOf(scale: SettingScale): number {
  return Math.floor((scale.high - scale.low) / scale.step + 1e-9);
}

/** The mark `index` steps above the lowest, free of rounding dust. */
export function markAt(scale: SettingScale, index: number): number {
  return Number((scale.low + index * scale.step).toFixed(9));
}

/** Index of the mark nearest to `setting`, kept on the scale. */
export function nearestIndex(scale: SettingScale, setting: number): number {
  const index = Math.round((setting - scale.low) / scale.step);
  return Math.min(stepsOf(scale), Math.max(0, index));
}

/** The mark nearest to `setting`, kept on the scale. */
export function nearestMark(scale: SettingScale, setting: number): number {
  return markAt(scale, nearestIndex(scale, setting));
}

/** All marks, lowest first. */
export function marksOf(scale: SettingScale): number[] {
  return Array.from({ length: stepsOf(scale) + 1 }, (_, index) => markAt(scale, index));
}
