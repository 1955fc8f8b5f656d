import { checked, DomainError } from './error.ts';
import { regularizedBeta } from './incomplete-beta.ts';
import { fallingRoot, logOf } from './root.ts';

/** Horner's rule, highest power last: a[0] + x (a[1] + x (a[2] + ...)). */
function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}

/** Coefficients of AS 241, PPND16: numerator and denominator for the middle, the near tail and the far tail. */
const middle = {
  over: [
    3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987,
    67265.7709270087, 33430.57558358813, 2509.0809287301227,
  ],
  under: [
    1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
    28729.085735721943, 5226.495278852854,
  ],
};
const nearTail = {
  over: [
    1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
    0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
  ],
  under: [
    1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
    0.0005475938084995345, 1.0507500716444169e-9,
  ],
};
const farTail = {
  over: [
    6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
    0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
  ],
  under: [
    1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133,
    1.8463183175100548e-5, 1.421511758316446e-7, 2.0442631033899397e-15,
  ],
};

function checkedProbability(probability: number): void {
  checked(probability, { above: 0, below: 1 }, 'A probability', 'probability');
}

/**
 * Standard normal deviate that is not exceeded with the given `probability` (above 0, below 1). Relative error about 1e-16.
 * Source: M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988) 477-484, routine PPND16.
 * @throws DomainError for a probability out of range.
 */
export function normalQuantile(probability: number): number {
  checkedProbability(probability);
  const q = probability - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(middle.over, r)) / polynomial(middle.under, r);
  }
  const tail = Math.sqrt(-Math.log(q < 0 ? probability : 1 - probability));
  const [set, r] = tail <= 5 ? [nearTail, tail - 1.6] : [farTail, tail - 5];
  return (Math.sign(q) * polynomial(set.over, r)) / polynomial(set.under, r);
}

/**
 * Probability that Student's t with `degreesOfFreedom` (more than 0, fractions allowed, Infinity excepted) does not exceed `t`.
 * Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 26.7.1: through the incomplete beta function.
 * @throws DomainError for degrees of freedom that are none.
 */
export function studentProbability(t: number, degreesOfFreedom: number): number {
  checked(degreesOfFreedom, { above: 0 }, 'Degrees of freedom', 'degreesOfFreedom');
  const half = 0.5 * upperTails(t * t, degreesOfFreedom);
  return t < 0 ? half : 1 - half;
}

/** Probability that t² exceeds `square`; written so that it keeps its digits both in the middle and far out. */
function upperTails(square: number, degreesOfFreedom: number): number {
  return regularizedBeta(
    degreesOfFreedom / (degreesOfFreedom + square),
    square / (degreesOfFreedom + square),
    degreesOfFreedom / 2,
    0.5,
  );
}

/** From so many degrees of freedom on, the series in their inverse is as exact as the root and much quicker. */
const manyDegrees = 1000;

/** Student's t near the normal deviate `z`. Source: Abramowitz & Stegun 26.7.5, through the fourth power of the inverse. */
function nearNormal(z: number, degreesOfFreedom: number): number {
  const s = z * z;
  const terms = [
    z,
    (z * polynomial([1, 1], s)) / 4,
    (z * polynomial([3, 16, 5], s)) / 96,
    (z * polynomial([-15, 17, 19, 3], s)) / 384,
    (z * polynomial([-945, -1920, 1482, 776, 79], s)) / 92_160,
  ];
  return polynomial(terms, 1 / degreesOfFreedom);
}

/**
 * Student's t that is not exceeded with the given `probability` (above 0, below 1) at `degreesOfFreedom` (more than 0, fractions
 * and Infinity allowed). Error below 1e-10 of t, or of 1 where t is small, for probabilities from 1e-8 to 1 - 1e-8.
 * Below 1000 degrees of freedom it is the root of `studentProbability`, closed in on by `fallingRoot` in the logarithm of t.
 * Source: as `studentProbability`; Abramowitz & Stegun 26.7.5 for many degrees of freedom.
 * @throws DomainError for figures out of range.
 */
export function studentQuantile(probability: number, degreesOfFreedom: number): number {
  checkedProbability(probability);
  if (degreesOfFreedom >= manyDegrees) {
    return nearNormal(normalQuantile(probability), degreesOfFreedom);
  }
  checked(degreesOfFreedom, { above: 0 }, 'Degrees of freedom', 'degreesOfFreedom');
  const tails = 2 * Math.min(probability, 1 - probability);
  if (tails === 1) {
    return 0;
  }
  // In logarithms of both, the tails are nearly a straight line.
  const wanted = Math.log(tails);
  const tooMuch = (logT: number) => logOf(upperTails(Math.exp(2 * logT), degreesOfFreedom)) - wanted;
  return (probability < 0.5 ? -1 : 1) * Math.exp(fallingRoot(tooMuch, 0, 1));
}

/** A standard uncertainty with the degrees of freedom that it was found with. Source of the terms: JCGM 100:2008, 2.3.1 and G.3. */
export interface Doubt {
  /** Standard deviation, 0 or more, in the unit of what is uncertain. */
  standard: number;
  /** More than 0; Infinity where the standard deviation is taken as known. */
  degreesOfFreedom: number;
}

/**
 * Sum of independent doubts and its effective degrees of freedom.
 * Source: JCGM 100:2008, G.4.1, the Welch-Satterthwaite formula (G.2b). Doubts of size 0 do not count.
 * @throws DomainError `too-few` when there is none.
 */
export function combineDoubts(doubts: readonly Doubt[]): Doubt {
  if (doubts.length === 0) {
    throw new DomainError('too-few', 'There is no doubt to combine.');
  }
  const largest = Math.max(...doubts.map((doubt) => doubt.standard));
  if (largest === 0) {
    return { standard: 0, degreesOfFreedom: Number.POSITIVE_INFINITY };
  }
  // Scaled to the largest, so that fourth powers of very small doubts do not vanish.
  let squares = 0;
  let fourths = 0;
  for (const { standard, degreesOfFreedom } of doubts) {
    const square = (standard / largest) ** 2;
    squares += square;
    fourths += square ** 2 / degreesOfFreedom;
  }
  return { standard: largest * Math.sqrt(squares), degreesOfFreedom: squares ** 2 / fourths };
}

/**
 * Half-width of the interval that holds the value with the given `confidence` (above 0, below 1): t times the standard uncertainty, in its
 * unit. Source: JCGM 100:2008, G.3.2 and G.4.1.
 * @throws DomainError for a confidence or degrees of freedom out of range.
 */
export function halfWidth(doubt: Doubt, confidence: number): number {
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  return studentQuantile(0.5 + confidence / 2, doubt.degreesOfFreedom) * doubt.standard;
}

/**
 * Half-width of the interval of a value with several independent `doubts` (one or more) at the given `confidence`: that of all together,
 * but never less than that of any one alone. The formula of Welch and Satterthwaite by itself lets an added doubt narrow the interval
 * where another has one to three degrees of freedom, and then falls short: the mean of two runs with a known doubt a fifth as large is
 * held 87 times in a hundred instead of 95 (tests/domain/coverage.test.ts).
 * @throws DomainError `too-few` when there is none.
 */
export function halfWidthOfAll(doubts: readonly Doubt[], confidence: number): number {
  const together = halfWidth(combineDoubts(doubts), confidence);
  const poor = doubts.filter((doubt) => Number.isFinite(doubt.degreesOfFreedom) && doubt.standard > 0);
  return Math.max(together, ...poor.map((doubt) => halfWidth(doubt, confidence)));
}
