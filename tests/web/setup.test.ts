import fc from 'fast-check';
import Schema from 'typebox/schema';
import { describe, expect, it } from 'vitest';
import { roundRatesAbout } from '../../server/domain/advice/chart.ts';
import { targetUnits } from '../../server/domain/target-units.ts';
import { unitSize } from '../../server/domain/units.ts';
import { Plan, type SeedPart } from '../../server/http/messages.ts';
import { readHandRun } from '../../web/src/state/entry.ts';
import { convertDrafts, type Drafts, readForm, shownText } from '../../web/src/state/form.ts';
import { markName, markOf, means } from '../../web/src/state/next-act.ts';
import { readCount, readDensity } from '../../web/src/state/setup/bench.ts';
import { draftsOf, lotForAll, readSeed, seedText, summaryOf } from '../../web/src/state/setup/seed.ts';
import { findTargetUnit } from '../../web/src/state/setup/target.ts';
import { commonStand, turnsAdvice, turnsForLength } from '../../web/src/state/setup/turns.ts';
import { readRanks, readWheel } from '../../web/src/state/setup/working.ts';
import { plan, scaledPlan } from './invented.ts';

const part = (more: Partial<SeedPart>): SeedPart => ({
  name: 'Oats',
  species: '',
  share: 1,
  fullRateGramsPerSquareMetre: null,
  thousandSeedWeightGrams: 34,
  counted: null,
  purity: 1,
  germination: 1,
  hard: 0,
  dormant: 0,
  bulkDensityKilogramsPerCubicMetre: null,
  ...more,
});
const sown = (parts: SeedPart[], basis: 'mass' | 'live-seeds' | 'full-stand' = 'mass'): Plan => {
  const { plan: made, faults } = readForm(
    plan,
    { parts: seedText(draftsOf({ basis, parts }, 'metric')) },
    'metric',
  );
  expect(faults).toEqual({});
  return made;
};
const form = (base: Plan, drafts: Drafts, system: 'metric' | 'us' = 'metric') =>
  readForm(base, drafts, system);

