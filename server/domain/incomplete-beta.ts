/** Coefficients of Lanczos' approximation, g = 7, nine terms (P. Godfrey's figures); relative error about 1e-15. */
const lanczos = [
  0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406,
  12.507343278686905, -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
];

/** Natural logarithm of the gamma function for `x` more than 0, not checked. Relative error about 1e-15. Source: Lanczos' approximation. */
export function logGamma(x: number): number {
  if (x < 0.5) {
    return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  }
  const z = x - 1;
  const base = z + 7.5;
  let sum = lanczos[0]!;
  for (let term = 1; term < lanczos.length; term += 1) {
    sum += lanczos[term]! / (z + term);
  }
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(base) - base + Math.log(sum);
}

/**
 * Logarithm of Gamma(a + b) / (Gamma(a) Gamma(b)). For a large `a` the difference of two large logarithms would lose digits, so
 * there it comes from Stirling's series. Source: Abramowitz & Stegun 6.1.41.
 */
function logInverseBeta(a: number, b: number): number {
  const large = Math.max(a, b);
  const small = Math.min(a, b);
  if (large < 30) {
    return logGamma(a + b) - logGamma(a) - logGamma(b);
  }
  const ratio =
    (large - 0.5) * Math.log1p(small / large) +
    small * Math.log(large + small) -
    small +
    stirlingRest(large + small) -
    stirlingRest(large);
  return ratio - logGamma(small);
}

function stirlingRest(x: number): number {
  const inverse = 1 / (x * x);
  return (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse / 1680))) / x;
}

/**
 * The continued fraction of the incomplete beta function by Lentz's method. Source: DLMF 8.17.22 (Abramowitz & Stegun 26.5.8).
 * Converges in about sqrt(max(a, b)) steps for x below (a + 1) / (a + b + 2).
 */
function continuedFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const away = (value: number) => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let result = d;
  for (let m = 1; m <= 100_000; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    result *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    result *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) {
      break;
    }
  }
  return result;
}

/**
 * Regularized incomplete beta function I_x(a, b), 0 to 1; a and b more than 0, not checked. `x` comes with its complement `y` = 1 - x, so
 * that neither loses digits near 0 or 1. Source: DLMF 8.17.22.
 */
export function regularizedBeta(x: number, y: number, a: number, b: number): number {
  if (x <= 0) {
    return 0;
  }
  if (y <= 0) {
    return 1;
  }
  const front = Math.exp(logInverseBeta(a, b) + a * Math.log(x) + b * Math.log(y));
  return x < (a + 1) / (a + b + 2)
    ? (front * continuedFraction(x, a, b)) / a
    : 1 - (front * continuedFraction(y, b, a)) / b;
}
