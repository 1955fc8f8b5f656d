import { checked } from './error.ts';
import { logGamma } from './incomplete-beta.ts';
import { fallingRoot, logOf } from './root.ts';

/** The two tails of a gamma distribution at one point: below it and above it. They sum to 1. */
export interface Tails {
  lower: number;
  upper: number;
}

const enoughTerms = 100_000;

/** Sum of the series x^n / (a (a + 1) ... (a + n)). Source: DLMF 8.11.4 (Abramowitz & Stegun 6.5.29). For x below a + 1. */
function series(a: number, x: number): number {
  let term = 1 / a;
  let sum = term;
  for (let n = 1; n <= enoughTerms && term > sum * 1e-17; n += 1) {
    term *= x / (a + n);
    sum += term;
  }
  return sum;
}

/** The continued fraction of the upper tail by Lentz's method. Source: DLMF 8.9.2 (Abramowitz & Stegun 6.5.31). For x above a + 1. */
function continuedFraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let result = d;
  for (let n = 1; n <= enoughTerms; n += 1) {
    const an = n * (a - n);
    b += 2;
    d = 1 / (b + an * d);
    c = b + an / c;
    result *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) {
      break;
    }
  }
  return result;
}

/**
 * Regularized incomplete gamma functions P(a, x) and Q(a, x), shape `a` more than 0 to 1e8, `x` from 0. Relative error of the
 * smaller tail about 1e-13 for shapes up to 100, growing with the shape to about 1e-9 at a million.
 * Source: DLMF 8.2.4; series below a + 1, continued fraction above.
 * @throws DomainError for a shape or a point that cannot be.
 */
export function regularizedGamma(a: number, x: number): Tails {
  checked(a, { above: 0, most: 1e8 }, 'The shape of a gamma distribution', 'shape');
  checked(x, { least: 0 }, 'A point of a gamma distribution', 'x');
  if (x === 0) {
    return { lower: 0, upper: 1 };
  }
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    const lower = Math.min(1, front * series(a, x));
    return { lower, upper: 1 - lower };
  }
  const upper = Math.min(1, front * continuedFraction(a, x));
  return { lower: 1 - upper, upper };
}

/**
 * Value that a gamma variable of shape `a` (more than 0 to 1e8) and scale 1 does not exceed with the given `probability` (above 0,
 * below 1). Root of `regularizedGamma`, closed in on by `fallingRoot` in the logarithm.
 * @throws DomainError for a probability or a shape that cannot be.
 */
export function gammaQuantile(probability: number, a: number): number {
  checked(probability, { above: 0, below: 1 }, 'A probability', 'probability');
  checked(a, { above: 0, most: 1e8 }, 'The shape of a gamma distribution', 'shape');
  const upward = probability < 0.5;
  const wanted = Math.log(upward ? probability : 1 - probability);
  const beyond = (logX: number) => {
    const { lower, upper } = regularizedGamma(a, Math.exp(logX));
    return upward ? wanted - logOf(lower) : logOf(upper) - wanted;
  };
  return Math.exp(fallingRoot(beyond, Math.log(a), 1 / Math.sqrt(a)));
}
