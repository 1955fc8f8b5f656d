import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { enoughTurns } from '../../server/domain/enough-turns.ts';
import { type DrillGeometry, rateFromCatch, targetCatch } from '../../server/domain/geometry.ts';
import { germinationInterval } from '../../server/domain/germination.ts';
import { poissonInterval } from '../../server/domain/poisson.ts';
import { combineDoubts, type Doubt, halfWidth, halfWidthOfAll } from '../../server/domain/statistics.ts';
import {
  type CatchFigures,
  catchBudget,
  combinedParts,
  rateInterval,
} from '../../server/domain/uncertainty.ts';
import { grams, gramsPerSquareMetre, metres, turns } from '../../server/domain/units.ts';
import { between, near } from './lots.ts';

/** Laws that hold whatever the figures: scales, order, and that more noise never makes anything surer. */

const geometry: fc.Arbitrary<DrillGeometry> = fc.record({
  circumference: between(0.5, 6).map(metres),
  rowSpacing: between(0.05, 1).map(metres),
  rowsCaught: fc.integer({ min: 1, max: 60 }),
  slip: between(0, 0.3),
});
const doubts = { circumference: 0.02, rowSpacing: 0.001, slip: 0.01 };
const figures: fc.Arbitrary<CatchFigures> = fc.record({
  caught: between(5, 5000).map(grams),
  weighing: fc.record({ standard: between(0.01, 2), degreesOfFreedom: between(3, 200) }),
  scaleSlope: between(1e-4, 0.01),
  turns: between(2, 200).map(turns),
  turnsDoubt: between(0.001, 0.1),
  lumpiness: between(0.001, 0.3).map(grams),
  repeatability: between(1e-4, 0.05),
});
const rate = gramsPerSquareMetre(10);
const width = ({ low, high }: { low: number; high: number }) => high - low;

describe('a catch', () => {
  it('is twice as much over twice the turns, at twice the rate, from twice the rows', () => {
    fc.assert(
      fc.property(geometry, between(0.5, 500), between(0.1, 50), (drill, count, wanted) => {
        const once = targetCatch(drill, turns(count), gramsPerSquareMetre(wanted));
        near(targetCatch(drill, turns(2 * count), gramsPerSquareMetre(wanted)), 2 * once);
        near(targetCatch(drill, turns(count), gramsPerSquareMetre(2 * wanted)), 2 * once);
        const wide = { ...drill, rowsCaught: 2 * drill.rowsCaught };
        near(targetCatch(wide, turns(count), gramsPerSquareMetre(wanted)), 2 * once);
      }),
    );
  });

  it('twice as heavy over twice the turns is the same rate', () => {
    fc.assert(
      fc.property(geometry, between(0.5, 500), between(1, 5000), (drill, count, caught) => {
        const once = rateFromCatch(drill, turns(count), grams(caught));
        near(rateFromCatch(drill, turns(2 * count), grams(2 * caught)), once);
      }),
    );
  });
});

