import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkMassOfClass, massTolerance, nominalMasses } from '../../server/domain/check-masses.ts';
import { creepLimits, loadCellError } from '../../server/domain/load-cell-class.ts';
import { calibrateScale } from '../../server/domain/scale-calibration.ts';
import {
  type AccuracyClass,
  handbook44Tolerance,
  maximumPermissibleError,
} from '../../server/domain/scale-class.ts';
import { slopeDoubt } from '../../server/domain/scale-doubt.ts';
import { grams } from '../../server/domain/units.ts';

// OIML R 76-1:2006, table 6. READ in a copy of the table (scribd.com/document/314749659); classes II to IIII also READ in UK SI 1995/1907,
// schedule 2, paragraph 4, legislation.gov.uk.
describe('maximum permissible errors of scales', () => {
  it.each<[AccuracyClass, number[]]>([
    ['I', [50_000, 200_000, 1e9]],
    ['II', [5000, 20_000, 100_000]],
    ['III', [500, 2000, 10_000]],
    ['IIII', [50, 200, 1000]],
  ])('class %s: 0.5, 1, 1.5 e up to %s e', (name, ends) => {
    const errorAt = (load: number) => maximumPermissibleError(name, grams(1), grams(load));
    expect(errorAt(0)).toBe(0.5);
    expect(ends.map(errorAt)).toEqual([0.5, 1, 1.5]);
    expect(ends.slice(0, 2).map((end) => errorAt(end + 0.1))).toEqual([1, 1.5]);
    expect(ends.map((end) => maximumPermissibleError(name, grams(1), grams(end), 'service'))).toEqual([
      1, 2, 3,
    ]);
  });

  // Computed from that table.
  it.each([
    [26, 0.05],
    [86, 0.1],
    [300, 0.15],
    [50, 0.05],
    [50.01, 0.1],
  ])('e = 0.1 g: a catch of %s g to %s g', (load, error) => {
    expect(maximumPermissibleError('III', grams(0.1), grams(load))).toBeCloseTo(error, 12);
  });
});

// NIST Handbook 44, scales code, table 6. Worked example READ in a quality forum on the 2007 edition (elsmar.com, thread 65983): a 500 lb scale of
// 10 000 divisions of 0.05 lb is held to 0.15 lb at 150 lb and to 0.25 lb at 500 lb. The other rows from memory.
describe('Handbook 44, class III', () => {
  it('0.15 lb at 150 lb, 0.25 lb at 500 lb', () => {
    expect(handbook44Tolerance(150 / 0.05, 'maintenance') * 0.05).toBeCloseTo(0.15, 12);
    expect(handbook44Tolerance(500 / 0.05, 'maintenance') * 0.05).toBeCloseTo(0.25, 12);
  });

  it.each([
    [500, 1],
    [501, 2],
    [2000, 2],
    [2001, 3],
    [4000, 3],
    [4001, 5],
    [10_000, 5],
  ])('%s divisions: %s, for acceptance half', (divisions, tolerance) => {
    expect(handbook44Tolerance(divisions, 'maintenance')).toBe(tolerance);
    expect(handbook44Tolerance(divisions, 'acceptance')).toBe(tolerance / 2);
  });

  it('is laxer than the OIML above 2 000 divisions, in service the same or laxer', () => {
    const oiml = (divisions: number) => maximumPermissibleError('III', grams(1), grams(divisions), 'service');
    expect([500, 2000, 4000, 10_000].map((at) => handbook44Tolerance(at, 'maintenance') - oiml(at))).toEqual([
      0, 0, 0, 2,
    ]);
  });
});

// OIML R 60-1:2021. READ: creep within 0.7 of the error in 30 minutes, which for a C3 cell at capacity is 0.735 v, and 0.1575 v from 20 to 30.
describe('class C load cells', () => {
  it('a C3 cell: 1.05 v at capacity, creep 0.735 v and 0.1575 v', () => {
    expect(loadCellError(3000)).toBeCloseTo(1.05, 12);
    expect(creepLimits(3000).halfHour).toBeCloseTo(0.735, 12);
    expect(creepLimits(3000).lastTenMinutes).toBeCloseTo(0.1575, 12);
  });

  it('shares of the scale’s bands', () => {
    expect([500, 501, 2000, 2001].map((load) => loadCellError(load, 0.8))).toEqual(
      [0.5, 1, 1, 1.5].map((band) => 0.8 * band),
    );
  });
});

