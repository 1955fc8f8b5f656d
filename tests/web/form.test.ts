import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FieldId, fieldAt, fieldIds, fields, valueAt, withValue } from '../../web/src/state/fields.ts';
import { convertDrafts, readField, readForm, shownText, type } from '../../web/src/state/form.ts';
import { preview } from '../../web/src/state/preview.ts';
import { fromSi, systems } from '../../web/src/state/units.ts';
import { plan } from './invented.ts';

const read = (id: FieldId, typed: string, system: 'metric' | 'us' = 'metric') => readField(id, typed, system);
const value = (id: FieldId, typed: string, system: 'metric' | 'us' = 'metric') => {
  const answer = read(id, typed, system);
  return answer.ok ? answer.value : answer.fault.kind;
};

const numbers = fieldIds.filter((id) => fields[id].kind === 'number');

describe('a field of the plan', () => {
  it('takes its own unit when none is typed', () => {
    expect(value('rowSpacing', '19')).toBeCloseTo(0.19, 12);
    expect(value('rowSpacing', '7.5', 'us')).toBeCloseTo(0.1905, 12);
    expect(value('circumference', '2,6924')).toBeCloseTo(2.6924, 12);
  });

  it('converts another unit of the same dimension', () => {
    expect(value('rowSpacing', '7.5 in')).toBeCloseTo(0.1905, 12);
    expect(value('rowSpacing', '7 1/2"')).toBeCloseTo(0.1905, 12);
    expect(value('rowSpacing', '190 mm', 'us')).toBeCloseTo(0.19, 12);
    expect(value('circumference', '106 Inches')).toBeCloseTo(2.6924, 12);
    // 60 lb/ac = 67.2511 kg/ha: 0.45359237 kg a pound, 4046.8564224 m² an acre (both exact)
    expect(value('targetRate', '60 lbs/acre')).toBeCloseTo(6.72510693716674, 10);
    expect(value('plannedSpeed', '5 mph')).toBeCloseTo(2.2352, 12);
  });

  it('takes a bulk density in the units of any scale house', () => {
    // 0.45359237 kg a pound (exact); a US bushel of 2150.42 cubic inches is 35.23907016688 L (NIST Handbook 44, appendix C).
    expect(value('bulkDensity', '60', 'us')).toBeCloseTo((60 * 0.45359237) / 0.03523907016688, 6);
    expect(value('bulkDensity', '77.2 kg/hl')).toBeCloseTo(772, 9);
    expect(value('bulkDensity', '772 kg/m3', 'us')).toBeCloseTo(772, 9);
  });

  it('refuses a unit of another dimension', () => {
    expect(value('rowSpacing', '7.5 kg/ha')).toBe('unit');
    expect(value('turns', '25 in')).toBe('unit');
  });

  it.each([
    ['circumference', '0', 'range'],
    ['circumference', '-2', 'range'],
    ['circumference', '40 m', 'range'],
    ['circumference', 'two', 'nonsense'],
    ['circumference', '', 'empty'],
    ['turns', '0', 'range'],
    ['turns', '1e9', 'unit'],
    ['rowsCaught', '1.5', 'whole'],
    ['drillName', '   ', 'empty'],
    ['setting', 'x'.repeat(41), 'too-long'],
  ] as const)('%s: %s is refused (%s)', (id, typed, kind) => expect(value(id, typed)).toBe(kind));

  it('asks when a comma can be read two ways, and only then', () => {
    expect(read('turns', '1,250')).toEqual({
      ok: false,
      fault: { kind: 'two-readings', one: '1.25', other: '1250' },
    });
    expect(value('circumference', '2,692')).toBeCloseTo(2.692, 12);
    expect(value('turns', '0,750')).toBe(0.75);
  });

  it('may be left empty only where the plan allows it', () => {
    expect(value('plannedSpeed', '')).toBeNull();
    const optional = numbers.filter((id) => value(id, '') === null);
    expect(optional).toEqual([
      'rowCount',
      'scaleLow',
      'scaleHigh',
      'scaleStep',
      'shaftRatio',
      'bulkDensity',
      'establishment',
      'confidence',
      'plannedSpeed',
      'closedAt',
      'leverPlay',
    ]);
    for (const id of numbers.filter((id) => !optional.includes(id))) expect(value(id, '')).toBe('empty');
  });

  it('takes its limits from the schema of the plan, both ends allowed', () => {
    for (const id of numbers) {
      const field = fields[id];
      if (field.kind !== 'number') continue;
      for (const system of systems) {
        for (const end of [field.least, field.most]) {
          const typed = String(fromSi(end, field.dimension, field.unit[system]));
          expect(value(id, typed, system), `${id} ${typed}`).toBeCloseTo(end, 9);
        }
      }
    }
  });

  it('names limits that it would take itself', () => {
    for (const id of numbers) {
      for (const system of systems) {
        const answer = read(id, '-70000', system);
        if (answer.ok || answer.fault.kind !== 'range') throw new Error(id);
        const { low, high } = answer.fault;
        for (const end of [low, high]) expect(read(id, end, system).ok, `${id} ${end}`).toBe(true);
      }
    }
    expect(read('rowSpacing', '0', 'us')).toMatchObject({ fault: { low: '0.7875 in', high: '118.1 in' } });
  });

  it('gives an example that it would take itself', () => {
    for (const id of numbers) {
      for (const system of systems) {
        const answer = read(id, '?', system);
        if (answer.ok || answer.fault.kind !== 'nonsense') throw new Error(id);
        expect(read(id, answer.fault.example, system).ok, answer.fault.example).toBe(true);
      }
    }
  });

  it('reads back what it shows', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...numbers), fc.constantFrom(...systems), share, (id, system, at) => {
        const field = fields[id];
        if (field.kind !== 'number') return;
        const si = field.whole
          ? Math.round(field.least + at * (field.most - field.least))
          : field.least + at * (field.most - field.least);
        const back = value(id, shownText(id, withValue(plan, field.pointer, si), system), system);
        expect(Math.abs((back as number) - si)).toBeLessThanOrEqual(1e-7 * Math.abs(si) + 1e-12);
      }),
    );
  });

  it('never throws, and what it accepts lies within the limits', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...numbers),
        fc.constantFrom(...systems),
        fc.string(),
        (id, system, typed) => {
          const answer = read(id, typed, system);
          const field = fields[id];
          if (!answer.ok || field.kind !== 'number' || answer.value === null) return;
          expect(answer.value).toBeGreaterThanOrEqual(field.least);
          expect(answer.value).toBeLessThanOrEqual(field.most);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('is found by the pointer that a refusal names', () => {
    for (const id of fieldIds) expect(fieldAt(fields[id].pointer)).toBe(id);
    expect(fieldAt('/nowhere')).toBeNull();
  });
});

