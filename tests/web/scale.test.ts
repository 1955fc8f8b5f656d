import fc from 'fast-check';
import Schema from 'typebox/schema';
import { describe, expect, it } from 'vitest';
import { Plan } from '../../server/http/messages.ts';
import type { FieldId } from '../../web/src/state/fields.ts';
import { type Drafts, readForm, shownText } from '../../web/src/state/form.ts';
import { plan } from './invented.ts';

const whole: Drafts = { scaleLow: '0', scaleHigh: '80', scaleStep: '0,5', configuration: 'coarse gate' };
const read = (drafts: Drafts, base = plan) => readForm(base, drafts, 'metric');
const scaled = read(whole).plan;

describe('the setting scale of the form', () => {
  it('is left out while nothing is typed into it', () => {
    expect(read({ turns: '30' }).plan).toEqual({ ...plan, turns: 30 });
    expect('scale' in read({ configuration: '', scaleLow: ' ' }).plan.drill).toBe(false);
  });

  it('takes three marks and fills in what is usual', () => {
    expect(scaled.drill.scale).toEqual({
      low: 0,
      high: 80,
      step: 0.5,
      closedAt: 0,
      leverPlay: 0.1,
      configuration: 'coarse gate',
      otherConfigurations: [],
    });
    expect(
      read({ ...whole, otherConfigurations: ' fine gate, , closed gate;fine gate' }).plan.drill.scale,
    ).toMatchObject({
      otherConfigurations: ['fine gate', 'closed gate'],
    });
  });

  it.each<[Drafts, FieldId[]]>([
    [{ scaleLow: '0' }, ['scaleHigh', 'scaleStep']],
    [{ scaleHigh: '80', scaleStep: '1' }, ['scaleLow']],
    [{ configuration: 'gear 2' }, ['scaleLow', 'scaleHigh', 'scaleStep']],
    [{ scaleLow: 'x', scaleHigh: '80', scaleStep: '1' }, ['scaleLow']],
    [{ ...whole, scaleHigh: '0' }, ['scaleHigh']],
    [{ ...whole, scaleStep: '81' }, ['scaleStep']],
    [{ ...whole, closedAt: '80' }, ['closedAt']],
    [{ ...whole, scaleStep: '0' }, ['scaleStep']],
  ])('says beside which fields it is not whole: %j', (drafts, at) => {
    const { plan: made, faults } = read(drafts);
    expect(Object.keys(faults).sort()).toEqual([...at].sort());
    expect(made).toEqual(plan);
  });

  it('is taken away by emptying its fields, and half of it is a fault', () => {
    const empty: Drafts = {
      scaleLow: '',
      scaleHigh: '',
      scaleStep: '',
      configuration: '',
      otherConfigurations: '',
      closedAt: '',
      leverPlay: '',
    };
    expect(read(empty, scaled)).toMatchObject({
      plan: { drill: { scale: null } },
      faults: {},
      changed: true,
    });
    const { plan: kept, faults } = read({ scaleHigh: '' }, scaled);
    expect(kept).toEqual(scaled);
    expect(Object.keys(faults)).toEqual(['scaleHigh']);
  });

  it('leaves out what was emptied elsewhere too', () => {
    const more = read({ confidence: '95', rowCount: '12', bulkDensity: '70' }).plan;
    expect(more).toMatchObject({
      drill: { rowCount: 12 },
      seed: { bulkDensityKilogramsPerCubicMetre: 700 },
      target: { confidence: expect.closeTo(0.95, 12) },
    });
    const less = read({ confidence: '', rowCount: '', bulkDensity: '' }, more).plan;
    expect('confidence' in less.target).toBe(false);
    expect(less.drill.rowCount).toBeNull();
    expect(less.seed.bulkDensityKilogramsPerCubicMetre).toBeNull();
  });

  it('makes a plan that the server takes, whatever is typed', () => {
    const ids = Object.keys(whole) as FieldId[];
    const typed = fc.constantFrom('', '0', '1', '5', '80', '0.5', '-3', 'x', '10000', '10001');
    const drafts = fc.record(
      Object.fromEntries([...ids, 'closedAt', 'leverPlay', 'otherConfigurations'].map((id) => [id, typed])),
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(drafts, fc.constantFrom(plan, scaled), (some, base) => {
        const { plan: made } = read(some as Drafts, base);
        expect(Schema.Check(Plan, made)).toBe(true);
        const { scale } = made.drill;
        if (scale) expect(scale.low).toBeLessThan(scale.high);
      }),
    );
  });

  it('is shown as it was typed', () => {
    expect(shownText('scaleStep', scaled, 'metric')).toBe('0.5');
    expect(shownText('scaleStep', plan, 'metric')).toBe('');
    expect(shownText('otherConfigurations', plan, 'us')).toBe('');
  });
});