// OIML R 111-1:2004, table 1, milligrams. READ in a Greek ministry's consultation (opengov.gr/ypoian/?p=2697); 1 g to 100 g READ again in
// a second copy.
describe('check masses', () => {
  it.each([
    [5000, 250, 800, 2500],
    [2000, 100, 300, 1000],
    [1000, 50, 160, 500],
    [500, 25, 80, 250],
    [200, 10, 30, 100],
    [100, 5, 16, 50],
    [50, 3, 10, 30],
    [20, 2.5, 8, 25],
    [10, 2, 6, 20],
    [5, 1.6, 5, 16],
    [2, 1.2, 4, 12],
    [1, 1, 3, 10],
  ])('%s g: M1 %s, M2 %s, M3 %s mg', (nominal, ...milligrams) => {
    const classes = ['M1', 'M2', 'M3'] as const;
    expect(classes.map((name) => massTolerance(name, grams(nominal)) * 1000)).toEqual(
      milligrams.map((each) => expect.closeTo(each, 9)),
    );
    expect(nominalMasses).toContain(nominal);
  });

  // Computed: even the coarsest 200 g weight is good to 0.05 %.
  it('200 g of class M3 is good to 0.05 %, a standard doubt of 0.029 %', () => {
    expect(massTolerance('M3', grams(200)) / 200).toBeCloseTo(0.0005, 12);
    expect(checkMassOfClass('M3', grams(200)).standardDoubt / 200).toBeCloseTo(0.00028868, 8);
  });
});

// NIST StRD, data set Pontius: a load cell, 20 loads from 150 000 to 3 000 000 lb, each twice, deflections as counts of their last printed place.
// READ: data and certified parabola (data/nist-strd.json). Here its lightest load stands for the empty scale and 1000 lb for a gram; the straight
// line was computed elsewhere: slope 7.22102581e-7, s 0.00217127, ten times the certified 0.000205177 of the parabola.
describe('a real load cell bends', () => {
  const { datasets } = JSON.parse(readFileSync(new URL('data/nist-strd.json', import.meta.url), 'utf8')) as {
    datasets: { name: string; x: number[]; y: number[] }[];
  };
  const { x, y } = datasets.find(({ name }) => name === 'Pontius')!;
  const loads = x.map((each) => (each - 150_000) / 1000);
  const masses = [...new Set(loads)]
    .filter((load) => load > 0)
    .map((load) => ({ name: `${load}`, grams: grams(load), standardDoubt: grams(0) }));
  const calibration = calibrateScale({
    masses,
    steps: loads.map((load, i) => ({
      masses: load === 0 ? [] : [`${load}`],
      counts: y[i]! * 1e5,
      standardError: 0,
    })),
  });

  it('the line is the published one', () => {
    expect(1 / calibration.gramsPerCount / 1e5 / 1000).toBeCloseTo(7.22102581e-7, 14);
    expect(calibration.scatter.standard / 1e5).toBeCloseTo(0.00217127, 8);
    expect(calibration.scatter.degreesOfFreedom).toBe(38);
  });

  it('its bend is seen, which R² of 0.99999 hides', () => {
    const { bend } = calibration.diagnostics;
    expect(bend!.curve.fit.spread / 1e5).toBeCloseTo(0.000205177424, 11);
    expect(bend!.curve.curvature / 1e5 / 1e6).toBeCloseTo(-0.316081871345029e-14, 24);
    expect(bend!.probability).toBeLessThan(1e-20);
    expect(calibration.warnings.map(({ code }) => code)).toContain('bend');
  });

  it('and counts where little is weighed: 1.1 % at the light end, where the line alone would say 0.06 %', () => {
    expect(slopeDoubt(calibration).standard).toBeLessThan(0.0006);
    expect(slopeDoubt(calibration, { from: 0, to: 300 }).standard).toBeGreaterThan(0.01);
  });
});
