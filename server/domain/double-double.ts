/**
 * A number held as the unevaluated sum of two doubles, `low` at most half of `high`'s last place: about 31 digits. Sums and products of
 * measured values lose nothing that matters in it, so that least squares needs no tricks against cancellation.
 * Magnitudes from 1e-140 to 1e140, or 0; below, digits of `low` get lost, above, splitting overflows.
 */
export interface DoubleDouble {
  readonly high: number;
  readonly low: number;
}

/** A double as it is. */
export const exactly = (value: number): DoubleDouble => ({ high: value, low: 0 });

/** The double next to the number. */
export const rounded = (value: DoubleDouble): number => value.high + value.low;

/** Sum of two doubles without any error. Source: D. E. Knuth, The Art of Computer Programming 2, 4.2.2, theorem B (from memory). */
export function exactSum(a: number, b: number): DoubleDouble {
  const high = a + b;
  const part = high - a;
  return { high, low: a - (high - part) + (b - part) };
}

/** The same where |high| is at least |low|. Source: T. J. Dekker, Numerische Mathematik 18 (1971) 224-242 (from memory). */
function tidied(high: number, low: number): DoubleDouble {
  const sum = high + low;
  return { high: sum, low: low - (sum - high) };
}

/** 2^27 + 1: multiplying by it parts a double into two halves of 26 bits. */
const splitter = 134_217_729;

/** Product of two doubles without any error. Source: Dekker and Veltkamp, as above. */
export function exactProduct(a: number, b: number): DoubleDouble {
  const high = a * b;
  const aShifted = splitter * a;
  const aHigh = aShifted - (aShifted - a);
  const aLow = a - aHigh;
  const bShifted = splitter * b;
  const bHigh = bShifted - (bShifted - b);
  const bLow = b - bHigh;
  return { high, low: aLow * bLow - (high - aHigh * bHigh - aLow * bHigh - aHigh * bLow) };
}

/**
 * Sum, relative error below 1e-30. Source of this and the other operations: M. Joldes, J.-M. Muller, V. Popescu, ACM Transactions on
 * Mathematical Software 44 (2017) article 15, algorithms 6, 11 and 17, products without fused multiply-add (from memory).
 */
export function plus(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const highs = exactSum(a.high, b.high);
  const lows = exactSum(a.low, b.low);
  const first = tidied(highs.high, highs.low + lows.high);
  return tidied(first.high, first.low + lows.low);
}

/** The number with its sign turned. */
export const negative = (a: DoubleDouble): DoubleDouble => ({ high: -a.high, low: -a.low });

/** Difference, relative error as `plus`. */
export const minus = (a: DoubleDouble, b: DoubleDouble): DoubleDouble => plus(a, negative(b));

/** Product, relative error below 1e-30. */
export function times(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const product = exactProduct(a.high, b.high);
  return tidied(product.high, product.low + (a.high * b.low + a.low * b.high));
}

/** `a` over `b` (other than 0), by long division in two steps; relative error below 1e-30. */
export function over(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const first = a.high / b.high;
  const rest = minus(a, times(b, exactly(first)));
  return tidied(first, rest.high / b.high);
}

/** Sum of all. 0 for none. */
export function total(values: readonly DoubleDouble[]): DoubleDouble {
  return values.reduce(plus, exactly(0));
}
