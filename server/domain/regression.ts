import {
  type DoubleDouble,
  exactly,
  minus,
  negative,
  over,
  plus,
  rounded,
  times,
  total,
} from './double-double.ts';
import { checked, DomainError } from './error.ts';

/** Observations are taken between these: their squares and products then stay within reach of a double. */
const measurable = { least: -1e60, most: 1e60 } as const;

/** What is known beforehand of how far single observations scatter about the model. */
export type Scatter =
  /** All alike, how far is to be found. */
  | { kind: 'even' }
  /** Variances as 1 / weight, how far in all is to be found. Weights more than 0, any scale. */
  | { kind: 'weighted'; weights: readonly number[] }
  /** Variances known, each more than 0, in the square of y's unit. */
  | { kind: 'known'; variances: readonly number[] };

/** The columns turned into ones at right angles to each other; predictions and their doubts are taken there. */
interface Orthogonal {
  /** Upper triangle with ones on its diagonal: a row of given columns times this gives the row of orthogonal ones. */
  turn: readonly (readonly number[])[];
  /** Weighted sum of squares of each orthogonal column. */
  squares: readonly number[];
  /** Coefficient of each orthogonal column. */
  along: readonly number[];
}

/** A linear model fitted to observations: y = sum of coefficient x column. Units: those of y over those of the column. */
export interface LinearFit {
  /** One for each column, in their order. */
  coefficients: readonly number[];
  /** Variances and covariances of the coefficients. */
  covariance: readonly (readonly number[])[];
  /** Observed less fitted, in the unit of y, in the order given. */
  residuals: readonly number[];
  /** Weighted; for known variances this is chi-square. */
  residualSumOfSquares: number;
  /** Observations less columns. */
  residualFreedom: number;
  /** Standard deviation of one observation of weight 1: found from the residuals, or 1 where variances were known. */
  spread: number;
  /** Of the doubts of everything fitted: `residualFreedom`, or Infinity where variances were known. */
  degreesOfFreedom: number;
  /** What each column explained when it joined those before it (sequential sums of squares, weighted). */
  sumsOfSquares: readonly number[];
  /**
   * Share of the sum of squares explained, 0 to 1: about the mean where the first column is constant, about zero where it is not. 1 where
   * there was nothing to explain. It hides bends: look at the residuals.
   */
  rSquared: number;
  orthogonal: Orthogonal;
}

type Column = readonly DoubleDouble[];

/** Sum of a x b x weight. */
function inner(a: Column, b: Column, weights: Column): DoubleDouble {
  return a.reduce((sum, value, i) => plus(sum, times(times(value, b[i]!), weights[i]!)), exactly(0));
}

/** `from` less `factor` x `column`, value by value. */
function without(from: Column, factor: DoubleDouble, column: Column): Column {
  return from.map((value, i) => minus(value, times(factor, column[i]!)));
}

/** Columns whose angle is smaller than this say the same twice, as far as measured values in double precision can tell. */
const smallestAngle = 1e-13;

interface Decomposition {
  /** Share of each orthogonal column in each given one to its right: a unit upper triangle, row by row. */
  shares: DoubleDouble[][];
  squares: DoubleDouble[];
  along: DoubleDouble[];
  residuals: Column;
}

/**
 * Modified Gram-Schmidt without normalising, the observations carried along as one more column, so that the residuals are what is left.
 * Source: A. Bjorck, Numerical Methods for Least Squares Problems (SIAM 1996), 2.4.4 (from memory).
 */
