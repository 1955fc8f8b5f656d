import type { CheckMass } from '../domain/check-masses.ts';
import { DomainError } from '../domain/error.ts';
import { calibrateScale, type ScaleCalibration } from '../domain/scale-calibration.ts';
import { behavesAs, type ScaleError } from '../domain/scale-class.ts';
import type { CalibrationWarningCode } from '../domain/scale-diagnostics.ts';
import { slopeDoubt } from '../domain/scale-doubt.ts';
import { type CalibrationStep, type LoadLevel, loadedSteps, loadLevels } from '../domain/scale-steps.ts';
import { type Doubt, halfWidth } from '../domain/statistics.ts';
import { grams } from '../domain/units.ts';
import type { MassPlace, ScaleResult } from '../http/scale-messages.ts';

/** A check of a cell with masses, as data; and what its weighings say. Pure. */

export interface PlacedStep extends CalibrationStep {
  place: MassPlace;
}

export interface ScaleCheck {
  cell: number;
  stand: string;
  begunAt: string;
  masses: readonly CheckMass[];
  sharedDoubt: number;
  heaviest: number;
  /** Slope and zero that the stand had when the check began. */
  inForce: { gramsPerCount: number; zeroCount: number };
  /** In the order they were made, those off the middle among them. */
  steps: readonly PlacedStep[];
}

/** Standard doubt that stands for the 95 % half-width of Student's t where only a standard doubt can be handed on. */
export const asKnown = (doubt: Doubt): number => halfWidth(doubt, 0.95) / 1.959963985;

/** Warnings about how the check was done; all others are about the scale. */
const aboutTheCheck: ReadonlySet<CalibrationWarningCode> = new Set([
  'few-masses',
  'no-return',
  'span-below-use',
]);

/** The steps that the line rests on. */
const inTheMiddle = (check: ScaleCheck): readonly PlacedStep[] =>
  check.steps.filter(({ place }) => place === 'middle');

export const recordOf = (check: ScaleCheck) => ({
  masses: check.masses,
  steps: inTheMiddle(check).map(({ place: _, ...step }) => step),
  sharedDoubt: check.sharedDoubt,
  heaviest: grams(check.heaviest),
  falling: check.inForce.gramsPerCount < 0,
});

/** Loads of a catch: the lower half of what was tried, where a bend counts most. */
const catchRange = ({ span }: ScaleCalibration) => ({ from: 0, to: span / 2 });

/** Errors at each load of a line of that slope through the empty scale as it stood, each with its doubt. */
function errorsOf(check: ScaleCheck, found: ScaleCalibration, gramsPerCount: number): readonly ScaleError[] {
  const levels = loadLevels(loadedSteps(check.masses, recordOf(check).steps));
  const [empty, ...loaded] = levels;
  const single = found.scatter.standard * Math.abs(found.gramsPerCount);
  const doubts = new Map(check.masses.map(({ name, standardDoubt }) => [name, Number(standardDoubt)]));
  return loaded.map((level) => {
    const own = level.steps[0]!.masses.reduce((sum, name) => sum + (doubts.get(name) ?? 0), 0);
    const scatter = single * Math.sqrt(1 / level.steps.length + 1 / empty!.steps.length);
    return {
      load: grams(level.load),
      error: grams((level.counts - empty!.counts) * gramsPerCount - level.load),
      standardDoubt: grams(Math.hypot(scatter, own, check.sharedDoubt * level.load)),
    };
  });
}

function classOf(errors: readonly ScaleError[]): ScaleResult['classAsFound'] {
  const verdict = behavesAs('III', errors, 'service');
  return verdict.fits ? { interval: verdict.interval, leastLoad: verdict.leastLoad } : null;
}

/** Mean counts of the weighings in the middle of the same masses. */
function middleOf(levels: readonly LoadLevel[], load: number): number | null {
  return levels.find((level) => Math.abs(level.load - load) <= 1e-9 * load)?.counts ?? null;
}

/** Largest difference of a mass off the middle from the same mass in it. */
function offCentreOf(check: ScaleCheck, found: ScaleCalibration): ScaleResult['offCentre'] {
  const levels = loadLevels(loadedSteps(check.masses, recordOf(check).steps));
  const known = new Map(check.masses.map(({ name, grams: mass }) => [name, Number(mass)]));
  const half = Math.SQRT2 * Math.abs(found.gramsPerCount) * halfWidth(found.scatter, 0.95);
  return check.steps.reduce<ScaleResult['offCentre']>((most, { place, masses, counts }) => {
    if (place === 'middle') return most;
    const load = masses.reduce((sum, name) => sum + (known.get(name) ?? 0), 0);
    const middle = middleOf(levels, load);
    if (middle === null) return most;
    const off = (counts - middle) * found.gramsPerCount;
    return most === null || Math.abs(off) > Math.abs(most.grams) ? { grams: off, half, place } : most;
  }, null);
}

/** Share of the span that a mass may read differently off the middle: the combined error of a cheap cell. Common practice, no source. */
const offCentreShare = 0.0005;

function resultOf(check: ScaleCheck, found: ScaleCalibration): ScaleResult {
  const { gramsPerCount, zeroCounts, diagnostics, span, warnings } = found;
  const doubt = slopeDoubt(found, catchRange(found));
  const slopeError = check.inForce.gramsPerCount / gramsPerCount - 1;
  const offCentre = offCentreOf(check, found);
  const off =
    offCentre !== null && Math.abs(offCentre.grams) > Math.max(offCentre.half, offCentreShare * span);
  const { nonLinearity, hysteresis, zeroReturn, repeatability, creep, bend } = diagnostics;
  return {
    slopeError,
    slopeErrorHalf: halfWidth(doubt, 0.95),
    gramsPerCount,
    zeroCount: Math.round(zeroCounts),
    slopeDoubt: asKnown(doubt),
    doubtAsItIs: Math.hypot(asKnown(doubt), slopeError),
    spanGrams: span,
    nonLinearity,
    hysteresis,
    zeroReturn,
    repeatability: repeatability?.standard ?? null,
    creep: creep && { grams: creep.grams, load: creep.load },
    bend: bend && { grams: bend.grams, probability: bend.probability },
    offCentre,
    warnings: warnings.map(({ code, sentence }) => ({ code, sentence })),
    classAsFound: classOf(errorsOf(check, found, check.inForce.gramsPerCount)),
    classAsLeft: classOf(errorsOf(check, found, gramsPerCount)),
    passed: !off && warnings.every(({ code }) => aboutTheCheck.has(code)),
  };
}

/** What the check says so far, or why it says nothing yet. */
export function judged(
  check: ScaleCheck,
): { found: ScaleCalibration; result: ScaleResult } | { why: string } {
  try {
    const found = calibrateScale(recordOf(check));
    return { found, result: resultOf(check, found) };
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    return { why: error.message };
  }
}
