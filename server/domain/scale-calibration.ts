import type { CheckMass } from './check-masses.ts';
import { checked, DomainError } from './error.ts';
import {
  type CalibrationWarning,
  diagnose,
  oddMasses,
  planWarnings,
  type ScaleDiagnostics,
  scaleWarnings,
} from './scale-diagnostics.ts';
import { checkDepartures } from './scale-faults.ts';
import {
  type CalibrationStep,
  checkLevels,
  type LoadedStep,
  loadedSteps,
  loadLevels,
} from './scale-steps.ts';
import { type Doubt, halfWidth } from './statistics.ts';
import { straightLine } from './straight-line.ts';
import { type Grams, grams } from './units.ts';

/** A scale's calibration as it was done. */
export interface CalibrationRecord {
  masses: readonly CheckMass[];
  /** In the order they were made. */
  steps: readonly CalibrationStep[];
  /** Relative standard doubt that all masses share, for example because one kitchen scale weighed them all. From 0, left out: 0. */
  sharedDoubt?: number;
  /** Heaviest load that the scale is to weigh, bag and all. */
  heaviest?: Grams;
  /** The cell is mounted so that its counts fall under load. */
  falling?: boolean;
}

/** How one check mass's own error moves the line. */
interface MassLever {
  standardDoubt: number;
  /** Share of the mass in the mean load. */
  level: number;
  /** What one gram of error does to the slope, relative, a gram. */
  slope: number;
}

/** A scale's straight line, counts to grams, with what is known of it. */
export interface ScaleCalibration {
  /** Grams a count; below 0 for a falling scale. */
  gramsPerCount: number;
  /** Counts of the empty scale, on the line. */
  zeroCounts: number;
  /** Heaviest check load. */
  span: Grams;
  /** Counts against grams: slope, counts at `centre`, counts at zero. */
  line: { slope: number; height: number; intercept: number };
  /** Mean load of all weighings, grams: there the line is known best. */
  centre: number;
  /** Sum of the squared distances of all loads from it, grams squared. */
  squares: number;
  /** Standard deviation of a single weighing about the line, counts: noise, placing, hysteresis and bend alike. */
  scatter: Doubt;
  /** Relative standard doubt of the slope from that scatter. */
  scatterOfSlope: Doubt;
  /** Relative standard doubt of the slope from the masses' own: the same for everything ever weighed with it. */
  massesOfSlope: number;
  /** Relative standard doubt that all masses share. */
  sharedDoubt: number;
  /** The steps with load, direction and residual: what the scale shows too much there, grams. */
  steps: readonly (LoadedStep & { residual: number })[];
  diagnostics: ScaleDiagnostics;
  warnings: readonly CalibrationWarning[];
  /** Mean noise of the weighings themselves, standard, counts. */
  noise: number;
  levers: readonly MassLever[];
}

/** Largest relative doubt from scatter that a slope may have: beyond it the masses are too light for the scale's noise. */
const mostScatterOfSlope = 0.005;

/** Derivatives of mean load and relative slope by each mass's error: the masses stand on the x of the fit, where an error counts as one of y. */
function leversOf(masses: readonly CheckMass[], steps: readonly LoadedStep[], fit: Fit): MassLever[] {
  return masses.map(({ name, standardDoubt }) => {
    const on = steps.filter((step) => step.masses.includes(name));
    return {
      standardDoubt,
      level: on.length / steps.length,
      slope: on.reduce((sum, { load }) => sum + load - fit.centre, 0) / fit.squares,
    };
  });
}

/** The line through the steps, with the scatter that its doubts rest on. */
interface Fit extends Pick<ScaleCalibration, 'line' | 'scatter' | 'noise' | 'centre' | 'squares'> {
  residuals: readonly number[];
}

/** Scatter as found, or the noise that is known to be in it where that leaves less certain what a weighing is worth. */
function scatterOf(spread: number, degreesOfFreedom: number, noise: number): Doubt {
  const found = { standard: spread, degreesOfFreedom };
  const known = { standard: noise, degreesOfFreedom: Number.POSITIVE_INFINITY };
  return spread >= noise || halfWidth(found, 0.95) >= halfWidth(known, 0.95) ? found : known;
}

