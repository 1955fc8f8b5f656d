import { DomainError } from './error.ts';
import { type LinearFit, leastSquares, type Prediction, polynomialFit, type Scatter } from './regression.ts';
import { type Doubt, studentProbability } from './statistics.ts';

/** A straight line y = intercept + slope x through observations, by least squares. */
export interface StraightLine {
  intercept: number;
  slope: number;
  interceptDoubt: Doubt;
  slopeDoubt: Doubt;
  /** Of intercept and slope. */
  covariance: number;
  /** Of intercept and slope, -1 to 1. 0 where neither is in doubt. */
  correlation: number;
  /** Weighted mean of x: there the line is known best, and there the doubts of height and slope are independent. */
  centre: number;
  /** Height of the line at `centre`: the weighted mean of y. */
  height: number;
  heightDoubt: Doubt;
  /** Standard deviation of one observation of weight 1 about the line; 1 where variances were known. */
  spread: number;
  residualSumOfSquares: number;
  residualFreedom: number;
  /** Observed less fitted, in the order given. */
  residuals: readonly number[];
  /** Share of the spread about the mean that the line explains. It hides bends: look at the residuals. */
  rSquared: number;
}

/**
 * Straight line by least squares through three or more points (two where variances are known), x in at least two places, in any units. With
 * `weighted` or `known` scatter a weighted line. Source: JCGM 100:2008, H.3.3.
 * @throws DomainError `too-few`, `inconsistent` (all x the same, lengths differ), `not-a-number`, `out-of-range` (beyond ±1e60).
 */
export function straightLine(
  x: readonly number[],
  y: readonly number[],
  scatter: Scatter = { kind: 'even' },
): StraightLine {
  const fit = leastSquares([x.map(() => 1), x], y, scatter);
  const { turn, squares, along } = fit.orthogonal;
  const doubt = (standard: number): Doubt => ({ standard, degreesOfFreedom: fit.degreesOfFreedom });
  const [intercept, slope] = fit.coefficients as [number, number];
  const [[variance, covariance], [, slopeVariance]] = fit.covariance as [[number, number], [number, number]];
  const product = Math.sqrt(variance * slopeVariance);
  return {
    intercept,
    slope,
    interceptDoubt: doubt(Math.sqrt(variance)),
    slopeDoubt: doubt(Math.sqrt(slopeVariance)),
    covariance,
    correlation: product === 0 ? 0 : Math.max(-1, Math.min(1, covariance / product)),
    centre: 0 - turn[0]![1]!,
    height: along[0]!,
    heightDoubt: doubt(fit.spread / Math.sqrt(squares[0]!)),
    spread: fit.spread,
    residualSumOfSquares: fit.residualSumOfSquares,
    residualFreedom: fit.residualFreedom,
    residuals: fit.residuals,
    rSquared: fit.rSquared,
  };
}

/** Height of `line` at `x` with the standard uncertainty of that height itself, not of a new observation there. Source: JCGM 100:2008, H.3.5. */
export function lineAt(line: StraightLine, x: number): Prediction {
  const away = x - line.centre;
  return {
    value: line.height + line.slope * away,
    standard: Math.hypot(line.heightDoubt.standard, line.slopeDoubt.standard * away),
    degreesOfFreedom: line.slopeDoubt.degreesOfFreedom,
  };
}

/** A straight line through the origin. */
export interface OriginLine {
  slope: number;
  slopeDoubt: Doubt;
  spread: number;
  residualSumOfSquares: number;
  residualFreedom: number;
  residuals: readonly number[];
  /** Share of the sum of y² that the line explains: about zero, not about the mean. */
  rSquared: number;
}

/** y = slope x by least squares through two or more points (one where variances are known). Source and errors as `straightLine`. */
export function lineThroughOrigin(
  x: readonly number[],
  y: readonly number[],
  scatter: Scatter = { kind: 'even' },
): OriginLine {
  const fit = leastSquares([x], y, scatter);
  return {
    slope: fit.coefficients[0]!,
    slopeDoubt: { standard: Math.sqrt(fit.covariance[0]![0]!), degreesOfFreedom: fit.degreesOfFreedom },
    spread: fit.spread,
    residualSumOfSquares: fit.residualSumOfSquares,
    residualFreedom: fit.residualFreedom,
    residuals: fit.residuals,
    rSquared: fit.rSquared,
  };
}

/** Whether observations along a line ask for a bend. */
export interface Bend {
  /** The parabola. */
  fit: LinearFit;
  /** Coefficient of x², with its doubt. */
  curvature: number;
  doubt: Doubt;
  /** Probability of a bend as large or larger, either way, where the truth is straight: small means bent. 1 where all is exactly straight. */
  probability: number;
}

/**
 * Parabola through four or more points (three where variances are known), x in at least three places, and the test of its curvature against
 * the scatter about it. Source: Student's t of a coefficient, as in JCGM 100:2008, H.3.
 * @throws DomainError as `straightLine`.
 */
export function bendOf(
  x: readonly number[],
  y: readonly number[],
  scatter: Scatter = { kind: 'even' },
): Bend {
  if (new Set(x).size < 3) {
    throw new DomainError('too-few', 'A bend shows from three different places on.', 'x');
  }
  const fit = polynomialFit(x, y, 2, scatter);
  const curvature = fit.coefficients[2]!;
  const doubt = { standard: Math.sqrt(fit.covariance[2]![2]!), degreesOfFreedom: fit.degreesOfFreedom };
  return { fit, curvature, doubt, probability: probabilityOfChance(curvature, doubt) };
}

/** Probability that chance alone puts a value with this `doubt` as far from 0 as `value`, either way. */
export function probabilityOfChance(value: number, doubt: Doubt): number {
  if (value === 0) {
    return 1;
  }
  const t = -Math.abs(value) / doubt.standard;
  return 2 * studentProbability(Math.max(t, -1e150), Math.min(doubt.degreesOfFreedom, 1e6));
}