describe('what the seed is made of', () => {
  it('gives pure live seed: purity x germination, hard seed alive too', () => {
    // Pennsylvania DEP, Erosion and Sediment Pollution Control manual: PLS = purity x germination; hard seed adds (7 CFR 201.21).
    const summary = summaryOf({ parts: [part({ purity: 0.98, germination: 0.75, hard: 0.1 })] });
    expect(summary?.pureLiveSeed).toBeCloseTo(0.98 * 0.85, 12);
  });

  it('takes shares by mass, by number and of a full stand to the same mix where they say the same', () => {
    // By hand: 70 % of the mass at 34 g and 30 % at 52 g a thousand is 70/34 to 30/52 by number.
    const [oats, vetch] = [
      part({ share: 0.7 }),
      part({ name: 'Vetch', share: 0.3, thousandSeedWeightGrams: 52 }),
    ];
    const count = 70 / 34 + 30 / 52;
    const byNumber = [part({ ...oats, share: 70 / 34 / count }), part({ ...vetch, share: 30 / 52 / count })];
    const byStand = [
      part({ ...oats, share: 0.5, fullRateGramsPerSquareMetre: 14 }),
      part({ ...vetch, share: 0.5, fullRateGramsPerSquareMetre: 6 }),
    ];
    const shares = (basis: 'mass' | 'live-seeds' | 'full-stand', parts: SeedPart[]) =>
      summaryOf({ basis, parts })!.mix.parts.map(({ massShare }) => massShare);
    for (const found of [
      shares('mass', [oats, vetch]),
      shares('live-seeds', byNumber),
      shares('full-stand', byStand),
    ]) {
      expect(found[0]).toBeCloseTo(0.7, 10);
      expect(found[1]).toBeCloseTo(0.3, 10);
    }
    expect(summaryOf({ basis: 'full-stand', parts: byStand })?.fullStandRate).toBeCloseTo(10, 10);
  });

  it('weighs its mean seed by mass, and puts it into the plan', () => {
    const made = sown([
      part({ share: 0.7 }),
      part({ name: 'Vetch', share: 0.3, thousandSeedWeightGrams: 52 }),
    ]);
    expect(made.seed.seedMassGrams).toBeCloseTo(0.7 * 0.034 + 0.3 * 0.052, 12);
    expect(made.seed.parts).toHaveLength(2);
    expect(Schema.Check(Plan, made)).toBe(true);
  });

  it('estimates its density until somebody measures it', () => {
    const made = sown([part({ bulkDensityKilogramsPerCubicMetre: 480 })]);
    expect(made.seed.bulkDensityKilogramsPerCubicMetre).toBeCloseTo(480, 9);
    const measured = form(made, { bulkDensity: '51' }).plan;
    expect(measured.seed.bulkDensityKilogramsPerCubicMetre).toBe(510);
    const lighter = seedText(
      draftsOf({ parts: [part({ bulkDensityKilogramsPerCubicMetre: 450 })] }, 'metric'),
    );
    expect(form(made, { parts: lighter }).plan.seed.bulkDensityKilogramsPerCubicMetre).toBeCloseTo(450, 9);
    expect(form(measured, { parts: lighter }).plan.seed.bulkDensityKilogramsPerCubicMetre).toBe(510);
  });

  it.each([
    [[part({ share: 0.7 }), part({ share: 0.2 })], 'mass', 'shares'],
    [
      [
        part({ share: 1, fullRateGramsPerSquareMetre: 5 }),
        part({ share: 1, fullRateGramsPerSquareMetre: 5 }),
        part({ share: 0.5, fullRateGramsPerSquareMetre: 5 }),
      ],
      'full-stand',
      'too-thick',
    ],
    [[part({ germination: 0 })], 'mass', 'nothing-alive'],
  ] as const)('refuses what cannot be together (%#)', (parts, basis, kind) => {
    const read = readSeed(draftsOf({ basis, parts: [...parts] }, 'metric'), 'metric');
    expect(read).toMatchObject({ ok: false, fault: { kind } });
  });

  it('can be taken out again', () => {
    const made = sown([part({})]);
    const { plan: bare } = form(made, { parts: '' });
    expect(bare.seed).not.toHaveProperty('parts');
    expect(bare.seed).not.toHaveProperty('basis');
  });

  it('shows what it reads, in both systems of units, and carries it between them', () => {
    const some = fc.record({
      weight: fc.double({ min: 0.05, max: 900, noNaN: true }),
      purity: fc.double({ min: 0.01, max: 1, noNaN: true }),
      germination: fc.double({ min: 0.01, max: 1, noNaN: true }),
      density: fc.option(fc.double({ min: 30, max: 1400, noNaN: true })),
    });
    fc.assert(
      fc.property(some, fc.constantFrom('metric' as const, 'us' as const), (given, system) => {
        const before = part({
          thousandSeedWeightGrams: given.weight,
          purity: given.purity,
          germination: given.germination,
          bulkDensityKilogramsPerCubicMetre: given.density,
        });
        const other = system === 'us' ? 'metric' : 'us';
        const typed: Drafts = { parts: seedText(draftsOf({ parts: [before] }, system)) };
        const { plan: made, faults } = readForm(plan, convertDrafts(typed, plan, system, other), other);
        expect(faults).toEqual({});
        const [after] = made.seed.parts!;
        expect(after!.thousandSeedWeightGrams / before.thousandSeedWeightGrams).toBeCloseTo(1, 6);
        expect(after!.purity).toBeCloseTo(before.purity, 7);
        if (given.density !== null)
          expect(after!.bulkDensityKilogramsPerCubicMetre! / given.density).toBeCloseTo(1, 6);
      }),
      { numRuns: 60 },
    );
  });
});

