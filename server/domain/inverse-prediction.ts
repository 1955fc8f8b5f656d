import { checked, DomainError } from './error.ts';
import { type Doubt, studentQuantile } from './statistics.ts';
import { lineAt, type StraightLine } from './straight-line.ts';

/** Where a wanted height may lie along a line, by Fieller's method. */
export type Whereabouts =
  /** From `low` to `high`. */
  | { kind: 'interval'; low: number; high: number }
  /** The slope may be 0: anywhere at or below `below`, or at or above `above`; either may be infinite. */
  | { kind: 'two-sides'; below: number; above: number }
  /** The observations exclude no place at all. */
  | { kind: 'anywhere' }
  /** The line is exactly level at another height. */
  | { kind: 'nowhere' };

/** The x at which a line has the wanted y. */
export interface InversePrediction {
  /** Best single value; null where the line is exactly level. */
  x: number | null;
  /** First-order standard uncertainty of `x`, with the line's degrees of freedom; Infinity where the line is level. */
  doubt: Doubt;
  /** Fieller's g: squared ratio of the slope's half-width to the slope. From 1 on the slope cannot be told from 0. */
  slopeDoubtSquared: number;
  whereabouts: Whereabouts;
}

/**
 * The x at which `line` reaches `y`, and the set of x that the observations do not exclude at `confidence` (above 0, below 1).
 * `variance` is that of the wanted y itself, 0 for a plain wish: for the mean of m readings that scatter like the line's own it is
 * spread² / m, for a reading of weight w it is spread² / w.
 * The set is where (y - line at x)² is at most t² times (variance + variance of the line at x). Source: E. C. Fieller, Journal of the Royal
 * Statistical Society B 16 (1954) 175-185; N. R. Draper and H. Smith, Applied Regression Analysis, 3.2 (both from memory).
 * @throws DomainError `not-a-number`, `out-of-range`.
 */
export function inversePrediction(
  line: StraightLine,
  y: number,
  variance = 0,
  confidence = 0.95,
): InversePrediction {
  checked(y, {}, 'The wanted value', 'y');
  checked(variance, { least: 0 }, 'The variance of the wanted value', 'variance');
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  const { slope, slopeDoubt } = line;
  const t = studentQuantile(0.5 + confidence / 2, slopeDoubt.degreesOfFreedom);
  const x = slope === 0 ? null : line.centre + (y - line.height) / slope;
  const first = x === null ? Infinity : Math.sqrt(variance + lineAt(line, x).standard ** 2) / Math.abs(slope);
  return {
    x,
    doubt: { standard: first, degreesOfFreedom: slopeDoubt.degreesOfFreedom },
    slopeDoubtSquared: slope === 0 ? Infinity : ((t * slopeDoubt.standard) / slope) ** 2,
    whereabouts: whereaboutsOf(line, y - line.height, t, variance),
  };
}

/**
 * With u = x - centre and d the height wanted above the line's centre: (slope² - t² vs) u² - 2 slope d u + d² - t² (variance + vh) is 0 or
 * less, vs and vh the variances of slope and height. The discriminant is written so that nothing cancels.
 */
function whereaboutsOf(line: StraightLine, d: number, t: number, variance: number): Whereabouts {
  const { slope, centre } = line;
  const slopeVariance = line.slopeDoubt.standard ** 2;
  const heightVariance = variance + line.heightDoubt.standard ** 2;
  const steep = (slope - t * line.slopeDoubt.standard) * (slope + t * line.slopeDoubt.standard);
  const discriminant = slopeVariance * d ** 2 + steep * heightVariance;
  if (slope === 0 && slopeVariance === 0) {
    return { kind: d ** 2 <= t ** 2 * heightVariance ? 'anywhere' : 'nowhere' };
  }
  if (discriminant < 0) {
    return { kind: 'anywhere' };
  }
  const half = t * Math.sqrt(discriminant);
  const larger = slope * d + (slope * d < 0 ? -half : half);
  const rest = (d - t * Math.sqrt(heightVariance)) * (d + t * Math.sqrt(heightVariance));
  const far = centre + larger / steep;
  const near = centre + (larger === 0 ? 0 : rest / larger);
  const [low, high] = near < far ? [near, far] : [far, near];
  if (steep > 0) {
    return { kind: 'interval', low, high };
  }
  return steep === 0 ? halfLine(line, d, near) : { kind: 'two-sides', below: low, above: high };
}

/** The border case: the slope is exactly its half-width, so one end lies at infinity, on the side the wanted height lies. */
function halfLine({ slope }: StraightLine, d: number, near: number): Whereabouts {
  if (d === 0) {
    return { kind: 'anywhere' };
  }
  return d * slope > 0
    ? { kind: 'two-sides', below: Number.NEGATIVE_INFINITY, above: near }
    : { kind: 'two-sides', below: near, above: Number.POSITIVE_INFINITY };
}

/**
 * Variance of the mean of `readings` (1 or more) that scatter about `line` as its own observations of weight 1 did; the square of y's unit.
 * @throws DomainError `out-of-range` for fewer.
 */
export function varianceOfReadings(line: StraightLine, readings: number): number {
  if (!(readings >= 1)) {
    throw new DomainError('out-of-range', 'This takes at least one reading.', 'readings');
  }
  return line.spread ** 2 / readings;
}
