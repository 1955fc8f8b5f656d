import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  areaSown,
  compareField,
  type FieldCheck,
  type SownArea,
  type StandRate,
  seedUsed,
  standRateFor,
} from '../../server/domain/field-check.ts';
import { combineFieldChecks } from '../../server/domain/field-checks.ts';
import type { BudgetPart, BudgetPartName } from '../../server/domain/uncertainty.ts';
import { grams, gramsPerSquareMetre, metres, squareMetres } from '../../server/domain/units.ts';
import { between, near, refused } from './lots.ts';

const part = (name: BudgetPartName, relative: number, common: boolean): BudgetPart => ({
  part: name,
  relative,
  degreesOfFreedom: Number.POSITIVE_INFINITY,
  common,
});
const parts = {
  run: part('repeatability', 0.01, false),
  scale: part('scale', 0.005, true),
  circumference: part('circumference', 0.02, true),
  spacing: part('row-spacing', 0.03, true),
  slip: part('slip', 0.04, true),
};
const stand: StandRate = {
  rate: gramsPerSquareMetre(10),
  parts: Object.values(parts),
  geometry: { circumference: metres(2.4), rowSpacing: metres(0.2), rowsCaught: 1, slip: 0 },
};
const measured: SownArea = { kind: 'measured', area: squareMetres(10_000), doubt: 50 };
const check: FieldCheck = {
  name: 'the north field',
  used: grams(92_000),
  usedDoubt: 460,
  onStandScale: false,
  area: measured,
};
const usedOf = (share: number): FieldCheck => ({
  ...check,
  used: grams(100_000 * share),
  usedDoubt: 500 * share,
});
/** Half-width in logarithms, in standard doubts at 95 %. */
const doubtOf = ({ low, high }: { low: number; high: number }) =>
  Math.log(high / low) / 2 / 1.959963984540054;

