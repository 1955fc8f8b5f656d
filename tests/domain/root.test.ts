import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fallingRoot, logOf, rootBetween } from '../../server/domain/root.ts';
import { between, near } from './lots.ts';

const thousandth = fc.integer({ min: -500_000, max: 500_000 }).map((value) => value / 1000);

describe('roots', () => {
  it('are found from anywhere', () => {
    fc.assert(
      fc.property(thousandth, between(-500, 500), between(0.01, 10), (root, start, stride) => {
        for (const f of [
          (x: number) => root - x,
          (x: number) => (root - x) ** 3,
          (x: number) => Math.atan(root - x),
          (x: number) => (x < root ? 1 : -1e-9),
          (x: number) => Math.exp((root - x) / 50) - 1,
        ]) {
          expect(Math.abs(fallingRoot(f, start, stride) - root)).toBeLessThan(1e-4);
        }
        const line = fallingRoot((x) => root - x, start, stride);
        expect(Math.abs(line - root)).toBeLessThanOrEqual(1e-12 * Math.abs(root) + 1e-15);
      }),
    );
  });

  // J. Wallis' equation of 1685, by which root finders have been tried since Newton.
  it('x³ - 2x - 5 = 0 at 2.0945514815423265, in at most a dozen steps', () => {
    let steps = 0;
    const root = rootBetween(
      (x) => {
        steps += 1;
        return x ** 3 - 2 * x - 5;
      },
      2,
      3,
    );
    near(root, 2.0945514815423265, 1e-15);
    expect(steps).toBeLessThanOrEqual(12);
  });

  it('the logarithm of nothing is that of the smallest number', () => {
    expect(logOf(0)).toBe(Math.log(Number.MIN_VALUE));
    expect(logOf(2)).toBe(Math.log(2));
  });
});
