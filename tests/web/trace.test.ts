import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { backoffMillis } from '../../web/src/state/backoff.ts';
import { curve } from '../../web/src/state/curve.ts';
import { along, catchSpan, rateSpan } from '../../web/src/state/span.ts';
import { type Point, thin } from '../../web/src/state/trace.ts';
import { figuresOf, plan } from './invented.ts';

const line = (count: number, bump = -1): Point[] =>
  Array.from({ length: count }, (_, index): Point => [index, index, index === bump ? 5000 : index]);

describe('a thinned chart', () => {
  it('keeps first, last and order, and has no more points than asked', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: 3, max: 700 }), (length, count) => {
        const points = line(length);
        const drawn = thin(points, count);
        expect(drawn.length).toBe(Math.min(length, count));
        expect(drawn[0]).toEqual(points[0]);
        expect(drawn.at(-1)).toEqual(points.at(-1));
        for (let index = 1; index < drawn.length; index++)
          expect(drawn[index]![0]).toBeGreaterThan(drawn[index - 1]![0]);
      }),
    );
  });

  it('keeps a lone spike', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2398 }), (bump) => {
        expect(thin(line(2400, bump), 600).some(([, , grams]) => grams === 5000)).toBe(true);
      }),
    );
  });
});

describe('the drawing of a run', () => {
  it('has a wedge that ends at the target catch and its edges', () => {
    const figures = figuresOf(plan, 'turning', 10);
    const { target, low, high, turnsEnd } = curve(figures, line(5));
    expect(target).toEqual([
      { x: 0, y: 0 },
      { x: 25, y: figures.targetCatchGrams },
    ]);
    expect(low[1]!.y).toBe(figures.targetCatchLowGrams);
    expect(high[1]!.y).toBe(figures.targetCatchHighGrams);
    expect(turnsEnd).toBe(25);
  });

  it('makes room for coasting and for a catch far above the target', () => {
    const { turnsEnd, gramsEnd } = curve(figuresOf(plan, 'settling', 25.4), [[50, 25.4, 400]]);
    expect(turnsEnd).toBe(25.4);
    expect(gramsEnd).toBe(400);
  });
});

describe('a drawn scale', () => {
  const target = fc.double({ min: 0.005, max: 200, noNaN: true });
  const tolerance = fc.double({ min: 0.001, max: 0.5, noNaN: true });

  it('shows the rate, the target and the whole tolerance', () => {
    const factor = fc.double({ min: 0, max: 50, noNaN: true });
    fc.assert(
      fc.property(target, tolerance, factor, (wanted, width, times) => {
        const { from, to } = rateSpan(wanted, width, wanted * times);
        expect(from).toBeLessThanOrEqual(wanted * (1 - width));
        expect(to).toBeGreaterThanOrEqual(wanted * (1 + width));
        if (width >= 0.06) expect(to).toBeGreaterThanOrEqual(wanted * times);
      }),
    );
  });

  it('holds still while the rate stays near the target', () => {
    expect(rateSpan(10, 0.05, 10.9)).toEqual(rateSpan(10, 0.05, null));
  });

  it('keeps everything on it', () => {
    expect(along(-5, 0, 10)).toBe(0);
    expect(along(5, 0, 10)).toBe(50);
    expect(along(50, 0, 10)).toBe(100);
    expect(along(1, 3, 3)).toBe(0);
    expect(catchSpan(100, 400).to).toBeGreaterThan(400);
  });
});

describe('waiting before another try', () => {
  it('grows, is bounded, and never less than half of its ceiling', () => {
    const random = fc.double({ min: 0, max: 0.999999, noNaN: true });
    fc.assert(
      fc.property(fc.nat(1000), random, (attempt, chance) => {
        const ceiling = Math.min(8000, 250 * 2 ** attempt);
        expect(backoffMillis(attempt, chance)).toBeGreaterThanOrEqual(ceiling / 2);
        expect(backoffMillis(attempt, chance)).toBeLessThanOrEqual(ceiling);
      }),
    );
  });
});