describe('a field check', () => {
  it('for the correction: the field’s doubts and the stand’s own, nothing that repeats next time', () => {
    const factor = compareField(stand, check);
    near(factor.factor, 0.92);
    near(factor.fieldRate, 9.2);
    near(doubtOf(factor), Math.hypot(0.005, 0.005, 0.01), 1e-9);
    near(factor.field.standard, Math.hypot(0.005, 0.005), 1e-9);
    near(factor.stand.standard, 0.01);
    near(factor.correction!, 1 / 0.92);
  });

  it('for the slip: what all runs share counts too, but for the slip that was set', () => {
    const { slip } = compareField(stand, check);
    near(slip.value, 0.08, 1e-9);
    const rolled = { low: 1 - slip.high, high: 1 - slip.low };
    near(doubtOf(rolled), Math.hypot(0.005, 0.005, 0.01, 0.005, 0.02, 0.03), 1e-9);
    const set = { ...stand, geometry: { ...stand.geometry, slip: 0.05 } };
    near(compareField(set, check).slip.value, 1 - 0.92 * 0.95, 1e-9);
  });

  it('what stand and field rest on alike cancels in the slip, and is doubt of the correction instead', () => {
    const distance = metres(2500);
    const rows: SownArea = { kind: 'rows', distance, distanceDoubt: 12.5, rows: 20 };
    const alike = compareField(stand, { ...check, area: rows, onStandScale: true });
    near(alike.factor, 0.92);
    near(doubtOf(alike), Math.hypot(0.005, 0.005, 0.01, 0.005, 0.03), 1e-9);
    const rolled = { low: 1 - alike.slip.high, high: 1 - alike.slip.low };
    near(doubtOf(rolled), Math.hypot(0.005, 0.005, 0.01, 0.02), 1e-9);
  });

  it('offers no correction where chance explains the difference, and says so', () => {
    const small = compareField(stand, usedOf(0.98));
    expect(small).toMatchObject({ beyondDoubt: false, correction: null });
    expect(small.sentence).toMatch(
      /^The field got 2 % less than the stand said\. That is within the 2\.4 %.*leave/,
    );
    const large = compareField(stand, usedOf(0.9));
    expect(large.beyondDoubt).toBe(true);
    expect(large.sentence).toBe(
      'The field got 10 % less than the stand said (7.8 to 12.1 %), more than chance explains. Next time set the stand to 1.111 times the wanted rate.',
    );
  });

  it('doubts itself where the difference is no slip', () => {
    for (const share of [0.5, 1.3]) {
      const odd = compareField(stand, usedOf(share));
      expect(odd.suspicious).toBe(true);
      expect(odd.sentence).toMatch(
        /check area, seed left over and setting first\. If all is right: next time/,
      );
    }
    expect(compareField(stand, usedOf(0.9)).suspicious).toBe(false);
  });

  it('follows scales: twice the seed twice the factor, twice the area half of it', () => {
    fc.assert(
      fc.property(between(0.3, 1.5), between(0.5, 4), (share, by) => {
        const one = compareField(stand, usedOf(share));
        near(compareField(stand, usedOf(share * by)).factor, one.factor * by, 1e-9);
        const area: SownArea = { kind: 'measured', area: squareMetres(10_000 * by), doubt: 50 * by };
        const wide = compareField(stand, { ...usedOf(share), area });
        near(wide.factor, one.factor / by, 1e-9);
        near(wide.high / wide.low, one.high / one.low, 1e-9);
      }),
    );
  });

  it('is vaguer with every doubt', () => {
    fc.assert(
      fc.property(between(0, 2000), between(0, 300), between(1, 1000), (used, area, more) => {
        const width = (usedDoubt: number, doubt: number) => {
          const { low, high } = compareField(stand, {
            ...check,
            usedDoubt,
            area: { ...measured, doubt } as SownArea,
          });
          return high / low;
        };
        expect(width(used + more, area)).toBeGreaterThan(width(used, area));
        expect(width(used, area + more)).toBeGreaterThan(width(used, area));
      }),
    );
  });

  it('the correction brings the field to the wanted rate', () => {
    fc.assert(
      fc.property(between(1, 50), between(0.5, 1.5), (wanted, factor) => {
        near(standRateFor(gramsPerSquareMetre(wanted), factor) * factor, wanted);
      }),
    );
  });

  it('takes an area as given, or by way and width, or by way and rows', () => {
    const distance = metres(1000);
    const way = { distance, distanceDoubt: 3 };
    const { geometry } = stand;
    expect(areaSown(measured, geometry)).toEqual({ area: 10_000, relative: 0.005 });
    const driven = areaSown({ kind: 'driven', ...way, width: metres(4), widthDoubt: 0.016 }, geometry);
    near(driven.area, 4000);
    near(driven.relative, 0.005);
    const rows = areaSown({ kind: 'rows', ...way, rows: 20 }, geometry);
    near(rows.area, 4000);
    near(rows.relative, 0.003);
  });

  it('seed used is what was filled in less what is left', () => {
    near(seedUsed([grams(500), grams(250)], grams(100)), 650);
    refused(() => seedUsed([], grams(0)), 'too-few', 'filled');
    refused(() => seedUsed([grams(500)], grams(500)), 'inconsistent', 'left');
    refused(() => seedUsed([grams(-1)], grams(0)), 'out-of-range', 'filled');
    refused(() => seedUsed([grams(5)], grams(-1)), 'out-of-range', 'left');
    refused(() => seedUsed([Number.NaN as never], grams(1)), 'not-a-number', 'filled');
  });

  const way = { distance: metres(100), distanceDoubt: 0 };
  it.each<[string, string, FieldCheck]>([
    ['no seed', 'used', { ...check, used: grams(0) }],
    ['a doubt below nothing', 'usedDoubt', { ...check, usedDoubt: -1 }],
    ['no area', 'area', { ...check, area: { ...measured, area: squareMetres(0) } as SownArea }],
    [
      'a doubt of the area below nothing',
      'doubt',
      { ...check, area: { ...measured, doubt: -1 } as SownArea },
    ],
    ['no way', 'distance', { ...check, area: { kind: 'rows', ...way, distance: metres(0), rows: 20 } }],
    ['no rows', 'rows', { ...check, area: { kind: 'rows', ...way, rows: 0 } }],
    ['no width', 'width', { ...check, area: { kind: 'driven', ...way, width: metres(0), widthDoubt: 0 } }],
    [
      'a doubt of the way below nothing',
      'distanceDoubt',
      { ...check, area: { kind: 'rows', ...way, distanceDoubt: -1, rows: 2 } },
    ],
    [
      'a doubt of the width below nothing',
      'widthDoubt',
      { ...check, area: { kind: 'driven', ...way, width: metres(3), widthDoubt: -1 } },
    ],
  ])('refuses %s', (_, field, bad) => {
    refused(() => compareField(stand, bad), 'out-of-range', field);
  });

  it('refuses a stand without a rate, a slip that cannot be, factors beyond reason', () => {
    refused(() => compareField({ ...stand, rate: gramsPerSquareMetre(0) }, check), 'out-of-range', 'rate');
    refused(() => compareField({ ...stand, rate: Number.NaN as never }, check), 'not-a-number', 'rate');
    const slipping = { ...stand, geometry: { ...stand.geometry, slip: 1 } };
    refused(() => compareField(slipping, check), 'out-of-range', 'slip');
    const narrow = { ...stand, geometry: { ...stand.geometry, rowSpacing: metres(0) } };
    const rows: FieldCheck = { ...check, area: { kind: 'rows', ...way, rows: 20 } };
    refused(() => compareField(narrow, rows), 'out-of-range', 'rowSpacing');
    refused(() => standRateFor(gramsPerSquareMetre(10), 0), 'out-of-range', 'factor');
    refused(() => standRateFor(gramsPerSquareMetre(-1), 0.9), 'out-of-range', 'rate');
  });
});