describe('the form', () => {
  it('is unchanged, to the last bit, while nothing was typed', () => {
    expect(readForm(plan, {}, 'us')).toEqual({ plan, faults: {}, changed: false });
  });

  it('keeps fields that were not touched to the last bit', () => {
    const { plan: made } = readForm(plan, { turns: '30' }, 'us');
    expect(made).toEqual({ ...plan, turns: 30 });
  });

  it('keeps what was typed beside a fault', () => {
    const { plan: made, faults, changed } = readForm(plan, { turns: '30', circumference: 'big' }, 'metric');
    expect(made.turns).toBe(30);
    expect(made.drill.circumferenceMetres).toBe(plan.drill.circumferenceMetres);
    expect(Object.keys(faults)).toEqual(['circumference']);
    expect(changed).toBe(true);
  });

  it('forgets a draft that says what the plan says', () => {
    const typed = type({}, 'turns', '26', plan, 'metric');
    expect(typed).toEqual({ turns: '26' });
    expect(type(typed, 'turns', '25', plan, 'metric')).toEqual({});
  });

  it('carries drafts over a change of units and leaves nonsense as it was typed', () => {
    const drafts = { rowSpacing: '19.05', circumference: 'big', turns: '30' };
    expect(convertDrafts(drafts, plan, 'metric', 'us')).toEqual({
      rowSpacing: '7.5',
      circumference: 'big',
      turns: '30',
    });
  });

  it('writes a value only where it belongs', () => {
    const changed = withValue(plan, '/drill/slip', 0.1);
    expect(valueAt(changed, '/drill/slip')).toBe(0.1);
    expect(valueAt(plan, '/drill/slip')).toBe(0.02);
    expect(withValue(changed, '/drill/slip', 0.02)).toEqual(plan);
  });
});

describe('what a plan gives', () => {
  it('is the catch of the worked example of the trade', () => {
    // Common practice, no source: 25 turns, 106 in, 7.5 in, 60 lb/ac, one row -> 86.23 g.
    const typed = {
      turns: '25',
      circumference: '106 in',
      rowSpacing: '7.5 in',
      targetRate: '60 lb/ac',
      slip: '0',
      rowsCaught: '1',
    };
    const { plan: made, faults } = readForm(plan, typed, 'us');
    expect(faults).toEqual({});
    expect(preview(made)?.catch.target).toBeCloseTo(86.23, 2);
  });

  it('is nothing where the figures cannot be worked with', () => {
    expect(preview(withValue(plan, '/drill/circumferenceMetres', 0))).toBeNull();
  });
});