function fitOf(steps: readonly LoadedStep[]): Fit {
  const line = straightLine(
    steps.map(({ load }) => load),
    steps.map(({ counts }) => counts),
  );
  const noise = Math.sqrt(steps.reduce((sum, each) => sum + each.standardError ** 2, 0) / steps.length);
  return {
    line: { slope: line.slope, height: line.height, intercept: line.intercept },
    scatter: scatterOf(line.spread, line.residualFreedom, noise),
    noise,
    centre: line.centre,
    squares: steps.reduce((sum, { load }) => sum + (load - line.centre) ** 2, 0),
    residuals: line.residuals,
  };
}

/** Scatter of the slope, relative, refused where noise drowns the masses. */
function checkedScatterOfSlope({ line, scatter, squares }: Fit, span: number): Doubt {
  const standard = scatter.standard / Math.sqrt(squares) / Math.abs(line.slope);
  if (!(standard <= mostScatterOfSlope)) {
    const enough = span * (standard / mostScatterOfSlope);
    throw new DomainError(
      'out-of-range',
      `The masses are too light for the noise of this scale: its slope stays uncertain by ${(100 * standard).toPrecision(2)} %. ` +
        `Weigh up to about ${Number(enough.toPrecision(1))} g, more often, or calm the scale first.`,
      'steps',
    );
  }
  return { standard, degreesOfFreedom: scatter.degreesOfFreedom };
}

function warningsOf(
  record: CalibrationRecord,
  steps: readonly LoadedStep[],
  diagnostics: ScaleDiagnostics,
  fit: Fit,
): readonly CalibrationWarning[] {
  const levels = loadLevels(steps);
  const doubts = new Map(record.masses.map(({ name, standardDoubt }) => [name, Number(standardDoubt)]));
  return [
    ...planWarnings(steps, levels, record.heaviest ?? null),
    ...scaleWarnings(diagnostics, levels.at(-1)!.load, fit.noise / Math.abs(fit.line.slope)),
    ...oddMasses(steps, fit, doubts),
  ];
}

/**
 * Straight line from counts to grams through zero and check masses: at least the empty scale and two different loads, better five, up and down.
 * Counts are fitted on grams by least squares, for the noise is theirs, and the line is read backwards. The scatter about it is never taken
 * for less than the weighings' own noise. Masses up to 1 t, counts of any converter. Gravity and buoyancy cancel: scale-steps.ts says why.
 * Source: JCGM 100:2008, H.3 (line) and 5.2 (what all weighings share); the rules for refusing and warning say theirs where they stand.
 * @throws DomainError `too-few`, `inconsistent`, `out-of-range`, `not-a-number`, with a sentence that names the mass at fault where one is.
 */
export function calibrateScale(record: CalibrationRecord): ScaleCalibration {
  const { masses, sharedDoubt = 0, falling = false, heaviest } = record;
  checked(sharedDoubt, { least: 0, most: 0.1 }, 'The doubt that all masses share', 'sharedDoubt');
  checked(heaviest ?? 1, { above: 0 }, 'The heaviest load', 'heaviest');
  const steps = loadedSteps(masses, record.steps);
  const levels = loadLevels(steps);
  checkLevels(levels, falling);
  const fit = fitOf(steps);
  checkDepartures(steps, levels, fit);
  const span = levels.at(-1)!.load;
  const scatterOfSlope = checkedScatterOfSlope(fit, span);
  const levers = leversOf(masses, steps, fit);
  const gramsPerCount = 1 / fit.line.slope;
  const diagnostics = diagnose(steps, levels, gramsPerCount, fit.line.intercept);
  const { residuals, ...kept } = fit;
  return {
    ...kept,
    gramsPerCount,
    zeroCounts: kept.line.intercept,
    span: grams(span),
    scatterOfSlope,
    massesOfSlope: Math.hypot(...levers.map(({ slope, standardDoubt }) => slope * standardDoubt)),
    sharedDoubt,
    steps: steps.map((step, i) => ({ ...step, residual: residuals[i]! * gramsPerCount })),
    diagnostics,
    warnings: warningsOf(record, steps, diagnostics, fit),
    levers,
  };
}
