import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lagOneAutocorrelation } from '../../server/domain/autocorrelation.ts';
import {
  type DoubleDouble,
  exactly,
  exactProduct,
  exactSum,
  minus,
  over,
  plus,
  rounded,
  times,
  total,
} from '../../server/domain/double-double.ts';
import { refused } from './lots.ts';

/** Doubles of any sign whose exponents stay within what products allow. */
const double = fc
  .tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.integer({ min: -100, max: 100 }))
  .map(([mantissa, power]) => (Math.abs(mantissa) < 1e-10 ? 0 : mantissa * 2 ** power));

/** A double as a whole number of 2^-1200: exact. */
function whole(value: number): bigint {
  if (value === 0) return 0n;
  let power = 0;
  let left = value;
  while (!Number.isInteger(left)) {
    left *= 2;
    power += 1;
  }
  return BigInt(left) * 2n ** BigInt(1200 - power);
}
const wholeOf = ({ high, low }: DoubleDouble) => whole(high) + whole(low);
const unit = 2n ** 1200n;

/** The result is within 1e-30 of the exact one. */
function nearly(result: DoubleDouble, exact: bigint): void {
  const error = wholeOf(result) - exact;
  const size = exact < 0n ? -exact : exact;
  expect((error < 0n ? -error : error) * 10n ** 30n <= size).toBe(true);
}

describe('numbers of twice the precision', () => {
  it('sum and product of two doubles are exact', () => {
    fc.assert(
      fc.property(double, double, (a, b) => {
        expect(wholeOf(exactSum(a, b))).toBe(whole(a) + whole(b));
        expect(wholeOf(exactProduct(a, b)) * unit).toBe(whole(a) * whole(b));
      }),
    );
  });

  it('sums, differences, products and quotients are good to 30 digits', () => {
    const pair = fc.tuple(double, double).map(([a, b]) => exactSum(a, b * 2 ** -50));
    fc.assert(
      fc.property(pair, pair, (a, b) => {
        nearly(plus(a, b), wholeOf(a) + wholeOf(b));
        nearly(minus(a, b), wholeOf(a) - wholeOf(b));
        nearly(times(a, b), (wholeOf(a) * wholeOf(b)) / unit);
        if (b.high !== 0) nearly(over(a, b), (wholeOf(a) * unit) / wholeOf(b));
      }),
    );
  });

  it('a sum keeps what large terms that cancel would wipe out', () => {
    expect(rounded(total([1e20, 1, -1e20, 2e-12].map(exactly)))).toBe(1.000000000002);
    expect(rounded(total([]))).toBe(0);
  });
});

describe('autocorrelation', () => {
  it('is 0 for values all the same, negative where they alternate, near 1 where they creep', () => {
    expect(lagOneAutocorrelation([5, 5, 5])).toBe(0);
    expect(lagOneAutocorrelation([1, -1, 1, -1])).toBeCloseTo(-0.75, 15);
    expect(lagOneAutocorrelation(Array.from({ length: 500 }, (_, i) => i))).toBeGreaterThan(0.98);
    refused(() => lagOneAutocorrelation([1]), 'too-few', 'values');
  });
});
