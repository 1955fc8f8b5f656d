/** Bayesian linear regression with known variances: a normal prior in, a normal posterior and the evidence out, all in closed form. */

/** One observation: value = coefficients · unknowns + normal noise. */
export interface Observation {
  /** One for each unknown. */
  coefficients: readonly number[];
  value: number;
  /** Of the noise, more than 0. */
  variance: number;
}

/** Independent normal beliefs about the unknowns before the observations. */
export interface NormalPrior {
  mean: readonly number[];
  /** More than 0 each. */
  variance: readonly number[];
}

/** Belief about the unknowns after the observations. */
export interface NormalPosterior {
  mean: readonly number[];
  /** Full symmetric matrix, row by row. */
  covariance: readonly (readonly number[])[];
  /** Natural logarithm of the probability density of the observed values, without the term -n/2 log 2π that all models share. */
  logEvidence: number;
}

/**
 * Posterior of the unknowns. Works with any number of observations, none included.
 * Source: Gelman et al., Bayesian Data Analysis, 3rd ed., 14.2 and 14.8 (from memory): precision = prior precision + XᵀV⁻¹X.
 */
export function normalPosterior(observations: readonly Observation[], prior: NormalPrior): NormalPosterior {
  const size = prior.mean.length;
  const precision = prior.variance.map((variance, i) =>
    Array.from({ length: size }, (_, j) => (i === j ? 1 / variance : 0)),
  );
  const right = prior.mean.map((mean, i) => mean / prior.variance[i]!);
  for (const { coefficients, value, variance } of observations) {
    for (let i = 0; i < size; i += 1) {
      const weighted = coefficients[i]! / variance;
      if (weighted === 0) continue;
      right[i] = right[i]! + weighted * value;
      const row = precision[i]!;
      for (let j = 0; j <= i; j += 1) row[j] = row[j]! + weighted * coefficients[j]!;
    }
  }
  const factor = choleskyFactor(precision);
  const inverse = inverseOfFactor(factor);
  const covariance = crossProduct(inverse);
  const mean = covariance.map((row) => dot(row, right));
  return { mean, covariance, logEvidence: logEvidence(observations, prior, mean, factor) };
}

/** Sum of products of two lists of the same length. */
export function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += a[i]! * b[i]!;
  return sum;
}

/** A pivot below this part of its diagonal is rounding dust. */
const roundingPart = 1e-15;

/** Lower triangle L with L Lᵀ = matrix; only the lower triangle of the matrix is read. */
function choleskyFactor(matrix: readonly (readonly number[])[]): number[][] {
  const factor: number[][] = [];
  for (let i = 0; i < matrix.length; i += 1) {
    const row: number[] = [];
    for (let j = 0; j <= i; j += 1) {
      const above = j === i ? row : factor[j]!;
      let rest = matrix[i]![j]!;
      for (let k = 0; k < j; k += 1) rest -= row[k]! * above[k]!;
      row.push(i === j ? Math.sqrt(Math.max(rest, roundingPart * matrix[i]![i]!)) : rest / above[j]!);
    }
    factor.push(row);
  }
  return factor;
}

/** Inverse of a lower triangle, itself one. */
function inverseOfFactor(factor: readonly (readonly number[])[]): number[][] {
  const inverse: number[][] = [];
  for (let i = 0; i < factor.length; i += 1) {
    const row = new Array<number>(i + 1).fill(0);
    const pivot = factor[i]![i]!;
    for (let j = 0; j < i; j += 1) {
      let sum = 0;
      for (let k = j; k < i; k += 1) sum += factor[i]![k]! * inverse[k]![j]!;
      row[j] = -sum / pivot;
    }
    row[i] = 1 / pivot;
    inverse.push(row);
  }
  return inverse;
}

/** MᵀM for a lower triangle M. */
function crossProduct(lower: readonly (readonly number[])[]): number[][] {
  const size = lower.length;
  const product = lower.map(() => new Array<number>(size).fill(0));
  for (let i = 0; i < size; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = 0;
      for (let k = i; k < size; k += 1) sum += lower[k]![i]! * lower[k]![j]!;
      product[i]![j] = sum;
      product[j]![i] = sum;
    }
  }
  return product;
}

/** Minus half of: log determinants of noise, prior and posterior precision, and the squared misfits in units of their variances. */
function logEvidence(
  observations: readonly Observation[],
  prior: NormalPrior,
  mean: readonly number[],
  factor: readonly (readonly number[])[],
): number {
  let sum = 0;
  for (const { coefficients, value, variance } of observations) {
    sum += Math.log(variance) + (value - dot(coefficients, mean)) ** 2 / variance;
  }
  for (let i = 0; i < mean.length; i += 1) {
    const variance = prior.variance[i]!;
    sum += Math.log(variance) + (mean[i]! - prior.mean[i]!) ** 2 / variance + 2 * Math.log(factor[i]![i]!);
  }
  return -0.5 * sum;
}