describe('a target in any unit', () => {
  const oats = sown([part({ purity: 0.97, germination: 0.92 })]);

  it('is what the trade’s formula gives for seeds', () => {
    // Rate of pure live seed rests on live seeds an area: Louisiana NRCS Plant Materials Technical Note 11 (2009).
    const { plan: made, faults } = form(oats, { targetUnit: 'live seeds/m²', targetRate: '300' });
    expect(faults).toEqual({});
    expect(made.target.gramsPerSquareMetre).toBeCloseTo((300 * 0.034) / (0.97 * 0.92), 10);
    expect(made.target.stated).toEqual({ figure: 300, unit: 'live seeds/m²', establishment: 1 });
  });

  it('is what the trade’s formula gives for plants', () => {
    // Alberta Agdex 100/22-1: kg/ha = plants/m² x thousand-seed weight / survival; purity and germination on top.
    const { plan: made } = form(oats, { targetUnit: 'plants/m²', targetRate: '210', establishment: '70' });
    expect(made.target.gramsPerSquareMetre).toBeCloseTo((210 * 0.034) / (0.7 * 0.97 * 0.92), 10);
  });

  it.each([
    ['350 seeds/m2', 'live seeds/m²'],
    ['350 seeds per square metre', 'live seeds/m²'],
    ['28 seeds per sq ft', 'live seeds/ft²'],
    ['28 live seeds/ft2', 'live seeds/ft²'],
    ['12 seeds per foot of row', 'live seeds/ft of row'],
    ['40 plants per sq. yard', 'plants/yd²'],
    ['1 200 000 plants/acre', 'plants/ac'],
    ['20 lb/acre PLS', 'lb/ac live seed'],
    ['350 Körner/m²', 'live seeds/m²'],
    ['350 graines/m²', 'live seeds/m²'],
    ['350 semillas/m²', 'live seeds/m²'],
    ['2,5 bu/ac', 'US bu/ac'],
  ])('%s is understood, whatever unit was chosen', (typed, unit) => {
    const spelling = /[^\d\s.,].*$/.exec(typed)![0];
    expect(findTargetUnit(spelling)).toBe(unit);
    const known = { ...oats, seed: { ...oats.seed, bulkDensityKilogramsPerCubicMetre: 480 } };
    const { plan: made, faults } = form(known, { targetRate: typed, establishment: '70' });
    expect(faults).toEqual({});
    expect(made.target.stated?.unit).toBe(unit);
  });

  it('finds every unit by its own name', () => {
    for (const unit of targetUnits) expect(findTargetUnit(unit)).toBe(unit);
  });

  it('says what it needs', () => {
    expect(form(plan, { targetUnit: 'live seeds/m²', targetRate: '300' }).faults).toEqual({
      targetRate: { kind: 'needs-seed' },
    });
    expect(form(oats, { targetUnit: 'US bu/ac', targetRate: '2' }).faults).toEqual({
      targetRate: { kind: 'needs-density' },
    });
    expect(form(oats, { targetUnit: 'plants/m²', targetRate: '200' }).faults).toEqual({
      establishment: { kind: 'needs-establishment' },
    });
  });

  it('by number follows another seed or row spacing; by mass it stays', () => {
    const { plan: made } = form(oats, { targetUnit: 'live seeds/m of row', targetRate: '60' });
    const wider = form(made, { rowSpacing: String((2 * made.drill.rowSpacingMetres * 100).toFixed(4)) }).plan;
    expect(wider.target.gramsPerSquareMetre).toBeCloseTo(made.target.gramsPerSquareMetre / 2, 6);
    expect(wider.target.stated?.figure).toBe(60);
    const heavier = seedText(
      draftsOf({ parts: [part({ purity: 0.97, germination: 0.92, thousandSeedWeightGrams: 68 })] }, 'metric'),
    );
    expect(form(made, { parts: heavier }).plan.target.gramsPerSquareMetre).toBeCloseTo(
      2 * made.target.gramsPerSquareMetre,
      9,
    );
    expect(form(oats, { parts: heavier }).plan.target).toEqual(oats.target);
  });

  it('in a unit of its own stays as it is typed when the units of the page change', () => {
    const typed: Drafts = { targetUnit: 'live seeds/m²', targetRate: '300' };
    expect(convertDrafts(typed, oats, 'metric', 'us')).toEqual(typed);
    expect(convertDrafts({ targetRate: '67.25' }, oats, 'metric', 'us').targetRate).toMatch(/^59\.99/);
  });

  it('survives being shown and read again', () => {
    for (const unit of targetUnits) {
      const drafts = { targetUnit: unit, targetRate: '3', establishment: '70', bulkDensity: '48' };
      const { plan: made, faults } = form(oats, drafts);
      if (faults.targetRate !== undefined) continue;
      const { target } = form(made, { targetRate: shownText('targetRate', made, 'metric') }).plan;
      expect(target.stated).toEqual(made.target.stated);
      expect(target.gramsPerSquareMetre / made.target.gramsPerSquareMetre).toBeCloseTo(1, 7);
    }
  });

  it('takes one lot for a whole mix, right by number and by mass', () => {
    // By hand: 1 g of the mix holds 500 mg at 20 mg with 90 % alive and 500 mg at 50 mg with 60 % alive.
    const mixed = [
      part({ share: 0.5, thousandSeedWeightGrams: 20, germination: 0.9 }),
      part({ share: 0.5, thousandSeedWeightGrams: 50, germination: 0.6 }),
    ];
    const summary = summaryOf({ parts: mixed })!;
    const byNumber = lotForAll(summary, 'number');
    expect((byNumber.purity * byNumber.germination) / byNumber.thousandSeedWeight).toBeCloseTo(
      0.5 * (0.9 / 20) + 0.5 * (0.6 / 50),
      12,
    );
    const byMass = lotForAll(summary, 'mass');
    expect(byMass.purity * byMass.germination).toBeCloseTo(0.75, 12);
  });
});