describe('several field checks', () => {
  const factors = (...shares: number[]) => shares.map((share) => compareField(stand, usedOf(share)));

  it('that agree weigh by their doubts; one stand’s doubt counts once', () => {
    const sure = compareField(stand, {
      ...usedOf(0.9),
      usedDoubt: 45,
      area: { ...measured, doubt: 5 } as SownArea,
    });
    const { factor } = combineFieldChecks([sure, ...factors(0.905)], 'one');
    expect(factor).toBeLessThan(0.9005);
    const one = combineFieldChecks(factors(0.9, 0.9, 0.9, 0.9), 'one');
    near(doubtOf(one), Math.hypot(Math.hypot(0.005, 0.005) / 2, 0.01), 1e-6);
    const own = combineFieldChecks(factors(0.9, 0.9, 0.9, 0.9), 'own');
    near(doubtOf(own), Math.hypot(0.005, 0.005, 0.01) / 2, 1e-6);
    expect(one).toMatchObject({ fieldToField: 0, beyondDoubt: true });
    near(one.correction!, 1 / 0.9, 1e-9);
  });

  it('that differ say so, and promise less of the next field', () => {
    const differ = combineFieldChecks(factors(0.85, 0.9, 0.95, 0.88), 'own');
    expect(differ.verdict!.beyondChance).toBe(true);
    expect(differ.fieldToField).toBeGreaterThan(0.03);
    // Student's t at three degrees of freedom: 3.182 (NIST/SEMATECH e-Handbook 1.3.6.7.2).
    const each = Math.hypot(0.005, 0.005, 0.01, differ.fieldToField) / 2;
    near(Math.log(differ.high / differ.factor), 3.182446 * each, 1e-6);
    expect(differ.next.low).toBeLessThan(differ.low);
    expect(differ.next.high).toBeGreaterThan(differ.high);
    expect(differ.sentence).toMatch(/^4 field checks say: .*The fields differ by .*the next may get/);
  });

  it('do not depend on their order; a single one stands for itself', () => {
    fc.assert(
      fc.property(fc.array(between(0.7, 1.1), { minLength: 2, maxLength: 6 }), (shares) => {
        const there = combineFieldChecks(factors(...shares), 'own');
        const back = combineFieldChecks(factors(...shares.toReversed()), 'own');
        near(back.factor, there.factor, 1e-9);
        near(back.high, there.high, 1e-6);
        expect(there.factor).toBeGreaterThanOrEqual(Math.min(...shares) * (1 - 1e-9));
        expect(there.factor).toBeLessThanOrEqual(Math.max(...shares) * (1 + 1e-9));
      }),
    );
    const [single] = factors(0.9);
    const alone = combineFieldChecks([single!], 'one');
    near(alone.factor, single!.factor, 1e-12);
    near(alone.high, single!.high, 1e-9);
    expect(alone).toMatchObject({ checks: 1, verdict: null, fieldToField: 0 });
    expect(combineFieldChecks(factors(0.99), 'own').sentence).toMatch(/leave the setting as it is\.$/);
  });

  it('refuse none, and a confidence that is none', () => {
    refused(() => combineFieldChecks([], 'own'), 'too-few', 'factors');
    refused(() => combineFieldChecks(factors(0.9), 'own', 1), 'out-of-range', 'confidence');
  });
});
