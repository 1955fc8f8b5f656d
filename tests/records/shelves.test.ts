import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { FieldError, RecordsError } from '../../server/records/errors.ts';
import type { Store } from '../../server/records/types.ts';
import { exportUnsaved } from '../../server/records/unsaved.ts';
import type { RunFigures } from '../../server/run/types.ts';
import { storeEngines } from './engines.ts';
import { calibrationOf, configurationOf, drill, end, figures, lot, mix, newRun, plan } from './samples.ts';

describe.each(storeEngines())('on $name', (engine) => {
  let place: string;
  let store: Store;
  beforeEach(async () => {
    place = await engine.newPlace();
    store = await engine.open(place);
  });
  afterEach(() => store.shut());

  async function reopen(): Promise<void> {
    await store.shut();
    store = await engine.open(place);
  }

  async function calibration() {
    const made = { drill: await store.drills.create(drill), mix: await store.mixes.create(mix) };
    return {
      ...made,
      calibration: await store.calibrations.create(calibrationOf(made.drill.id, made.mix.id)),
    };
  }

  describe('what people write down', () => {
    it('is there after a restart as it was written: drills, configurations, lots, mixes, calibrations, checks, notes', async () => {
      const { drill: made, mix: mixed, calibration: made2 } = await calibration();
      const configuration = await store.configurations.create(configurationOf(made.id));
      const bag = await store.lots.create(lot);
      const check = await store.scaleChecks.create({
        at: '2026-03-01T07:00:00.000Z',
        stand: 'shop-1',
        cell: 0,
        points: [{ massGrams: 500, massDoubtGrams: 0.05, count: 402_000, shownGrams: 500.1 }],
        gramsPerCount: 0.00123,
        gramsPerCountDoubt: 1e-6,
        zeroCount: -4211,
        passed: true,
        note: '',
      });
      const field = await store.fieldChecks.create({
        calibrationId: made2.id,
        at: '2026-03-20T10:00:00.000Z',
        setting: 31,
        method: 'seed-used',
        areaSquareMetres: 20_000,
        seedGrams: 135_000,
        turns: null,
        count: null,
        gramsPerSquareMetre: 6.75,
        standardDoubt: 0.1,
        note: 'dry ground',
      });
      const note = await store.notes.create({ aboutId: made.id, text: 'Left chain is slack.' }, 'Ann');
      await reopen();
      expect(await store.drills.find(made.id)).toEqual(made);
      expect(await store.mixes.find(mixed.id)).toEqual(mixed);
      expect(await store.calibrations.find(made2.id)).toEqual(made2);
      expect(await store.configurations.find(configuration.id)).toEqual(configuration);
      expect(await store.lots.find(bag.id)).toEqual(bag);
      expect(await store.scaleChecks.find(check.id)).toEqual(check);
      expect(await store.fieldChecks.find(field.id)).toEqual(field);
      expect(await store.notes.find(note.id)).toEqual(note);
      expect(made.fields).toEqual(drill);
    });

    it('has ids that sort by their making', async () => {
      const made = [];
      for (let count = 0; count < 20; count++) made.push((await store.lots.create(lot)).id);
      expect(made.toSorted()).toEqual(made);
      expect(new Set(made).size).toBe(20);
    });

    it('can be changed field by field, and shows who changed what', async () => {
      const { drill: made } = await calibration();
      await store.drills.update(made.id, { name: 'Old Blue', slip: 0 }, 'Ann');
      await store.drills.update(made.id, { slip: 0.04 }, 'Ben');
      expect((await store.drills.find(made.id))!.fields).toEqual({ ...drill, name: 'Old Blue', slip: 0.04 });
      const history = await store.drills.history(made.id);
      expect(
        history.map(({ field, before, after, by, counts }) => [field, before, after, by, counts]),
      ).toEqual([
        ['name', 'Old Red', 'Old Blue', 'Ann', true],
        ['slip', 0.03, 0, 'Ann', false],
        ['slip', 0, 0.04, 'Ben', true],
      ]);
    });

    it.each([
      ['an hour', 3600e3],
      ['two days', 48 * 3600e3],
    ])(
      'holds what was changed last, also where the clock has since been set back by %s',
      async (_by, millis) => {
        const now = Date.now();
        vi.useFakeTimers({ toFake: ['Date'], now: now + millis });
        try {
          const { drill: made } = await calibration();
          await store.drills.update(made.id, { slip: 0.05 });
          vi.setSystemTime(now);
          await reopen();
          expect((await store.drills.update(made.id, { slip: 0.07 })).fields.slip).toBe(0.07);
          await store.drills.remove(made.id);
          expect((await store.drills.find(made.id))!.deletedAt).not.toBeNull();
          await store.drills.bringBack(made.id);
          expect((await store.drills.find(made.id))!.deletedAt).toBeNull();
        } finally {
          vi.useRealTimers();
        }
      },
    );

    it('is no change where the value is the same', async () => {
      const { drill: made } = await calibration();
      await store.drills.update(made.id, { name: made.fields.name, slip: made.fields.slip });
      expect(await store.drills.history(made.id)).toEqual([]);
    });

    it.each([
      ['text where a number goes', { slip: 'much' }, '/slip'],
      ['out of range', { slip: 0.9 }, '/slip'],
      ['not a number', { slip: Number.NaN }, '/slip'],
      ['an empty name', { name: '' }, '/name'],
      ['a field that there is not', { colour: 'green' }, '/colour'],
      ['characters that are none', { name: 'a\ud800' }, ''],
    ])('is refused with the field: %s', async (_name, change, field) => {
      const { drill: made } = await calibration();
      const refusal = await store.drills.update(made.id, change as never).catch((error: unknown) => error);
      expect(refusal).toBeInstanceOf(FieldError);
      expect((refusal as FieldError).field).toBe(field);
      expect((await store.drills.find(made.id))!.fields).toEqual(drill);
    });

    it('is refused where it names what is not there, or is of another kind', async () => {
      const { drill: made, mix: mixed } = await calibration();
      for (const wrong of [calibrationOf(mixed.id, mixed.id), calibrationOf(made.id, made.id)]) {
        await expect(store.calibrations.create(wrong)).rejects.toThrow(/that is named is not on record/);
      }
      await expect(
        store.notes.create({ aboutId: '018f0000-0000-7000-8000-00000000dead', text: 'x' }),
      ).rejects.toThrow(/What this is about is not on record/);
      await expect(
        store.configurations.create({ ...configurationOf(made.id), scaleHigh: 0 }),
      ).rejects.toThrow(/must end above where it begins/);
      await expect(store.lots.create({ ...lot, hard: 0.5 })).rejects.toThrow(/more than 100 %/);
      await expect(store.drills.update(mixed.id, { name: 'x' })).rejects.toThrow(RecordsError);
    });

    it('can be deleted and brought back within 30 days; after that it is gone, with its readings', async () => {
      const { drill: made, mix: mixed, calibration: about } = await calibration();
      const run = newRun();
      await store.begin(run);
      await store.append(run.id, [{ position: 0, hostMillis: 0, kind: 'line', text: 'x' }]);
      await store.close(run.id, end(1));
      const gate = await store.configurations.create(configurationOf(made.id));
      await store.calibrations.update(about.id, { configurationId: gate.id });
      const bag = await store.lots.create(lot);
      await store.mixes.update(mixed.id, { parts: [{ ...mix.parts[0]!, lotId: bag.id }] });
      const note = await store.notes.create({ aboutId: run.id, text: 'windy' });
      await store.drills.remove(made.id, 'Ann');
      await store.configurations.remove(gate.id);
      await store.lots.remove(bag.id);
      await store.mixes.remove(mixed.id);
      await store.runs.remove(run.id);
      expect((await store.drills.list()).items).toEqual([]);
      expect((await store.drills.list({ deleted: true })).items.map(({ id }) => id)).toEqual([made.id]);
      expect((await store.page(10, null)).runs).toEqual([]);
      await store.mixes.bringBack(mixed.id);
      expect((await store.mixes.list()).items.map(({ id }) => id)).toEqual([mixed.id]);
      await reopen();
      await store.settled();
      expect(await store.runs.find(run.id)).not.toBeNull();

      await store.shut();
      await engine.age(place, 31);
      store = await engine.open(place);
      await store.settled();
      expect(await store.runs.find(run.id)).toBeNull();
      expect(await store.journal(run.id, 0, 10)).toEqual([]);
      // The calibration still names drill and configuration, the mix its lot; of a run that is gone there is nothing to be noted.
      expect((await store.drills.find(made.id))!.deletedAt).not.toBeNull();
      expect((await store.configurations.find(gate.id))!.deletedAt).not.toBeNull();
      expect((await store.lots.find(bag.id))!.deletedAt).not.toBeNull();
      expect(await store.notes.find(note.id)).toBeNull();
      expect(await store.calibrations.find(about.id)).not.toBeNull();
    });
  });

  describe('runs and their calibration', () => {
    it('belong to it from the beginning, or are put there later; the number of the setting is read from its text', async () => {
      const { calibration: about } = await calibration();
      const [first, second] = [newRun({ calibrationId: about.id, settingNumber: 7.5 }), newRun()];
      for (const run of [first, second]) await store.begin(run);
      expect((await store.runs.find(first.id))!).toMatchObject({
        calibrationId: about.id,
        settingNumber: 7.5,
      });
      expect((await store.runs.find(second.id))!).toMatchObject({
        calibrationId: null,
        settingNumber: 31,
        settingText: '31',
        source: 'stand',
        setAside: null,
      });
      await store.runs.update(second.id, { calibrationId: about.id });
      const { items } = await store.runs.list({ calibrationId: about.id });
      expect(items.map(({ id }) => id)).toEqual([second.id, first.id]);
      const byDrill = await store.runs.list({ drillId: about.fields.drillId });
      expect(byDrill.items.map(({ id }) => id)).toEqual([second.id, first.id]);
    });

    it('are set aside with why and by whom, and count again', async () => {
      const run = newRun();
      await store.begin(run);
      await expect(store.runs.setAside(run.id, ' ')).rejects.toThrow(/Say why/);
      const aside = await store.runs.setAside(run.id, 'The bag touched the frame.', 'Ben');
      expect(aside.setAside).toMatchObject({ why: 'The bag touched the frame.', by: 'Ben' });
      expect((await store.runs.count(run.id)).setAside).toBeNull();
      expect((await store.runs.history(run.id)).map(({ field }) => field)).toEqual(['setAside', 'setAside']);
    });

    it('end set aside where their own trace says that they are spoilt, and stay as people then decide', async () => {
      const spoilt = {
        ...{ kind: 'bag-touched', cell: 0, from: { seconds: 3, turns: 2 }, until: null, confidence: 0.99 },
        ...{ spoils: true, sentence: 'Something touched the bag after 2 turns.' },
      } as unknown as RunFigures['findings'][number];
      const over = { ...end(0), figures: { ...figures, findings: [spoilt] } };
      const run = newRun();
      await store.begin(run);
      await store.close(run.id, over);
      const aside = (await store.runs.find(run.id))!.setAside;
      expect(aside).toEqual({ why: spoilt.sentence, by: 'the trace', at: over.endedAt });
      await store.runs.count(run.id, 'Ann');
      await store.close(run.id, over);
      expect((await store.runs.find(run.id))!.setAside).toBeNull();
      // What the disk would not take says it on its way round, too.
      const unsaved = JSON.parse(await exportUnsaved(store, [{ run: newRun(), end: over, pending: [] }]));
      expect(unsaved.items[0].fields.setAside).toEqual(aside);
    });

    it('may be weighed by hand', async () => {
      const { id, startedAt, demo } = newRun();
      const hand = { turns: 25, grams: 86.2, gramsDoubt: 0.5 };
      const run = await store.runs.addByHand({ id, startedAt, demo, plan, hand, figures, formulaVersion: 1 });
      expect(run).toMatchObject({ source: 'hand', hand, figures, outcome: 'complete', endedAt: startedAt });
      await expect(
        store.runs.addByHand({
          ...newRun(),
          hand: { ...hand, turns: 0 },
          figures,
          formulaVersion: 1,
        }),
      ).rejects.toThrow(/turns must be more than 0/);
    });
  });
});
