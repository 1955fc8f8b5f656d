import { checked } from './error.ts';
import type { ScaleCalibration } from './scale-calibration.ts';
import { combineDoubts, type Doubt, halfWidthOfAll } from './statistics.ts';

/** How well a calibrated scale knows what it weighs. */

/** Loads between which a catch is weighed, grams: the hanging bag, and bag with catch. */
export interface LoadRange {
  from: number;
  to: number;
}

/** Chance below which a bend is believed. */
const believedBend = 0.05;

const known = (standard: number): Doubt => ({ standard, degreesOfFreedom: Number.POSITIVE_INFINITY });

/** The parts of the slope's relative doubt: scatter of the calibration, its masses, what they share, the scale's bend. */
export function slopeDoubtParts(calibration: ScaleCalibration, range?: LoadRange): readonly Doubt[] {
  const bend = range === undefined ? 0 : bendBetween(calibration, range);
  const parts = [calibration.massesOfSlope, calibration.sharedDoubt, bend];
  return [calibration.scatterOfSlope, ...parts.filter((part) => part > 0).map(known)];
}

/**
 * Relative standard doubt of the scale's slope, the same in all runs weighed with this calibration: caught mass x this is what it adds to the
 * doubt of a catch, beside the noise and drift of its two weighings. With the `range` of loads that a catch is weighed in (grams, `from` below
 * `to`), what the scale's bend puts there is in it too: the difference between the line and the parabola through the check masses, where a bend
 * shows; as an uncorrected error it counts in full. Source: JCGM 100:2008, 5.1.2 and F.2.4.5.
 * @throws DomainError `out-of-range` for a range that is none.
 */
export function slopeDoubt(calibration: ScaleCalibration, range?: LoadRange): Doubt {
  return combineDoubts(slopeDoubtParts(calibration, range));
}

/** Relative difference between the parabola's chord over the range and the line's slope; 0 where no bend shows. */
function bendBetween({ diagnostics, line }: ScaleCalibration, { from, to }: LoadRange): number {
  checked(from, { least: 0 }, 'The lighter load', 'from');
  checked(to, { above: from }, 'The heavier load', 'to');
  const { bend } = diagnostics;
  if (bend === null || bend.probability >= believedBend) {
    return 0;
  }
  const [, slope, curvature] = bend.curve.fit.coefficients as [number, number, number];
  return Math.abs((slope + curvature * (from + to)) / line.slope - 1);
}

/** A load as the scale weighs it, grams. */
export interface WeighedLoad {
  grams: number;
  /** All doubts together. */
  doubt: Doubt;
  /** Interval that holds the load with the wanted confidence. */
  low: number;
  high: number;
}

/**
 * The load at which the scale gives `counts` (mean of a weighing, with its `standardError` in counts, from 0), put on as the check masses
 * were. Its scatter is that of the calibration's own weighings, or more where this one is noisier; added are the doubt of the line there and that
 * of the masses, which all weighings share. `confidence` above 0, below 1. Zero is that of the calibration: for a catch, of which the tare
 * is taken, use `slopeDoubt`.
 * Source: JCGM 100:2008, H.3.5 and 5.2.2, the line read backwards to first order.
 * @throws DomainError `not-a-number`, `out-of-range`.
 */
export function weighedLoad(
  calibration: ScaleCalibration,
  counts: number,
  standardError = 0,
  confidence = 0.95,
): WeighedLoad {
  checked(counts, {}, 'The counts', 'counts');
  checked(standardError, { least: 0 }, 'The standard error of the counts', 'standardError');
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  const { line, centre, squares, scatter, noise, steps, levers, sharedDoubt } = calibration;
  const away = (counts - line.height) / line.slope;
  const load = centre + away;
  const louder = Math.max(0, standardError ** 2 - noise ** 2);
  const variance = scatter.standard ** 2 * (1 + 1 / steps.length + away ** 2 / squares) + louder;
  const parts = [
    {
      standard: Math.sqrt(variance) / Math.abs(line.slope),
      degreesOfFreedom: scatter.degreesOfFreedom,
    },
    ...levers.map(({ level, slope, standardDoubt }) => known((level + slope * away) * standardDoubt)),
    known(load * sharedDoubt),
  ].map(({ standard, degreesOfFreedom }) => ({ standard: Math.abs(standard), degreesOfFreedom }));
  const half = halfWidthOfAll(parts, confidence);
  return { grams: load, doubt: combineDoubts(parts), low: load - half, high: load + half };
}
