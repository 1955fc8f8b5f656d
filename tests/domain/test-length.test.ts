import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DrillGeometry, rateFromCatch, targetCatch } from '../../server/domain/geometry.ts';
import {
  planTest,
  type TestLength,
  turnsForTest,
  usualTestLengths,
} from '../../server/domain/test-length.ts';
import { gramsPerSquareMetre, metres, squareMetres, turns } from '../../server/domain/units.ts';
import { between, near, refused } from './lots.ts';

const geometry: fc.Arbitrary<DrillGeometry> = fc.record({
  circumference: between(0.5, 8).map(metres),
  rowSpacing: between(0.05, 1).map(metres),
  rowsCaught: fc.integer({ min: 1, max: 40 }),
  slip: between(0, 0.3),
});
const anyLength = fc.constantFrom(...Object.values(usualTestLengths));
const rate = between(0.1, 50).map(gramsPerSquareMetre);
const drill = { circumference: metres(2.4), rowSpacing: metres(0.19), rowsCaught: 2, slip: 0.04 };
const wheat = gramsPerSquareMetre(12);

describe('tests by turns, distance or area', () => {
  it('the turns cover the distance or area asked for', () => {
    fc.assert(
      fc.property(geometry, anyLength, rate, (of, length, wanted) => {
        const plan = planTest(of, length, wanted, false);
        near(plan.turns, plan.exactTurns);
        if (length.kind === 'distance') near(plan.distance, length.distance);
        if (length.kind === 'area') near(plan.area, length.area);
        near(rateFromCatch(of, plan.turns, plan.targetCatch), wanted);
      }),
    );
  });

  it('with whole turns the target follows the turns, so that the rate stays', () => {
    fc.assert(
      fc.property(geometry, anyLength, rate, (of, length, wanted) => {
        const plan = planTest(of, length, wanted, true);
        expect(Number.isInteger(plan.turns)).toBe(true);
        expect(plan.turns).toBeGreaterThanOrEqual(1);
        expect(plan.exactTurns >= 1 ? Math.abs(plan.turns - plan.exactTurns) : 0).toBeLessThanOrEqual(0.5);
        near(plan.targetCatch, targetCatch(of, plan.turns, wanted));
        near(rateFromCatch(of, plan.turns, plan.targetCatch), wanted);
      }),
    );
  });

  it('twice the turns, twice the catch', () => {
    fc.assert(
      fc.property(geometry, between(1, 500), rate, (of, count, wanted) => {
        const once = planTest(of, { kind: 'turns', turns: turns(count) }, wanted, false);
        const twice = planTest(of, { kind: 'turns', turns: turns(2 * count) }, wanted, false);
        near(twice.targetCatch, 2 * once.targetCatch);
        near(twice.distance, 2 * once.distance);
      }),
    );
  });

  it('an area meant for all openers takes fewer turns than for the rows caught', () => {
    const all = { ...usualTestLengths['1/20 ac'], rows: 24 } as TestLength;
    near(turnsForTest(drill, all) * 12, turnsForTest(drill, usualTestLengths['1/20 ac']));
  });

  it('refuses lengths that cannot be', () => {
    const bad: [TestLength, string][] = [
      [{ kind: 'turns', turns: turns(0) }, 'turns'],
      [{ kind: 'distance', distance: metres(0) }, 'distance'],
      [{ kind: 'distance', distance: metres(-50) }, 'distance'],
      [{ kind: 'area', area: squareMetres(0) }, 'area'],
      [{ kind: 'area', area: squareMetres(100), rows: 0 }, 'rows'],
      [{ kind: 'area', area: squareMetres(100), rows: 2.5 }, 'rows'],
      [{ kind: 'area', area: squareMetres(1e7) }, 'length'],
    ];
    for (const [length, field] of bad) {
      refused(() => planTest(drill, length, wheat, true), 'out-of-range', field);
    }
    refused(
      () => planTest({ ...drill, rowSpacing: metres(0) }, usualTestLengths['50 m'], wheat, true),
      'out-of-range',
      'rowSpacing',
    );
    refused(
      () => planTest(drill, usualTestLengths['50 m'], gramsPerSquareMetre(-1), true),
      'out-of-range',
      'rate',
    );
  });
});