function orthogonalize(columns: readonly Column[], observed: Column, weights: Column): Decomposition {
  const left = [...columns, observed];
  const shares: DoubleDouble[][] = [];
  const squares: DoubleDouble[] = [];
  for (const [j, given] of columns.entries()) {
    const column = left[j]!;
    const square = inner(column, column, weights);
    if (!(square.high > smallestAngle ** 2 * inner(given, given, weights).high)) {
      throw new DomainError(
        'inconsistent',
        'These observations cannot tell the effects apart: vary what was held at one value, or what always moved together.',
        'columns',
      );
    }
    squares.push(square);
    shares.push(left.map((other, k) => (k > j ? over(inner(column, other, weights), square) : exactly(0))));
    for (let k = j + 1; k < left.length; k += 1) {
      left[k] = without(left[k]!, shares[j]![k]!, column);
    }
  }
  const last = columns.length;
  return { shares, squares, along: shares.map((row) => row[last]!), residuals: left[last]! };
}

/** Inverse of a unit upper triangle, by back substitution. */
function inverse(shares: readonly DoubleDouble[][]): DoubleDouble[][] {
  const size = shares.length;
  const turn = shares.map((_, j) => shares.map((__, k) => exactly(j === k ? 1 : 0)));
  for (let k = 0; k < size; k += 1) {
    for (let j = k - 1; j >= 0; j -= 1) {
      const terms = shares[j]!.slice(j + 1, k + 1).map((share, m) => times(share, turn[j + 1 + m]![k]!));
      turn[j]![k] = negative(total(terms));
    }
  }
  return turn;
}

function weightsOf(scatter: Scatter, count: number): Column {
  if (scatter.kind === 'even') {
    return Array.from({ length: count }, () => exactly(1));
  }
  const given = scatter.kind === 'known' ? scatter.variances : scatter.weights;
  if (given.length !== count) {
    throw new DomainError('inconsistent', 'Each observation takes one weight or variance.', 'scatter');
  }
  return given.map((value) => {
    checked(value, { above: 0, ...measurable, least: 1e-60 }, 'A weight or variance', 'scatter');
    return scatter.kind === 'known' ? over(exactly(1), exactly(value)) : exactly(value);
  });
}

function checkShapes(columns: readonly Column[], y: readonly number[], scatter: Scatter): void {
  const spare = scatter.kind === 'known' ? 0 : 1;
  if (columns.length === 0 || y.length < columns.length + spare) {
    throw new DomainError(
      'too-few',
      `For ${columns.length} unknowns this takes at least ${columns.length + spare} observations.`,
      'y',
    );
  }
  if (columns.some((column) => column.length !== y.length)) {
    throw new DomainError('inconsistent', 'Each observation takes one value of every column.', 'columns');
  }
  for (const value of [...columns.flat().map(rounded), ...y]) {
    checked(value, measurable, 'An observation', 'y');
  }
}

function fitted(columns: readonly Column[], y: readonly number[], scatter: Scatter): LinearFit {
  checkShapes(columns, y, scatter);
  const weights = weightsOf(scatter, y.length);
  const { shares, squares, along, residuals } = orthogonalize(columns, y.map(exactly), weights);
  const turn = inverse(shares);
  const left = inner(residuals, residuals, weights);
  const known = scatter.kind === 'known';
  const residualFreedom = y.length - columns.length;
  const spread = known ? 1 : Math.sqrt(rounded(left) / residualFreedom);
  const explained = along.map((coefficient, j) => times(times(coefficient, coefficient), squares[j]!));
  const orthogonal = {
    turn: turn.map((row) => row.map(rounded)),
    squares: squares.map(rounded),
    along: along.map(rounded),
  };
  return {
    coefficients: turn.map((row) => rounded(total(row.map((each, k) => times(each, along[k]!))))),
    covariance: covarianceOf(orthogonal, spread),
    residuals: residuals.map(rounded),
    residualSumOfSquares: rounded(left),
    residualFreedom,
    spread,
    degreesOfFreedom: known ? Number.POSITIVE_INFINITY : residualFreedom,
    sumsOfSquares: explained.map(rounded),
    rSquared: explainedShare(columns, explained, left),
    orthogonal,
  };
}

function covarianceOf({ turn, squares }: Orthogonal, spread: number): number[][] {
  return turn.map((a) =>
    turn.map((b) => spread ** 2 * squares.reduce((sum, square, k) => sum + (a[k]! * b[k]!) / square, 0)),
  );
}

