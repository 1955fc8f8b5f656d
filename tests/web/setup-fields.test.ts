import Schema from 'typebox/schema';
import { describe, expect, it } from 'vitest';
import { Plan } from '../../server/http/messages.ts';
import { type FieldId, fieldIds, fields } from '../../web/src/state/fields.ts';
import { type Drafts, readForm } from '../../web/src/state/form.ts';
import { readCount, readDensity, readGears } from '../../web/src/state/setup/bench.ts';
import { emptyPart, partFields, partQuantity, readSeed, seedText } from '../../web/src/state/setup/seed.ts';
import { readRanks, readWheel } from '../../web/src/state/setup/working.ts';
import { scaledPlan } from './invented.ts';

/** Every field of the set-up, whatever is put into it: understood and converted, or refused beside the field. Nothing throws, nothing slips through. */

/** What people and clipboards put into fields. */
const put = {
  nonsense: ['abc', '?', '--', '1e9', '12 34 56', 'NaN', 'Infinity', '<b>7</b>', '7..5', '\u0000', '🌾'],
  empty: ['', '   ', '\u00a0'],
  enormous: ['999999999999', '1'.repeat(300), '-999999999', '9'.repeat(5000)],
};

const planFields = fieldIds.filter((id) => !['working', 'parts', 'choice'].includes(fields[id].kind));
const numbers = planFields.filter((id) => fields[id].kind === 'number');
const form = (drafts: Drafts, system: 'metric' | 'us' = 'metric') => readForm(scaledPlan, drafts, system);
const sound = (drafts: Drafts) => {
  const { plan, faults } = form(drafts);
  expect(Schema.Check(Plan, plan), JSON.stringify(drafts).slice(0, 200)).toBe(true);
  return faults;
};

describe('every field of the plan', () => {
  it.each(planFields)('%s: nonsense, nothing and too much leave a plan that the server takes', (id) => {
    for (const typed of [...put.nonsense, ...put.empty, ...put.enormous]) sound({ [id]: typed });
  });

  it.each(numbers)('%s: nonsense and too much are refused beside it', (id) => {
    for (const typed of [...put.nonsense, ...put.enormous])
      expect(Object.keys(sound({ [id]: typed })), typed).toContain(id);
  });

  it.each(numbers)(
    '%s: takes its example with a decimal comma, and refuses a unit of something else',
    (id) => {
      const fault = form({ [id]: '?' }).faults[id];
      if (fault?.kind !== 'nonsense') throw new Error(id);
      expect(form({ [id]: fault.example }).faults[id]).toBeUndefined();
      expect(form({ [id]: fault.example.replace('.', ',') }).faults[id]).toBeUndefined();
      expect(form({ [id]: '7 parsecs' }).faults[id]).toEqual({
        kind: 'unit',
        unit: 'parsecs',
        example: fault.example,
      });
    },
  );

  it.each<[FieldId, string, number]>([
    ['rowSpacing', '7.5 in', 0.1905],
    ['rowSpacing', '19 cm', 0.19],
    ['rowSpacing', '7½″', 0.1905],
    ['rowSpacing', '7 1/2 inches', 0.1905],
    ['circumference', "8' ", 2.4384],
    ['circumference', '2 692,4 mm', 2.6924],
    ['targetRate', '1,5 kg/ha', 0.15],
    // 1 lb/ac = 0.1120851156194456 g/m², from exact definitions.
    ['targetRate', '60 lb/ac', 6.725106937166736],
    ['thousandSeedWeight', '31,2 g', 0.0312],
    // 453.59237 g a pound, exact.
    ['thousandSeedWeight', '13,000 seeds/lb', 453.59237 / 13000],
    ['bulkDensity', '77,2 kg/hl', 772],
    ['plannedSpeed', '5 mph', 2.2352],
    ['slip', '2,5 %', 0.025],
    ['turns', '25 rev', 25],
    ['scaleStep', '½', 0.5],
  ])('%s: %s is understood', (id, typed, si) => {
    for (const system of ['metric', 'us'] as const) {
      const { plan, faults } = form({ [id]: typed }, system);
      expect(faults).toEqual({});
      const { pointer } = fields[id];
      const found = pointer
        .slice(1)
        .split('/')
        .reduce<unknown>((value, step) => (value as Record<string, unknown>)[step], plan);
      expect(found).toBeCloseTo(si, 10);
    }
  });
});

