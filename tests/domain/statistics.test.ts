import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DomainError } from '../../server/domain/error.ts';
import { logGamma, regularizedBeta } from '../../server/domain/incomplete-beta.ts';
import {
  combineDoubts,
  halfWidth,
  normalQuantile,
  studentProbability,
  studentQuantile,
} from '../../server/domain/statistics.ts';

const references = readFileSync(new URL('student-quantiles.tsv', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('#'))
  .map((line) => line.split('\t').map(Number) as [number, number, number]);

const probability = fc.double({ min: 1e-6, max: 0.49, noNaN: true });
const freedom = fc.double({ min: 0.6, max: 5000, noNaN: true });

describe('Student’s t', () => {
  it('agrees with an independent high-precision library to 1e-10', () => {
    expect(references.length).toBeGreaterThan(100);
    for (const [degreesOfFreedom, tail, quantile] of references) {
      const ours = -studentQuantile(tail, degreesOfFreedom);
      expect(Math.abs(ours / quantile - 1), `${degreesOfFreedom} ${tail}: ${ours}`).toBeLessThan(1e-10);
    }
  });

  // Exact: the distributions with 1 and 2 degrees of freedom have closed forms (Abramowitz & Stegun 26.7.3 and 26.7.4; from memory).
  it('has the closed forms of one and two degrees of freedom', () => {
    for (const p of [0.001, 0.05, 0.3, 0.6, 0.975]) {
      expect(studentQuantile(p, 1)).toBeCloseTo(Math.tan(Math.PI * (p - 0.5)), 9);
      expect(studentQuantile(p, 2)).toBeCloseTo((2 * p - 1) / Math.sqrt(2 * p * (1 - p)), 9);
    }
  });

  it('undoes its own probability', () => {
    fc.assert(
      fc.property(probability, freedom, (p, degreesOfFreedom) => {
        const back = studentProbability(studentQuantile(p, degreesOfFreedom), degreesOfFreedom);
        expect(Math.abs(back / p - 1)).toBeLessThan(1e-9);
      }),
    );
  });

  it('is odd about one half, and wider with fewer degrees of freedom', () => {
    fc.assert(
      fc.property(probability, freedom, (p, degreesOfFreedom) => {
        const t = studentQuantile(p, degreesOfFreedom);
        expect(studentQuantile(1 - p, degreesOfFreedom)).toBeCloseTo(-t, 6 - Math.ceil(Math.log10(1 - t)));
        expect(t).toBeLessThan(studentQuantile(p, degreesOfFreedom * 1.5));
      }),
    );
    expect(studentQuantile(0.5, 7)).toBe(0);
  });

  it('joins the normal distribution at infinity', () => {
    expect(studentQuantile(0.975, Number.POSITIVE_INFINITY)).toBe(normalQuantile(0.975));
  });

  it('refuses what is no probability and no degree of freedom', () => {
    for (const bad of [0, 1, -0.1, 1.1, Number.NaN]) {
      expect(() => studentQuantile(bad, 3)).toThrow(DomainError);
      expect(() => normalQuantile(bad)).toThrow(DomainError);
    }
    for (const bad of [0, -1, Number.NaN]) {
      expect(() => studentQuantile(0.9, bad)).toThrow(DomainError);
    }
  });
});

describe('the normal deviate', () => {
  it('is odd about one half and grows', () => {
    fc.assert(
      fc.property(probability, (p) => {
        expect(normalQuantile(1 - p)).toBeCloseTo(-normalQuantile(p), 8);
        expect(normalQuantile(p * (1 + 1e-9))).toBeGreaterThan(normalQuantile(p));
      }),
    );
  });

  it('reaches far into the tails', () => {
    // mpmath 1.3.0, 40 digits: sqrt(2) erfinv(2p - 1).
    expect(normalQuantile(1e-20) / -9.2623400897984).toBeCloseTo(1, 13);
    expect(normalQuantile(1e-300) / -37.0470962993612).toBeCloseTo(1, 5);
  });
});

describe('the functions below', () => {
  it('logGamma knows factorials and the half', () => {
    let factorial = 1;
    for (let n = 1; n <= 20; n += 1) {
      expect(logGamma(n)).toBeCloseTo(Math.log(factorial), 11);
      factorial *= n;
    }
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 13);
  });

  // Exact: I_x(1, b) = 1 - (1 - x)^b and I_x(a, 1) = x^a.
  it('the incomplete beta function has its closed forms and its mirror', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.double({ min: 0.2, max: 200, noNaN: true }),
        fc.double({ min: 0.2, max: 200, noNaN: true }),
        (x, a, b) => {
          expect(regularizedBeta(x, 1 - x, a, 1)).toBeCloseTo(x ** a, 11);
          expect(regularizedBeta(x, 1 - x, 1, b)).toBeCloseTo(1 - (1 - x) ** b, 11);
          expect(regularizedBeta(x, 1 - x, a, b) + regularizedBeta(1 - x, x, b, a)).toBeCloseTo(1, 11);
        },
      ),
    );
  });
});

describe('doubts together', () => {
  const doubts = fc.array(
    fc.record({
      standard: fc.double({ min: 0, max: 1e6, noNaN: true }),
      degreesOfFreedom: fc.oneof(
        fc.constant(Number.POSITIVE_INFINITY),
        fc.double({ min: 1, max: 1000, noNaN: true }),
      ),
    }),
    { minLength: 1, maxLength: 8 },
  );

  it('are no smaller than the largest and no larger than the sum; order and scale do not matter', () => {
    fc.assert(
      fc.property(doubts, fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (parts, scale) => {
        const { standard, degreesOfFreedom } = combineDoubts(parts);
        const sizes = parts.map((part) => part.standard);
        expect(standard).toBeGreaterThanOrEqual(Math.max(...sizes) * (1 - 1e-12));
        expect(standard).toBeLessThanOrEqual(sizes.reduce((a, b) => a + b) * (1 + 1e-12));
        const scaled = combineDoubts(
          parts.map((part) => ({ ...part, standard: part.standard * scale })).reverse(),
        );
        expect(scaled.standard).toBeCloseTo(
          standard * scale,
          6 - Math.ceil(Math.log10(standard * scale + 1)),
        );
        expect(degreesOfFreedom).not.toBeNaN();
        if (Number.isFinite(degreesOfFreedom) && Math.max(...sizes) > 1e-100) {
          expect(scaled.degreesOfFreedom / degreesOfFreedom).toBeCloseTo(1, 9);
        }
      }),
    );
  });

  it('have at least as many degrees of freedom as the poorest, at most as many as all together', () => {
    fc.assert(
      fc.property(doubts, (parts) => {
        const counted = parts.filter((part) => part.standard > 0);
        const { degreesOfFreedom } = combineDoubts(parts);
        if (counted.length === 0) {
          expect(degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
          return;
        }
        const all = counted.map((part) => part.degreesOfFreedom);
        expect(degreesOfFreedom).toBeGreaterThanOrEqual(Math.min(...all) * (1 - 1e-9));
        expect(degreesOfFreedom).toBeLessThanOrEqual(all.reduce((a, b) => a + b) * (1 + 1e-9) || Infinity);
      }),
    );
  });

  it('give a half-width by t', () => {
    expect(halfWidth({ standard: 2, degreesOfFreedom: 1 }, 0.5)).toBeCloseTo(2, 10);
    expect(() => combineDoubts([])).toThrow(DomainError);
  });
});
