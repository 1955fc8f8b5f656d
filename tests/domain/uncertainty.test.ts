import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DomainError } from '../../server/domain/error.ts';
import { type DrillGeometry, rateFromCatch } from '../../server/domain/geometry.ts';
import {
  type CatchFigures,
  catchBudget,
  combinedParts,
  type GeometryDoubts,
  largestPart,
  lumpiness,
  rateInterval,
} from '../../server/domain/uncertainty.ts';
import { grams, gramsPerSquareMetre, metres, turns } from '../../server/domain/units.ts';
import { refused } from './lots.ts';

const geometry: DrillGeometry = {
  circumference: metres(2.4384),
  rowSpacing: metres(0.1905),
  rowsCaught: 1,
  slip: 0.05,
};

/** Half-widths of rectangles become standard uncertainties by the square root of three (JCGM 100:2008, 4.3.7). */
const doubts: GeometryDoubts = {
  circumference: (0.02 * 2.4384) / Math.sqrt(3),
  rowSpacing: 0.001,
  slip: 0.03 / Math.sqrt(3),
};

const figures: CatchFigures = {
  caught: grams(26),
  weighing: { standard: 0.05, degreesOfFreedom: Number.POSITIVE_INFINITY },
  scaleSlope: 0,
  turns: turns(20),
  turnsDoubt: 0.05 / Math.sqrt(3),
  lumpiness: grams(1e-12),
  repeatability: 0.015 / Math.sqrt(3),
};

describe('the budget of a rate', () => {
  // Worked by hand for one row, 20 turns, 26 g, slip 5 % +/- 3: an illustration, no published source.
  it('has the parts of the worked table, and 2.4 % together', () => {
    const parts = catchBudget(geometry, doubts, figures);
    const percent = Object.fromEntries(parts.map((part) => [part.part, 100 * part.relative]));
    expect(percent.slip).toBeCloseTo(1.82, 2);
    expect(percent.circumference).toBeCloseTo(1.15, 2);
    expect(percent.repeatability).toBeCloseTo(0.87, 2);
    expect(percent['row-spacing']).toBeCloseTo(0.52, 2);
    expect(percent.weighing).toBeCloseTo(0.19, 2);
    expect(percent.turns).toBeCloseTo(0.14, 2);
    expect(100 * combinedParts(parts).standard).toBeCloseTo(2.4, 1);
    expect(largestPart(parts)?.part).toBe('slip');
  });

  it('refuses doubts below nothing', () => {
    for (const field of ['circumference', 'rowSpacing', 'slip'] as const) {
      refused(() => catchBudget(geometry, { ...doubts, [field]: -0.01 }, figures), 'out-of-range', field);
    }
    refused(() => catchBudget(geometry, { ...doubts, slip: Number.NaN }, figures), 'not-a-number', 'slip');
  });

  it('keeps apart what is common to all runs and what differs between them', () => {
    const parts = catchBudget(geometry, doubts, figures);
    const common = combinedParts(parts, 'common').standard;
    const run = combinedParts(parts, 'run').standard;
    expect(Math.hypot(common, run)).toBeCloseTo(combinedParts(parts).standard, 12);
    const names = parts.filter((part) => part.common).map((part) => part.part);
    expect(names).toEqual(['scale', 'circumference', 'row-spacing', 'slip']);
  });

  // The law of propagation against the thing itself: each input moved by its own doubt moves the rate by its part.
  it('each part is what the rate does when its input moves by its doubt', () => {
    const parts = catchBudget(geometry, doubts, figures);
    const rate = (drill: DrillGeometry, n: number, m: number) => rateFromCatch(drill, turns(n), grams(m));
    const base = rate(geometry, 20, 26);
    const small = 1e-4;
    const moved = {
      weighing: rate(geometry, 20, 26 + small * 0.05),
      turns: rate(geometry, 20 + small * figures.turnsDoubt, 26),
      circumference: rate(
        { ...geometry, circumference: metres(2.4384 + small * doubts.circumference) },
        20,
        26,
      ),
      'row-spacing': rate({ ...geometry, rowSpacing: metres(0.1905 + small * doubts.rowSpacing) }, 20, 26),
      slip: rate({ ...geometry, slip: 0.05 + small * doubts.slip }, 20, 26),
    };
    for (const [name, value] of Object.entries(moved)) {
      const relative = parts.find((part) => part.part === name)!.relative;
      expect(Math.abs(value / base - 1) / small / relative).toBeCloseTo(1, 3);
    }
  });

  // domain of a mix by the compound Poisson process: 86 g with a mean seed of 0.06 g have 2.6 % of their own (computed).
  it('86 g of 0.06 g seeds have a spread of 2.6 % of their own', () => {
    const parts = catchBudget(geometry, doubts, {
      ...figures,
      caught: grams(86),
      lumpiness: lumpiness(grams(0.06), 0),
    });
    expect(100 * parts.find((part) => part.part === 'seed-sampling')!.relative).toBeCloseTo(2.6, 1);
    expect(lumpiness(grams(0.06), 0.5)).toBeCloseTo(0.075, 12);
  });

  it('refuses a rate from nothing', () => {
    expect(() => catchBudget(geometry, doubts, { ...figures, caught: grams(0) })).toThrow(DomainError);
    expect(() => catchBudget(geometry, doubts, { ...figures, turns: turns(0) })).toThrow(DomainError);
  });

  it('grows with every doubt in it', () => {
    const size = fc.double({ min: 0, max: 0.3, noNaN: true });
    fc.assert(
      fc.property(size, size, size, (a, b, more) => {
        const one = catchBudget(geometry, doubts, { ...figures, scaleSlope: a, repeatability: b });
        const two = catchBudget(geometry, doubts, { ...figures, scaleSlope: a + more, repeatability: b });
        expect(combinedParts(two).standard).toBeGreaterThanOrEqual(combinedParts(one).standard);
      }),
    );
  });
});

describe('the interval of a rate', () => {
  it('is 1.96 standard doubts either way, and never reaches below nothing', () => {
    const parts = catchBudget(geometry, doubts, figures);
    const interval = rateInterval(gramsPerSquareMetre(3), parts);
    expect((interval.high - 3) / interval.standardDoubt).toBeCloseTo(1.95996, 4);
    expect(3 - interval.low).toBeCloseTo(interval.high - 3, 12);
    const vague = rateInterval(
      gramsPerSquareMetre(3),
      catchBudget(geometry, doubts, { ...figures, repeatability: 2 }),
    );
    expect(vague.low).toBe(0);
  });

  it('is wider where a large part rests on few readings', () => {
    const few = { ...figures, weighing: { standard: 5, degreesOfFreedom: 3 } };
    const many = { ...figures, weighing: { standard: 5, degreesOfFreedom: 300 } };
    const high = (of: CatchFigures) =>
      rateInterval(gramsPerSquareMetre(3), catchBudget(geometry, doubts, of)).high;
    expect(high(few)).toBeGreaterThan(1.15 * high(many));
  });

  it('an empty budget has no largest part', () => {
    expect(largestPart([])).toBeNull();
  });
});
