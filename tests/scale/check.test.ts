import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkMassOfClass, nominalMasses } from '../../server/domain/check-masses.ts';
import { grams } from '../../server/domain/units.ts';
import { judged, type ScaleCheck } from '../../server/scale/check.ts';
import { doubtInForce, goodForDays, slopeDoubtBy } from '../../server/scale/kept.ts';
import { suggestedMasses, suggestedSteps } from '../../server/scale/suggest.ts';

/** A check with masses as data: what is suggested, what it says, and what it is worth on a stand as it is set. */

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

describe('the suggested masses', () => {
  it('are nominal ones that reach the heaviest load, and no heavier than they need be', () => {
    fc.assert(
      fc.property(fc.double({ min: 5, max: 9000, noNaN: true }), (heaviest) => {
        const set = suggestedMasses(heaviest);
        expect(set.every((mass) => nominalMasses.includes(mass))).toBe(true);
        expect(sum(set)).toBeGreaterThanOrEqual(heaviest);
        // Neighbouring sets (2, 2, 5 and 5, 10, 10) differ by 25 to 9 at most.
        expect(sum(set)).toBeLessThanOrEqual(Math.max(5, (25 / 9) * heaviest));
      }),
      { numRuns: 100 },
    );
  });

  it('are the heaviest set there is for a load beyond all', () => {
    expect(suggestedMasses(1e5)).toEqual([2000, 2000, 5000]);
  });

  it('make five loads up, some down, from empty to empty', () => {
    const masses = [100, 200, 200].map((mass, index) => ({ name: `${mass} g ${index}`, grams: mass }));
    const steps = suggestedSteps(masses);
    const loads = steps.map((names) => sum(names.map((name) => masses.find((m) => m.name === name)!.grams)));
    expect(loads).toEqual([0, 100, 200, 300, 400, 500, 300, 100, 0]);
  });

  it('make a check of a single mass too', () => {
    expect(suggestedSteps([{ name: 'a', grams: 500 }])).toEqual([[], ['a'], []]);
  });
});

const masses = [100, 200, 500].map((mass) => checkMassOfClass('M1', grams(mass)));

/** A check of a cell of so many grams a count, by settings that say 0.0025; `bent`: grams that it leaves the line by in the middle. */
function checkOf(gramsPerCount: number, bent = 0, left: readonly [number, number] | null = null): ScaleCheck {
  const loads = [0, 100, 200, 500, 700, 800, 700, 500, 200, 100, 0];
  const named: Record<number, string[]> = {
    0: [],
    100: ['100 g'],
    200: ['200 g'],
    500: ['500 g'],
    700: ['200 g', '500 g'],
    800: ['100 g', '200 g', '500 g'],
  };
  const shown = (load: number) => load + bent * (1 - (load / 400 - 1) ** 2);
  const step = (load: number, index: number, place: 'middle' | 'left' = 'middle', off = 0) => ({
    masses: named[load]!,
    place,
    counts: 84_000 + (shown(load) + off) / gramsPerCount + (index % 3) - 1,
    standardError: 2,
  });
  return {
    cell: 0,
    stand: 'shed-1',
    begunAt: '2026-03-14T08:00:00.000Z',
    masses,
    sharedDoubt: 0,
    heaviest: 500,
    inForce: { gramsPerCount: 0.0025, zeroCount: 84_000 },
    steps: [
      ...loads.map((load, index) => step(load, index)),
      ...(left === null ? [] : [step(left[0], 0, 'left', left[1])]),
    ],
  };
}

const resultOf = (check: ScaleCheck) => {
  const outcome = judged(check);
  if (!('result' in outcome)) throw new Error(outcome.why);
  return outcome.result;
};

describe('a check', () => {
  it('finds by how much the slope in force is off', () => {
    const result = resultOf(checkOf(0.0025 / 1.004));
    expect(result.slopeError).toBeCloseTo(0.004, 4);
    expect(result.passed).toBe(true);
    expect(result.doubtAsItIs).toBeCloseTo(0.004, 4);
    expect(result.slopeDoubt).toBeLessThan(0.0002);
    // 0.4 % of 800 g are 3.2 g: more than the 2 g that e = 2 g allows at 400 e in service, and class III has no coarser e for 800 g.
    expect(result.classAsFound).toBeNull();
    expect(result.classAsLeft!.interval).toBeLessThanOrEqual(0.5);
  });

  it('does not pass a scale that bends', () => {
    const result = resultOf(checkOf(0.0025, 2));
    expect(result.warnings.map(({ code }) => code)).toContain('bend');
    expect(result.passed).toBe(false);
  });

  it('sees an error off the middle, and leaves such weighings out of the line', () => {
    const straight = resultOf(checkOf(0.0025));
    const result = resultOf(checkOf(0.0025, 0, [500, -3]));
    expect(result.offCentre!.grams).toBeCloseTo(-3, 1);
    expect(result.offCentre!.place).toBe('left');
    expect(result.gramsPerCount).toBe(straight.gramsPerCount);
    expect(straight.passed).toBe(true);
    expect(result.passed).toBe(false);
  });

  it('says why it says nothing yet', () => {
    const check = checkOf(0.0025);
    expect(judged({ ...check, steps: check.steps.slice(0, 2) })).toHaveProperty('why');
    expect(judged({ ...check, steps: [] })).toHaveProperty('why');
  });
});

const fields = {
  at: '2026-03-14T08:00:00.000Z',
  stand: 'shed-1',
  slopeDoubt: { standard: 0.0003, degreesOfFreedom: null },
  cell: 0,
  points: [],
  gramsPerCount: 0.0025,
  gramsPerCountDoubt: 0.0025 * 0.0003,
  zeroCount: 84_000,
  passed: true,
  note: '',
};
const item = (more: Partial<typeof fields> = {}) => ({
  id: '',
  createdAt: fields.at,
  changedAt: fields.at,
  deletedAt: null,
  fields: { ...fields, ...more },
});
const stand = (...slopes: number[]) => ({
  name: 'shed-1',
  firmware: '1.0.0',
  boot: 1,
  pulsesPerTurn: 60,
  cells: slopes.map((gramsPerCount) => ({ gramsPerCount, zeroCount: 0 })),
});
const day = (count: number) => Date.parse(fields.at) + count * 86_400_000;

describe('what a kept check is worth', () => {
  it('is the doubt of the slope found, where that is in force', () => {
    expect(doubtInForce(fields, 0.0025)).toBeCloseTo(0.0003, 9);
  });

  it('counts an error that nobody corrects in full', () => {
    expect(doubtInForce(fields, 0.0025 * 1.01)).toBeCloseTo(Math.hypot(0.0003, 0.01), 9);
  });

  it('is never better than the usual where the scale did not pass', () => {
    expect(doubtInForce({ ...fields, passed: false }, 0.0025)).toBe(0.001);
  });

  it('is the worst of the cells, and nothing while one has no check in date', () => {
    const both = new Map([
      [0, item()],
      [1, item({ cell: 1, slopeDoubt: { standard: 0.0007, degreesOfFreedom: null } })],
    ]);
    expect(slopeDoubtBy(both, stand(0.0025, 0.0025), day(1))).toBeCloseTo(0.0007, 9);
    expect(slopeDoubtBy(new Map([[0, item()]]), stand(0.0025, 0.0025), day(1))).toBeNull();
    expect(slopeDoubtBy(both, stand(0.0025, 0.0025), day(goodForDays + 1))).toBeNull();
  });
});