describe('what a figure was measured from', () => {
  const rolled = readWheel(
    { way: 'roll-out', readings: '26.92 26.94', turns: '10', distance: '', counts: '' },
    'metric',
  );

  it('is kept with it, and dropped once another figure is typed', () => {
    const { circumference, from } = rolled.found!;
    expect(circumference).toBeCloseTo(2.693, 9);
    const drafts = { circumference: '2.693', circumferenceFrom: JSON.stringify(from) };
    const { plan: made } = form(plan, drafts);
    expect(made.drill.circumferenceFrom).toEqual(from);
    expect(form(made, { circumference: '2.7' }).plan.drill).not.toHaveProperty('circumferenceFrom');
    expect(form(made, { turns: '30' }).plan.drill.circumferenceFrom).toEqual(from);
  });

  it('several readings say how well they repeat', () => {
    const one = readWheel({ way: 'tape', readings: '2.69', turns: '', distance: '', counts: '' }, 'metric');
    const spread = readWheel(
      { way: 'tape', readings: '2.60; 2.78; 2.69 m', turns: '', distance: '', counts: '' },
      'metric',
    );
    expect(spread.found!.circumference).toBeCloseTo(2.69, 9);
    expect(spread.found!.doubt.standard).toBeGreaterThan(one.found!.doubt.standard);
  });

  it('takes pasted units, one behind all or one behind each', () => {
    const feet = readWheel(
      { way: 'roll-out', readings: '88.3 88.4 ft', turns: '10', distance: '', counts: '' },
      'metric',
    );
    expect(feet.found!.circumference).toBeCloseTo(8.835 * 0.3048, 9);
    const each = readWheel(
      { way: 'tape', readings: '106 in; 2.69 m', turns: '', distance: '', counts: '' },
      'us',
    );
    expect(each.found!.from.readings).toEqual([expect.closeTo(2.6924, 9), 2.69]);
  });

  it('is the published field count', () => {
    // Southeast Farm Press, Cover crop mixtures require properly calibrated grain drill: 19 turns in 145.2 ft, so 7.64 ft a turn.
    const field = readWheel({ way: 'field', readings: '', turns: '', distance: '145.2', counts: '19' }, 'us');
    expect(field.found!.circumference / 0.3048).toBeCloseTo(7.64, 2);
    expect(field.found!.holdsSlip).toBe(true);
  });

  it('ranks divide their spacing', () => {
    expect(readRanks({ within: '15 in', ranks: '2' }, 'metric').found?.metres).toBeCloseTo(0.1905, 12);
  });

  it('portions of counted seeds give a thousand-seed weight with its interval, or ask for more', () => {
    // By hand: mean of 3.36, 3.40, 3.44 g a hundred is 34 g a thousand; their variation is 0.04 / 3.40 = 1.2 %.
    const { found } = readCount({ seedsEach: '100', weights: '3,36 3,40 3,44', chaffy: false }, 'metric');
    expect(found!.weight.thousandSeedWeight).toBeCloseTo(34, 9);
    expect(found!.weight.stands).toBe(true);
    const uneven = readCount({ seedsEach: '100', weights: '3.0 3.6 3.4', chaffy: false }, 'metric');
    expect(uneven.found!.weight.stands).toBe(false);
    expect(readCount({ seedsEach: '100', weights: '3.4', chaffy: false }, 'metric').found).toBeNull();
  });

  it('a measure gives a bulk density', () => {
    expect(readDensity({ volume: '500 mL', mass: '386 g' }, 'metric').found).toBeCloseTo(772, 9);
    // A dry quart is a 32nd of a bushel of 35.23907016688 L (exact): 60 lb/bu is 1.875 lb to the quart.
    expect(readDensity({ volume: '1', mass: '1.875' }, 'us').found).toBeCloseTo(772.31, 1);
  });
});

