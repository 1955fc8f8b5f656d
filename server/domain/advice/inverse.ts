import { probabilityBelow, rateAt } from './curve.ts';
import type { CurvePosterior } from './posterior.ts';
import type { Interval, SettingScale } from './types.ts';

/** The setting for a wanted rate: inverse prediction. */

/** Where on the scale a rate lies. */
export interface SettingFor {
  /** Setting (not yet a mark) with its interval, cut to the scale's ends; null when the rate probably lies off the scale. */
  setting: Interval | null;
  openLow: boolean;
  openHigh: boolean;
  /** Which end is short when `setting` is null: the whole scale gives too little, or too much. */
  beyond: 'too little' | 'too much' | null;
}

/** Pieces that the scale is searched in before halving. */
const pieces = 32;

/**
 * Setting at which the curve gives `rate` (g/m², more than 0), with the interval that holds it with `confidence`. The rate is more
 * likely passed than not at the setting itself; the ends are where it is passed with (1 ± confidence) / 2 probability. For a single
 * straight line these are Fieller's limits. Source: E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175-185 (from memory), with the
 * posterior in place of Student's t.
 */
export function settingFor(
  curve: CurvePosterior,
  scale: SettingScale,
  rate: number,
  confidence = 0.95,
): SettingFor {
  const passed = (setting: number) => 1 - probabilityBelow(rateAt(curve, setting, 'exact'), rate);
  const grid = Array.from({ length: pieces + 1 }, (_, i) => {
    const setting = scale.low + ((scale.high - scale.low) * i) / pieces;
    return { setting, passed: passed(setting) };
  });
  const centre = firstAbove(grid, passed, 0.5);
  if (centre === 'below' || centre === 'above') {
    const beyond = centre === 'above' ? 'too little' : 'too much';
    return { setting: null, openLow: true, openHigh: true, beyond };
  }
  const low = lastBelow(grid, passed, (1 - confidence) / 2, centre);
  const high = firstAbove(
    grid.filter(({ setting }) => setting >= centre),
    passed,
    (1 + confidence) / 2,
    centre,
  );
  const highEnd = typeof high === 'number' ? high : scale.high;
  return {
    setting: { value: centre, low: low ?? scale.low, high: highEnd },
    openLow: low === null,
    openHigh: typeof high !== 'number',
    beyond: null,
  };
}

interface GridPoint {
  setting: number;
  passed: number;
}

/** Where the probability of having passed the rate first reaches `level`: 'below' when it has at once, 'above' when it never does. */
function firstAbove(
  grid: readonly GridPoint[],
  passed: (setting: number) => number,
  level: number,
  from?: number,
): number | 'below' | 'above' {
  const index = grid.findIndex((point) => point.passed >= level);
  if (index < 0) return 'above';
  if (index === 0) return from === undefined ? 'below' : halved(passed, level, from, grid[0]!.setting);
  return halved(passed, level, grid[index - 1]!.setting, grid[index]!.setting);
}

/** Where, going down from `centre`, the probability falls to `level`; null when it never does on the scale. */
function lastBelow(
  grid: readonly GridPoint[],
  passed: (setting: number) => number,
  level: number,
  centre: number,
): number | null {
  const below = grid.filter(({ setting }) => setting <= centre);
  let upper = centre;
  for (let index = below.length - 1; index >= 0; index -= 1) {
    const point = below[index]!;
    if (point.passed <= level) return halved(passed, level, point.setting, upper);
    upper = point.setting;
  }
  return null;
}

/** Halves between a setting where the rate is passed with less than `level` and one where it is with more. */
function halved(passed: (setting: number) => number, level: number, below: number, above: number): number {
  let low = below;
  let high = above;
  for (let step = 0; step < 24; step += 1) {
    const centre = (low + high) / 2;
    if (passed(centre) < level) low = centre;
    else high = centre;
  }
  return (low + high) / 2;
}
