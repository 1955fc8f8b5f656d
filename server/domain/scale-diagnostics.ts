import { suspects, type TriedLine } from './scale-faults.ts';
import type { LoadedStep, LoadLevel } from './scale-steps.ts';
import type { Doubt } from './statistics.ts';
import { type Bend, bendOf, probabilityOfChance } from './straight-line.ts';

/** What the weighings of a calibration tell besides the line: hysteresis, zero return, repeatability, bend, creep. */

/** A figure in grams and the load it was seen at. */
export interface AtLoad {
  grams: number;
  load: number;
}

/** How far a line stands off from what the scale does. Grams; null where the weighings cannot tell. */
export interface ScaleDiagnostics {
  /** Largest difference, coming down less going up, at one load above 0. */
  hysteresis: AtLoad | null;
  /** Last weighing of the empty scale less the first. */
  zeroReturn: number | null;
  /** Standard deviation of weighings of the same load, come to from the same side. */
  repeatability: Doubt | null;
  /** Largest departure of the mean of a load from the line. */
  nonLinearity: AtLoad;
  /** How far a parabola leaves the line over the span; whether chance would bend it as far; scatter about the parabola, grams. */
  bend: { grams: number; probability: number; scatter: number; curve: Bend } | null;
  /** Largest change while a load was averaged, and its standard error. */
  creep: (AtLoad & { standardError: number }) | null;
}

/** What is worth saying about a calibration that stands. */
export type CalibrationWarningCode =
  | 'few-masses'
  | 'no-return'
  | 'span-below-use'
  | 'hysteresis'
  | 'zero-return'
  | 'bend'
  | 'creep'
  | 'odd-mass';

/** A warning with its sentence for people. */
export interface CalibrationWarning {
  code: CalibrationWarningCode;
  sentence: string;
}

const farthest = <T extends { grams: number }>(list: readonly T[]): T | null =>
  list.reduce<T | null>(
    (most, each) => (most === null || Math.abs(each.grams) > Math.abs(most.grams) ? each : most),
    null,
  );

const meanCounts = (steps: readonly LoadedStep[]): number =>
  steps.reduce((sum, { counts }) => sum + counts, 0) / steps.length;

function hysteresisOf(levels: readonly LoadLevel[], gramsPerCount: number): AtLoad | null {
  const both = levels.flatMap(({ load, steps }) => {
    const up = steps.filter(({ direction }) => direction === 'up');
    const down = steps.filter(({ direction }) => direction === 'down');
    return load === 0 || up.length === 0 || down.length === 0
      ? []
      : [{ load, grams: (meanCounts(down) - meanCounts(up)) * gramsPerCount }];
  });
  return farthest(both);
}

function zeroReturnOf(levels: readonly LoadLevel[], gramsPerCount: number): number | null {
  const zeros = levels.find(({ load }) => load === 0)?.steps ?? [];
  return zeros.length < 2 ? null : (zeros.at(-1)!.counts - zeros[0]!.counts) * gramsPerCount;
}

/** Pooled over loads and directions. Source: JCGM 100:2008, 4.2.2 and H.3.6 (pooled estimate). */
function repeatabilityOf(levels: readonly LoadLevel[], gramsPerCount: number): Doubt | null {
  const groups = levels.flatMap(({ steps }) =>
    (['up', 'down'] as const).map((way) => steps.filter(({ direction }) => direction === way)),
  );
  const repeated = groups.filter(({ length }) => length > 1);
  const degreesOfFreedom = repeated.reduce((sum, { length }) => sum + length - 1, 0);
  if (degreesOfFreedom === 0) {
    return null;
  }
  const squares = repeated.reduce((sum, group) => {
    const centre = meanCounts(group);
    return sum + group.reduce((within, { counts }) => within + (counts - centre) ** 2, 0);
  }, 0);
  return { standard: Math.sqrt(squares / degreesOfFreedom) * Math.abs(gramsPerCount), degreesOfFreedom };
}

/** A parabola c x² leaves the line closest to it over a span by c span² / 8 at most. */
function bendOfSteps(steps: readonly LoadedStep[], gramsPerCount: number): ScaleDiagnostics['bend'] {
  if (steps.length < 4) {
    return null;
  }
  const loads = steps.map(({ load }) => load);
  const curve = bendOf(
    loads,
    steps.map(({ counts }) => counts),
  );
  const span = Math.max(...loads);
  return {
    grams: (curve.curvature * span ** 2 * gramsPerCount) / 8,
    probability: curve.probability,
    scatter: curve.fit.spread * Math.abs(gramsPerCount),
    curve,
  };
}

/** The diagnostics of `steps` on the line through them: `gramsPerCount`, and counts at zero load. */
export function diagnose(
  steps: readonly LoadedStep[],
  levels: readonly LoadLevel[],
  gramsPerCount: number,
  zeroCounts: number,
): ScaleDiagnostics {
  const departures = levels.map(({ load, counts }) => ({
    load,
    grams: (counts - zeroCounts) * gramsPerCount - load,
  }));
  const drifts = steps.flatMap(({ load, drift }) =>
    drift === undefined || load === 0
      ? []
      : [
          {
            load,
            grams: drift.counts * gramsPerCount,
            standardError: drift.standardError * Math.abs(gramsPerCount),
          },
        ],
  );
  return {
    hysteresis: hysteresisOf(levels, gramsPerCount),
    zeroReturn: zeroReturnOf(levels, gramsPerCount),
    repeatability: repeatabilityOf(levels, gramsPerCount),
    nonLinearity: farthest(departures)!,
    bend: bendOfSteps(steps, gramsPerCount),
    creep: farthest(drifts.filter(({ grams, standardError }) => Math.abs(grams) > 3 * standardError)),
  };
}

