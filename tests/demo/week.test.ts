import { beforeAll, describe, expect, it } from 'vitest';
import { loadDemoWeek } from '../../server/demo/load.ts';
import type { ExportFile } from '../../server/records/export-schema.ts';
import type { Fields } from '../../server/records/model.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { bundled } from '../bundled.ts';
import { temporaryFolders } from '../records/folders.ts';

let made: typeof import('./made.ts');
let text: string;
let hashes: string[];
let week: ExportFile;

beforeAll(async () => {
  made = await bundled<typeof import('./made.ts')>(new URL('made.ts', import.meta.url));
  ({ text, hashes } = made.madeTwice());
  week = made.lookedThrough(text);
});

const fieldsOf = (kind: string) =>
  week.items.filter((item) => item.kind === kind).map(({ fields }) => fields);

describe('the invented week', () => {
  it('is the same each time it is made, to the last digit', () => {
    expect(hashes[0]).toBe(hashes[1]);
  });

  it('is three drills and four mixes, every run marked as demo data, and what its readings say', () => {
    // Made by `lookedThrough`: each run is computed again from its readings and gives its figures.
    expect(fieldsOf('drill')).toHaveLength(3);
    expect(fieldsOf('mix')).toHaveLength(4);
    expect(fieldsOf('calibration')).toHaveLength(made.visits.length);
    expect(week.runs.length).toBeGreaterThan(2 * made.visits.length);
    expect(week.runs.every(({ demo }) => demo)).toBe(true);
    expect(week.runs.filter(({ source }) => source === 'hand')).toHaveLength(1);
    expect(
      week.runs.filter(({ source }) => source === 'stand').every(({ journal }) => journal.length > 1000),
    ).toBe(true);
  });

  it('comes to settings near the ones that are truly right', () => {
    const chosen = fieldsOf('calibration') as Fields<'calibration'>[];
    made.visits.forEach((visit, index) => {
      const { chosenSetting, finishedAt } = chosen[index]!;
      expect(chosenSetting === null).toBe(visit.mostRuns !== undefined);
      expect(finishedAt === null).toBe(visit.mostRuns !== undefined);
      if (chosenSetting === null) return;
      // The drill is not quite as its user states it, and the scale has steps.
      expect(Math.abs(chosenSetting / visit.trueSetting - 1)).toBeLessThan(2 * visit.tolerance);
    });
  });

  it('has what a week has: a spoilt run named by its trace, one set aside by a person, a changed drill, a field check', () => {
    const aside = (fieldsOf('run') as Fields<'run'>[]).flatMap(({ setAside }) => setAside?.by ?? []);
    expect(aside.toSorted()).toEqual(['the trace', 'you']);
    const drill = week.items.find(({ kind }) => kind === 'drill')!;
    expect(new Set(drill.edits.map(({ place }) => place)).size).toBe(2);
    expect(fieldsOf('field-check')).toHaveLength(1);
    expect(fieldsOf('note')).toHaveLength(2);
  });
});

describe('the week on record', () => {
  const newFolder = temporaryFolders();
  const kept = async (store: Store) => ({
    drills: (await store.drills.list()).items.length,
    calibrations: (await store.calibrations.list()).items.length,
    runs: (await store.runs.list()).items.length,
  });

  it('is whole after a load that was cut short and another one, and a third adds nothing', async () => {
    const store = await openRecords(newFolder());
    const leaving = new AbortController();
    let parts = 0;
    await loadDemoWeek(store, leaving.signal, () => {
      parts++;
      if (parts === 3) leaving.abort();
    });
    expect((await kept(store)).calibrations).toBe(3);
    const { signal } = new AbortController();
    await loadDemoWeek(store, signal);
    const all = { drills: 3, calibrations: made.visits.length, runs: week.runs.length };
    expect(await kept(store)).toEqual(all);
    await loadDemoWeek(store, signal, () => expect.unreachable());
    expect(await kept(store)).toEqual(all);
    await store.shut();
  });
});