function explainedShare(columns: readonly Column[], explained: DoubleDouble[], left: DoubleDouble): number {
  const constant = columns[0]!.every(({ high, low }) => high === columns[0]![0]!.high && low === 0);
  const model = total(constant ? explained.slice(1) : explained);
  const all = plus(model, left);
  return all.high === 0 ? 1 : rounded(over(model, all));
}

/**
 * General linear least squares: the coefficients that make y = sum of coefficient x column fit best.
 * `columns` holds one array for each unknown (a column of ones for a constant, first if R² shall be about the mean), each as long as `y`.
 * More observations than columns, or as many where the variances are known; magnitudes up to 1e60. All sums run in twice double
 * precision, so that the figures are as good as the data in double precision allow; no scaling or centring is needed.
 * Doubts suppose independent scatter about a true model. Source: JCGM 100:2008, H.3; G. A. F. Seber and A. J. Lee, Linear Regression
 * Analysis (2nd ed., Wiley 2003), ch. 3 (from memory).
 * @throws DomainError `too-few`, `inconsistent` (lengths differ, columns that say the same twice), `not-a-number`, `out-of-range`.
 */
export function leastSquares(
  columns: readonly (readonly number[])[],
  y: readonly number[],
  scatter: Scatter = { kind: 'even' },
): LinearFit {
  return fitted(
    columns.map((column) => column.map(exactly)),
    y,
    scatter,
  );
}

/** The powers 1, x, x² ... as a row. */
export function powersOf(x: number, degree: number): number[] {
  return Array.from({ length: degree + 1 }, (_, power) => x ** power);
}

/**
 * Polynomial of the given `degree` (whole, 0 to 8) in x by least squares; coefficients by rising power, predictions by `predict` with
 * `powersOf(x, degree)`. Powers are formed in twice double precision. Ranges and doubts as `leastSquares`.
 * @throws DomainError as `leastSquares`, and for a degree out of range.
 */
export function polynomialFit(
  x: readonly number[],
  y: readonly number[],
  degree: number,
  scatter: Scatter = { kind: 'even' },
): LinearFit {
  checked(degree, { least: 0, most: 8 }, 'The degree of a polynomial', 'degree');
  if (!Number.isInteger(degree)) {
    throw new DomainError('out-of-range', 'The degree of a polynomial must be a whole number.', 'degree');
  }
  for (const value of x) {
    checked(value, measurable, 'An x', 'x');
  }
  const columns: Column[] = [x.map(() => exactly(1))];
  for (let power = 1; power <= degree; power += 1) {
    columns.push(columns[power - 1]!.map((value, i) => times(value, exactly(x[i]!))));
  }
  return fitted(columns, y, scatter);
}

/** A value on a fitted model and the standard uncertainty of that value itself, not of a new observation there. */
export interface Prediction {
  value: number;
  standard: number;
  degreesOfFreedom: number;
}

/**
 * The model's value at one `row` of columns. The variance is taken along orthogonal columns, where nothing cancels.
 * @throws DomainError `inconsistent` for a row of another length, `not-a-number`, `out-of-range`.
 */
export function predict(fit: LinearFit, row: readonly number[]): Prediction {
  const { turn, squares, along } = fit.orthogonal;
  if (row.length !== turn.length) {
    throw new DomainError('inconsistent', 'A prediction takes one value of every column.', 'row');
  }
  for (const value of row) {
    checked(value, measurable, 'A value to predict at', 'row');
  }
  const turned = turn.map((_, k) => row.reduce((sum, value, j) => sum + value * turn[j]![k]!, 0));
  const variance = turned.reduce((sum, value, k) => sum + value ** 2 / squares[k]!, 0);
  return {
    value: turned.reduce((sum, value, k) => sum + value * along[k]!, 0),
    standard: fit.spread * Math.sqrt(variance),
    degreesOfFreedom: fit.degreesOfFreedom,
  };
}
