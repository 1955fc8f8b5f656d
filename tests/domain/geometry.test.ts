import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DomainError } from '../../server/domain/error.ts';
import {
  advancePerTurn,
  circumferenceFromRollOut,
  type DrillGeometry,
  groundSpeed,
  rateFromCatch,
  staggeredRowSpacing,
  targetCatch,
  testArea,
  turnsForArea,
  turnsForDistance,
} from '../../server/domain/geometry.ts';
import {
  grams,
  gramsPerSquareMetre,
  metres,
  squareMetres,
  turns,
  turnsPerMinute,
} from '../../server/domain/units.ts';
import { refused } from './lots.ts';

const positive = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const geometry: fc.Arbitrary<DrillGeometry> = fc.record({
  circumference: positive(0.2, 15).map(metres),
  rowSpacing: positive(0.02, 3).map(metres),
  rowsCaught: fc.integer({ min: 1, max: 200 }),
  slip: positive(0, 0.5),
});
const count = positive(0.5, 2000).map(turns);
const rate = positive(0.005, 200).map(gramsPerSquareMetre);

const near = (a: number, b: number) => expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-12 * Math.abs(b));

describe('geometry of a catch test', () => {
  it('a target catch gives its rate back', () => {
    fc.assert(
      fc.property(geometry, count, rate, (drill, n, wanted) => {
        near(rateFromCatch(drill, n, targetCatch(drill, n, wanted)), wanted);
      }),
    );
  });

  it('area grows in proportion to turns, circumference, spacing and rows, and with slip', () => {
    fc.assert(
      fc.property(geometry, count, (drill, n) => {
        const area = testArea(drill, n);
        near(testArea(drill, turns(2 * n)), 2 * area);
        near(testArea({ ...drill, circumference: metres(2 * drill.circumference) }, n), 2 * area);
        near(testArea({ ...drill, rowSpacing: metres(2 * drill.rowSpacing) }, n), 2 * area);
        near(testArea({ ...drill, rowsCaught: 2 * drill.rowsCaught }, n), 2 * area);
        near(testArea({ ...drill, slip: 0 }, n), area * (1 - drill.slip));
      }),
    );
  });

  it('turns for a way or an area cover that way or area', () => {
    fc.assert(
      fc.property(geometry, positive(1, 1e4), (drill, size) => {
        near(turnsForDistance(drill, metres(size)) * advancePerTurn(drill), size);
        near(testArea(drill, turnsForArea(drill, squareMetres(size))), size);
      }),
    );
  });

  it('turns counted in the field over a measured way stand for circumference and slip together', () => {
    fc.assert(
      fc.property(geometry, count, (drill, n) => {
        const counted = circumferenceFromRollOut(metres(n * advancePerTurn(drill)), n);
        near(testArea({ ...drill, circumference: counted, slip: 0 }, n), testArea(drill, n));
      }),
    );
  });

  it('three ranks at 18 in stand for rows at 6 in', () => {
    near(staggeredRowSpacing(metres(0.4572), 3), 0.1524);
  });

  it('ground speed is advance times turns', () => {
    const drill = { circumference: metres(2.4), rowSpacing: metres(0.19), rowsCaught: 1, slip: 0.04 };
    near(groundSpeed(drill, turnsPerMinute(45)), (45 / 60) * 2.5);
  });

  const drill = { circumference: metres(2.4), rowSpacing: metres(0.19), rowsCaught: 1, slip: 0 };
  it.each([
    ['circumference', { ...drill, circumference: metres(0) }],
    ['circumference', { ...drill, circumference: metres(-2.4) }],
    ['rowSpacing', { ...drill, rowSpacing: metres(0) }],
    ['circumference', { ...drill, circumference: metres(2400) }],
    ['rowSpacing', { ...drill, rowSpacing: metres(190) }],
    ['rowsCaught', { ...drill, rowsCaught: 0 }],
    ['rowsCaught', { ...drill, rowsCaught: 2.5 }],
    ['rowsCaught', { ...drill, rowsCaught: Number.NaN }],
    ['slip', { ...drill, slip: 1 }],
    ['slip', { ...drill, slip: -0.1 }],
  ])('refuses an impossible %s and names it', (field, bad) => {
    try {
      testArea(bad, turns(10));
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(DomainError);
      expect(error).toMatchObject({ field });
      expect((error as DomainError).message).toMatch(/^The .* must be .*\.$/);
    }
  });

  it('refuses a rate from no turns and an area from fewer than none', () => {
    expect(() => rateFromCatch(drill, turns(0), grams(20))).toThrow(DomainError);
    expect(() => testArea(drill, turns(-1))).toThrow(DomainError);
    expect(testArea(drill, turns(0))).toBe(0);
  });

  it('refuses sizes that nothing has', () => {
    refused(() => targetCatch(drill, turns(10), gramsPerSquareMetre(600)), 'out-of-range', 'rate');
    refused(() => rateFromCatch(drill, turns(10), Number.NaN as never), 'not-a-number', 'caught');
    refused(() => turnsForDistance(drill, metres(0)), 'out-of-range', 'distance');
    refused(() => turnsForArea(drill, squareMetres(-1)), 'out-of-range', 'area');
    refused(() => circumferenceFromRollOut(metres(24), turns(0)), 'out-of-range', 'turns');
    refused(() => staggeredRowSpacing(metres(0.4), 1.5), 'out-of-range', 'ranks');
    refused(() => groundSpeed(drill, Number.NaN as never), 'not-a-number', 'speed');
  });
});