describe('a scale with letters for marks', () => {
  const lettered = form(plan, { scaleMarks: 'A, B; C,D', setting: 'c' });

  it('counts them from one', () => {
    expect(lettered.faults).toEqual({});
    expect(lettered.plan.drill.scale).toMatchObject({
      low: 1,
      high: 4,
      step: 1,
      marks: ['A', 'B', 'C', 'D'],
    });
    expect(Schema.Check(Plan, lettered.plan)).toBe(true);
  });

  it('refuses a setting that is none of them, and a single mark', () => {
    expect(form(plan, { scaleMarks: 'A, B', setting: 'F' }).faults.setting).toEqual({
      kind: 'no-such-mark',
      marks: 'A, B',
    });
    expect(form(plan, { scaleMarks: 'A' }).faults.scaleMarks).toEqual({ kind: 'too-few-marks' });
  });

  it('names marks and finds them by name', () => {
    const { scale } = lettered.plan.drill;
    for (const [mark, name] of [
      [1, 'A'],
      [4, 'D'],
    ] as const) {
      expect(markName(scale, mark)).toBe(name);
      expect(markOf(scale, name.toLowerCase())).toBe(mark);
      expect(means(name, mark, scale)).toBe(true);
    }
    expect(markName(scaledPlan.drill.scale, 30)).toBeNull();
    expect(means('30,0', 30, scaledPlan.drill.scale)).toBe(true);
    const typed = { setting: 'b', turns: '25', grams: '80', scaleStep: '1', countedByEye: true };
    expect(readHandRun(typed, scale!, 'metric').body?.setting).toBe(2);
  });

  it('a setting off a scale of numbers is refused', () => {
    expect(form(scaledPlan, { setting: '95' }).faults.setting).toEqual({
      kind: 'range',
      low: '0',
      high: '80',
    });
  });
});

describe('how many turns', () => {
  it('are fewer for a wider tolerance, a lighter seed, more rows', () => {
    const enough = (more: Partial<Plan> = {}) => turnsAdvice({ ...plan, ...more }, commonStand)!.enough!;
    const usual = enough();
    expect(enough({ target: { ...plan.target, tolerance: 0.1 } })).toBeLessThan(usual);
    expect(enough({ seed: { ...plan.seed, seedMassGrams: 0.003 } })).toBeLessThan(usual);
    expect(enough({ rowsCaught: 4 })).toBeLessThan(usual);
  });

  it('bring a run inside the tolerance, one fewer does not', () => {
    const { enough } = turnsAdvice(plan, commonStand)!;
    const at = (turns: number) => turnsAdvice({ ...plan, turns }, commonStand)!.plannedHalfWidth;
    expect(at(enough!)).toBeLessThanOrEqual(plan.target.tolerance);
    expect(at(enough! - 1)).toBeGreaterThan(plan.target.tolerance);
  });

  it('count finer where the sensor’s shaft turns faster than the wheel', () => {
    const counting = (shaftRatio: number) =>
      turnsAdvice({ ...plan, drill: { ...plan.drill, shaftRatio } }, commonStand)!.alone.counting;
    expect(counting(1) / counting(4)).toBeCloseTo(4, 9);
  });

  it('no number is enough where runs differ more than the tolerance', () => {
    const rough = { ...plan, seed: { ...plan.seed, repeatability: 0.1 } };
    expect(turnsAdvice(rough, commonStand)).toMatchObject({ enough: null, binds: 'fixed' });
  });

  it('for a usual length are those of the worked example', () => {
    // By hand: 1/100 acre = 435.6 ft² over 1 row of 7.5 in is 696.96 ft; 106 in a turn without slip: 78.9 turns.
    const still = { ...plan, drill: { ...plan.drill, slip: 0 } };
    expect(turnsForLength(still, '1/100 ac')).toBe(79);
  });
});

describe('rates of the chart read the other way', () => {
  /** All multiples of one step, itself 1, 2 or 5 times a power of ten. */
  const round = (values: readonly number[], unit: number) => {
    const figures = values.map((value) => value / unit);
    const step = figures[1]! - figures[0]!;
    const digit = Number((step / 10 ** Math.floor(Math.log10(step) + 1e-9)).toPrecision(6));
    const whole = (count: number) => Math.abs(count - Math.round(count)) < 1e-6;
    return [1, 2, 5].includes(digit) && figures.every((each) => whole(each / step));
  };

  it('are round in the unit wanted', () => {
    for (const target of [1.7, 6.725, 10, 22.4]) {
      const metric = roundRatesAbout(target);
      const acre = roundRatesAbout(target, unitSize.poundPerAcre);
      expect(round(metric, 0.1), `${target}`).toBe(true);
      expect(round(acre, unitSize.poundPerAcre), `${target}`).toBe(true);
      expect(round(metric, unitSize.poundPerAcre)).toBe(false);
      for (const rates of [metric, acre]) {
        expect(rates.length).toBeGreaterThan(8);
        expect(rates[0]).toBeGreaterThanOrEqual(0.25 * target - 1e-9);
        expect(rates.at(-1)).toBeLessThanOrEqual(2 * target + 1e-9);
      }
    }
  });
});