describe('a budget', () => {
  it('does not depend on the order of its parts, and splits without rest', () => {
    fc.assert(
      fc.property(geometry, figures, (drill, of) => {
        const parts = catchBudget(drill, doubts, of);
        const all = combinedParts(parts);
        near(combinedParts(parts.toReversed()).standard, all.standard);
        const split = ['common', 'run'].map(
          (which) => combinedParts(parts, which as 'common' | 'run').standard,
        );
        near(Math.hypot(...split), all.standard, 1e-10);
        near(width(rateInterval(rate, parts.toReversed())), width(rateInterval(rate, parts)), 1e-9);
      }),
    );
  });

  it('over twice the catch and turns is surer in weighing, turns and seed, and in nothing else', () => {
    fc.assert(
      fc.property(geometry, figures, (drill, of) => {
        const once = catchBudget(drill, doubts, of);
        const twice = catchBudget(drill, doubts, {
          ...of,
          caught: grams(2 * of.caught),
          turns: turns(2 * of.turns),
        });
        const gain: Record<string, number> = { weighing: 2, turns: 2, 'seed-sampling': Math.SQRT2 };
        twice.forEach(({ part, relative }, index) => {
          near(relative * (gain[part] ?? 1), once[index]!.relative, 1e-10);
        });
      }),
    );
  });

  it('gives a wider interval with every noise and with confidence', () => {
    fc.assert(
      fc.property(geometry, figures, between(1.1, 5), (drill, of, more) => {
        const wide = (change: Partial<CatchFigures>) =>
          width(rateInterval(rate, catchBudget(drill, doubts, { ...of, ...change })));
        const now = wide({}) * (1 - 1e-9);
        expect(wide({ lumpiness: grams(of.lumpiness * more) })).toBeGreaterThanOrEqual(now);
        expect(wide({ repeatability: of.repeatability * more })).toBeGreaterThanOrEqual(now);
        expect(wide({ scaleSlope: of.scaleSlope * more })).toBeGreaterThanOrEqual(now);
        const weighing = { ...of.weighing, standard: of.weighing.standard * more };
        expect(wide({ weighing })).toBeGreaterThanOrEqual(now);
        const parts = catchBudget(drill, doubts, of);
        expect(width(rateInterval(rate, parts, 0.99))).toBeGreaterThan(width(rateInterval(rate, parts)));
      }),
    );
  });
});

describe('doubts in an interval together', () => {
  const some = fc.array(
    fc.record({
      standard: between(0.01, 1),
      degreesOfFreedom: fc.oneof(fc.constant(Number.POSITIVE_INFINITY), between(1, 50)),
    }),
    { minLength: 1, maxLength: 6 },
  );

  it('never make it narrower than any of them alone, nor than their formula', () => {
    fc.assert(
      fc.property(some, between(0.5, 0.99), (list: Doubt[], confidence) => {
        const half = halfWidthOfAll(list, confidence) * (1 + 1e-9);
        expect(half).toBeGreaterThanOrEqual(halfWidth(combineDoubts(list), confidence));
        for (const each of list) expect(half).toBeGreaterThanOrEqual(halfWidth(each, confidence));
        near(halfWidthOfAll(list.toReversed(), confidence), halfWidthOfAll(list, confidence), 1e-9);
      }),
    );
  });

  it('grow with a doubt that is known, however few degrees of freedom another has', () => {
    fc.assert(
      fc.property(between(1, 10), between(0, 3), between(0, 1), (few, known, more) => {
        const half = (standard: number) =>
          halfWidthOfAll(
            [
              { standard: 1, degreesOfFreedom: few },
              { standard, degreesOfFreedom: Number.POSITIVE_INFINITY },
            ],
            0.95,
          );
        expect(half(known + more)).toBeGreaterThanOrEqual(half(known) * (1 - 1e-9));
      }),
    );
  });
});

describe('counts and turns', () => {
  it('intervals of counts move up with the count; those of shares narrow with the seeds tested', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2000 }), between(0.5, 0.99), (count, confidence) => {
        const here = poissonInterval(count, confidence);
        const next = poissonInterval(count + 1, confidence);
        expect(next.low).toBeGreaterThan(here.low);
        expect(next.high).toBeGreaterThan(here.high);
        expect(width(next)).toBeGreaterThan(width(here));
      }),
    );
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99 }), fc.integer({ min: 2, max: 8 }), (germinated, times) => {
        const once = germinationInterval(germinated, 100);
        expect(width(germinationInterval(times * germinated, times * 100))).toBeLessThan(width(once));
      }),
    );
  });

  it('so many turns are enough whatever the unit: twice the seed mass and noise, the same turns', () => {
    fc.assert(
      fc.property(
        between(0.5, 20),
        between(0.01, 0.2),
        between(0.02, 0.2),
        between(0.1, 10),
        (per, lump, tolerance, by) => {
          const noise = (scale: number) => ({
            gramsPerTurn: grams(per * scale),
            weighing: grams(0.05 * scale),
            counting: 0.01,
            lumpiness: grams(lump * scale),
            fixed: 0.005,
          });
          near(enoughTurns(noise(by), tolerance).turns!, enoughTurns(noise(1), tolerance).turns!, 1e-9);
        },
      ),
    );
  });
});
