import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Store } from '../../server/records/types.ts';
import { storeEngines } from './engines.ts';
import { calibrationOf, drill, mix, newRun, plan } from './samples.ts';

describe.each(storeEngines())('on $name', (engine) => {
  let store: Store;
  beforeEach(async () => {
    store = await engine.open(await engine.newPlace());
  });
  afterEach(() => store.shut());

  const ids = (page: { items: { id: string }[] }) => page.items.map(({ id }) => id);

  async function shop() {
    const red = await store.drills.create({ ...drill, name: 'Old Red' });
    const blue = await store.drills.create({ ...drill, name: 'Blaue Mühle' });
    const meadow = await store.mixes.create({ ...mix, name: 'Meadow mix 4' });
    const cover = await store.mixes.create({ ...mix, name: 'Cover crop', parts: [] });
    const make = (drillId: string, mixId: string, note = '') =>
      store.calibrations.create({ ...calibrationOf(drillId, mixId), note });
    const redMeadow = await make(red.id, meadow.id, 'before the rain');
    const redCover = await make(red.id, cover.id);
    const blueMeadow = await make(blue.id, meadow.id);
    return { red, blue, meadow, cover, redMeadow, redCover, blueMeadow };
  }

  describe('calibrations are found', () => {
    it('by drill and by mix', async () => {
      const { red, meadow, redMeadow, redCover, blueMeadow } = await shop();
      expect(ids(await store.calibrations.list({ drillId: red.id }))).toEqual([redCover.id, redMeadow.id]);
      expect(ids(await store.calibrations.list({ mixId: meadow.id }))).toEqual([blueMeadow.id, redMeadow.id]);
      expect(ids(await store.calibrations.list({ drillId: red.id, mixId: meadow.id }))).toEqual([
        redMeadow.id,
      ]);
    });

    it.each([
      ['red', ['redCover', 'redMeadow']],
      ['RED mead', ['redMeadow']],
      ['muhle', ['blueMeadow']],
      ['Mühle', ['blueMeadow']],
      ['rain old', ['redMeadow']],
      ['nothing', []],
      ['"red" OR *', []],
      ['', ['blueMeadow', 'redCover', 'redMeadow']],
      ['!!! ---', ['blueMeadow', 'redCover', 'redMeadow']],
    ] as const)('by words: %s', async (text, names) => {
      const made = await shop();
      expect(ids(await store.calibrations.list({ text }))).toEqual(names.map((name) => made[name].id));
    });

    it('by the new name once the drill is called otherwise', async () => {
      const { red, redCover, redMeadow } = await shop();
      await store.drills.update(red.id, { name: 'Green' });
      expect(ids(await store.calibrations.list({ text: 'red' }))).toEqual([]);
      expect(ids(await store.calibrations.list({ text: 'green' }))).toEqual([redCover.id, redMeadow.id]);
    });

    it('page by page, each once, also while new ones are made', async () => {
      const { red, meadow } = await shop();
      for (let more = 0; more < 20; more++) await store.calibrations.create(calibrationOf(red.id, meadow.id));
      const seen: string[] = [];
      let after: string | null = null;
      do {
        const page: Awaited<ReturnType<typeof store.calibrations.list>> = await store.calibrations.list({
          limit: 7,
          after,
        });
        seen.push(...ids(page));
        after = page.next;
        await store.calibrations.create(calibrationOf(red.id, meadow.id));
      } while (after !== null);
      expect(seen.length).toBe(23);
      expect(new Set(seen).size).toBe(23);
      await expect(store.calibrations.list({ after: 'nonsense' })).rejects.toThrow(/begin it again/);
    });
  });

  describe('runs are found', () => {
    it('by date, by the words of their plan, by calibration, drill and mix', async () => {
      const { redMeadow, red, cover } = await shop();
      const march = newRun({ startedAt: '2026-03-02T08:00:00.000Z', calibrationId: redMeadow.id });
      const april = newRun({
        startedAt: '2026-04-02T08:00:00.000Z',
        plan: { ...plan, seed: { ...plan.seed, name: 'Triticale' } },
      });
      for (const run of [march, april]) await store.begin(run);
      expect(ids(await store.runs.list({ from: '2026-04-01T00:00:00.000Z' }))).toEqual([april.id]);
      expect(ids(await store.runs.list({ before: '2026-04-01T00:00:00.000Z' }))).toEqual([march.id]);
      expect(ids(await store.runs.list({ text: 'tritic' }))).toEqual([april.id]);
      expect(ids(await store.runs.list({ calibrationId: redMeadow.id }))).toEqual([march.id]);
      expect(ids(await store.runs.list({ drillId: red.id }))).toEqual([march.id]);
      expect(ids(await store.runs.list({ mixId: cover.id }))).toEqual([]);
    });
  });
});