/** Share of the span below which an effect is not worth a word: the combined error of a cheap cell. Common practice, no source. */
const worthSaying = 0.0005;

const say = (grams: number): string => `${Number(Math.abs(grams).toPrecision(2))} g`;

/** What is worth saying about the weighings themselves: how many, which way, how far. `heaviest`: largest load to be weighed, grams, or null. */
export function planWarnings(
  steps: readonly LoadedStep[],
  levels: readonly LoadLevel[],
  heaviest: number | null,
): readonly CalibrationWarning[] {
  const warnings: CalibrationWarning[] = [];
  const loads = levels.length - 1;
  const span = levels.at(-1)!.load;
  if (loads < 4) {
    const sentence = `Only ${loads} different loads: five show a wrong mass or a bend far more surely.`;
    warnings.push({ code: 'few-masses', sentence });
  }
  if (!steps.some(({ direction, load }) => direction === 'down' && load > 0)) {
    const sentence =
      'No weighing on the way down: whether the scale comes back the way it went stays unknown.';
    warnings.push({ code: 'no-return', sentence });
  }
  if (heaviest !== null && heaviest > span) {
    const sentence = `Loads up to ${heaviest} g are to be weighed, but the masses reach only to ${span} g: beyond them the line is a guess.`;
    warnings.push({ code: 'span-below-use', sentence });
  }
  return warnings;
}

/**
 * What is worth saying about the scale: each effect that is larger than chance makes it and larger than matters. `span`: the heaviest check load,
 * `noise`: standard deviation of a weighing through its readings alone, grams both.
 */
export function scaleWarnings(
  found: ScaleDiagnostics,
  span: number,
  noise: number,
): readonly CalibrationWarning[] {
  const small = worthSaying * span;
  // Three standard deviations of a difference of two weighings.
  const chance = 3 * Math.SQRT2 * Math.max(noise, found.repeatability?.standard ?? 0);
  const warnings: CalibrationWarning[] = [];
  const { hysteresis, zeroReturn, bend, creep } = found;
  if (hysteresis !== null && Math.abs(hysteresis.grams) > Math.max(small, chance)) {
    const sentence = `At ${hysteresis.load} g the scale shows ${say(hysteresis.grams)} ${hysteresis.grams > 0 ? 'more' : 'less'} coming down than going up: look for friction, a bag or cable that touches, a loose screw.`;
    warnings.push({ code: 'hysteresis', sentence });
  }
  if (zeroReturn !== null && Math.abs(zeroReturn) > Math.max(small, chance)) {
    const sentence = `The empty scale came back ${say(zeroReturn)} ${zeroReturn > 0 ? 'higher' : 'lower'}: it drifts, creeps or sticks.`;
    warnings.push({ code: 'zero-return', sentence });
  }
  if (bend !== null && bend.probability < 0.01 && Math.abs(bend.grams) > small / 2) {
    const sentence = `The scale bends: a curve leaves the line by ${say(bend.grams)}, and the weighings scatter by only ${say(bend.scatter)} about it. Calibrate over the loads you weigh.`;
    warnings.push({ code: 'bend', sentence });
  }
  if (creep !== null && Math.abs(creep.grams) > small / 2) {
    const sentence = `At ${creep.load} g the reading still moved by ${say(creep.grams)} while it was averaged: wait longer, or the cell creeps.`;
    warnings.push({ code: 'creep', sentence });
  }
  return warnings;
}

/** Probability with which a sound set of masses may be warned about. */
const falseAlarms = 0.01;

/**
 * Masses that are off by far more than scatter and their own tolerance, though too little to refuse. `doubts`: standard doubt of each mass by
 * name, grams. Student's t against a bound that holds for all masses together (Bonferroni), at two degrees of freedom or more.
 */
export function oddMasses(
  steps: readonly LoadedStep[],
  tried: TriedLine,
  doubts: ReadonlyMap<string, number>,
): readonly CalibrationWarning[] {
  const all = suspects(steps, tried).filter(({ mass, freedom }) => mass !== null && freedom >= 2);
  const odd = all
    .filter(({ t, freedom, grams, mass }) => {
      const beyondTolerance = Math.abs(grams) > 2 * doubts.get(mass!)!;
      const chance = probabilityOfChance(t, { standard: 1, degreesOfFreedom: freedom });
      return beyondTolerance && chance < falseAlarms / all.length;
    })
    .sort((a, b) => a.leftSquares - b.leftSquares);
  return odd.slice(0, 1).map(({ name, grams }) => ({
    code: 'odd-mass',
    sentence: `Of all masses ${name} fits the others worst: it reads ${say(grams)} too ${grams > 0 ? 'much' : 'little'}. Is it the right one?`,
  }));
}