describe('every field of what the seed is made of', () => {
  const part = { ...emptyPart, name: 'Oats', share: '100', fullRate: '90', weight: '34', germination: '91' };
  const read = (more: object) => readSeed({ basis: 'full-stand', parts: [{ ...part, ...more }] }, 'metric');
  const faultOf = (more: object) => {
    const answer = read(more);
    if (answer.ok || answer.fault.kind !== 'parts') return null;
    return answer.fault.faults[0]!;
  };
  const measured = partFields.filter((id) => id !== 'name');

  it.each(measured)('%s: nonsense and too much are refused beside it', (id) => {
    for (const typed of [...put.nonsense, ...put.enormous])
      expect(Object.keys(faultOf({ [id]: typed }) ?? {}), typed).toEqual([id]);
  });

  it.each(measured)('%s: a decimal comma is understood, a unit of something else is not', (id) => {
    const fault = faultOf({ [id]: '?' })?.[id];
    if (fault?.kind !== 'nonsense') throw new Error(id);
    expect(faultOf({ [id]: fault.example.replace('.', ',') })).toBeNull();
    expect(faultOf({ [id]: '7 parsecs' })?.[id]?.kind).toBe('unit');
  });

  it('may leave out what a tag does not say, but neither name, weight nor full rate', () => {
    for (const id of partFields) {
      const needed = ['name', 'fullRate', 'weight'].includes(id);
      expect(faultOf({ [id]: '  ' }), id).toEqual(needed ? { [id]: { kind: 'empty' } } : null);
    }
  });

  it('takes pasted units', () => {
    const answer = read({
      weight: '13,000 seeds/lb',
      density: '32 lb/bu',
      purity: '98,5 %',
      fullRate: '80 lb/ac',
    });
    if (!answer.ok) throw new Error(JSON.stringify(answer));
    const [made] = answer.parts;
    expect(made?.thousandSeedWeightGrams).toBeCloseTo(453592.37 / 13000, 8);
    // 1 lb/bu = 12.871859780974 g/L: 453.59237 g in 35.23907016688 L, both exact.
    expect(made?.bulkDensityKilogramsPerCubicMetre).toBeCloseTo(32 * 12.871859780974, 6);
    expect(made?.purity).toBeCloseTo(0.985, 12);
    expect(made?.fullRateGramsPerSquareMetre).toBeCloseTo(80 * 0.1120851156194456, 10);
  });

  it('never makes a plan that the server refuses', () => {
    for (const id of partFields)
      for (const typed of [...put.nonsense, ...put.empty, ...put.enormous])
        sound({ parts: seedText({ basis: 'mass', parts: [{ ...part, [id]: typed }] }) });
    for (const text of put.nonsense) sound({ parts: text });
  });

  it('has an example for each within its own limits', () => {
    for (const { example, least, most } of Object.values(partQuantity)) {
      expect(example).toBeGreaterThanOrEqual(least);
      expect(example).toBeLessThanOrEqual(most);
    }
  });
});

describe('every field of the helpers', () => {
  const wheel = { way: 'roll-out', readings: '26.9', turns: '10', distance: '50', counts: '19' } as const;
  const helpers: [string, (typed: string) => object][] = [
    ['ranks, within', (typed) => readRanks({ within: typed, ranks: '2' }, 'metric').faults],
    ['ranks, number', (typed) => readRanks({ within: '38', ranks: typed }, 'metric').faults],
    ['tape', (typed) => readWheel({ ...wheel, way: 'tape', readings: typed }, 'metric').faults],
    ['ways rolled', (typed) => readWheel({ ...wheel, readings: typed }, 'metric').faults],
    ['turns rolled', (typed) => readWheel({ ...wheel, turns: typed }, 'metric').faults],
    ['way driven', (typed) => readWheel({ ...wheel, way: 'field', distance: typed }, 'metric').faults],
    ['turns counted', (typed) => readWheel({ ...wheel, way: 'field', counts: typed }, 'metric').faults],
    [
      'seeds each',
      (typed) => readCount({ seedsEach: typed, weights: '3.2; 3.3', chaffy: false }, 'metric').faults,
    ],
    ['weights', (typed) => readCount({ seedsEach: '100', weights: typed, chaffy: false }, 'metric').faults],
    ['volume', (typed) => readDensity({ volume: typed, mass: '770' }, 'metric').faults],
    ['mass', (typed) => readDensity({ volume: '1', mass: typed }, 'metric').faults],
  ];
  it.each(helpers)('%s: nonsense, nothing and too much are refused', (_name, faults) => {
    // Several numbers with spaces between are several readings.
    const nonsense = put.nonsense.filter((typed) => typed !== '12 34 56');
    for (const typed of [...nonsense, ...put.empty, ...put.enormous])
      expect(Object.keys(faults(typed)), typed.slice(0, 40)).toHaveLength(1);
  });

  it('gears are pairs of teeth, or nothing', () => {
    expect(readGears('36:18, 20/40')).toBe(1);
    expect(readGears('36 : 12')).toBe(3);
    for (const typed of [...put.nonsense, ...put.enormous, '0:5', '5:0', '36', '9999:1'])
      expect(readGears(typed), typed.slice(0, 40)).toBeNull();
  });
});
