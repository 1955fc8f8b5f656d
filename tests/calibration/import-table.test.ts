import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { Desk } from '../../server/calibration/desk.ts';
import { importTable } from '../../server/calibration/import-table.ts';
import { readCsv } from '../../server/records/csv.ts';
import { runsCsv, type Units } from '../../server/records/export-csv.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { verifyAll } from '../../server/records/verify.ts';
import { temporaryFolders } from '../records/folders.ts';
import { keep, madeRun } from '../records/made-runs.ts';
import { plan } from '../records/samples.ts';

const folder = temporaryFolders();
let store: Store;
let other: Store;
beforeEach(async () => {
  store = await openRecords(folder());
  other = await openRecords(folder());
});
afterEach(async () => {
  await store.shut();
  await other.shut();
});

async function table(from: Store, units: Units = 'metric'): Promise<string> {
  let text = '';
  for await (const piece of runsCsv(from, 'everything', units)) text += piece;
  return text;
}

const scale = { low: 0, high: 100, step: 0.5, closedAt: 0, leverPlay: 0.2, configuration: 'gate 2' };

/** A calibration with three runs weighed by hand, one of them set aside. */
async function weighed(target = store): Promise<void> {
  const desk = new Desk(target, false);
  const wide = { ...plan, drill: { ...plan.drill, scale: { ...scale, otherConfigurations: [] } } };
  for (const [setting, caught] of [
    [28, 78.1],
    [31, 86.2],
    [34, 95.4],
  ] as const) {
    await desk.addHandRun(wide, {
      setting,
      turns: 25,
      grams: caught,
      scaleStepGrams: 0.1,
      countedByEye: false,
    });
  }
  const [run] = (await target.runs.list()).items;
  await target.runs.setAside(run!.id, '=cmd|calc, said "Ann"', 'Ann');
  await target.runs.update(run!.id, { note: "'=kept as it is" });
}

/** The table with some cells of its first line changed, by heading; null takes the whole column away. */
function changed(text: string, cells: Record<string, string | null>): string {
  const [heading, ...rows] = readCsv(text).rows;
  for (const [name, value] of Object.entries(cells)) {
    const column = heading!.indexOf(name);
    if (value === null) for (const row of [heading!, ...rows]) row.splice(column, 1);
    else if (column < 0) {
      heading!.push(name);
      for (const row of rows) row.push(value);
    } else rows[0]![column] = value;
  }
  const quoted = (cell: string) => `"${cell.replaceAll('"', '""')}"`;
  return [heading!, ...rows].map((row) => `${row.map(quoted).join(',')}\r\n`).join('');
}

const nothing = { items: 0, runs: 0, edits: 0, known: 0, conflicts: [], skipped: [] };

describe('a table of runs', () => {
  it.each(['metric', 'us'] as const)(
    'taken in elsewhere gives the same table, units %s; twice changes nothing',
    async (units) => {
      await weighed();
      const text = await table(store, units);
      // Drill, mix, configuration and calibration.
      expect(await importTable(other, text)).toEqual({ ...nothing, items: 4, runs: 3 });
      expect(await table(other, units)).toBe(text);
      const again = await table(other, units);
      expect(await importTable(other, text)).toEqual({ ...nothing, known: 3 });
      expect(await table(other, units)).toBe(again);
      expect((await other.drills.list()).items).toHaveLength(1);
      for await (const { verdict } of verifyAll(other)) expect(verdict).toBe('same');
    },
  );

  it('gives the same advice elsewhere', async () => {
    await weighed();
    await importTable(other, await table(store));
    const wide = { ...plan, drill: { ...plan.drill, scale: { ...scale, otherConfigurations: [] } } };
    const [here, there] = [await new Desk(store, false).view(wide), await new Desk(other, false).view(wide)];
    expect(there.runs.map(({ id }) => id)).toEqual(here.runs.map(({ id }) => id));
    expect(there.advice).toEqual(here.advice);
  });

  it('is understood in the units of its headings alone, and from a spreadsheet with a decimal comma', async () => {
    await weighed();
    const si =
      /^(?:catch.*|rate.*) \((?:g|g\/m2)\)$|^(?:row spacing|wheel circumference).* \(m\)$|^target rate \(g\/m2\)$/;
    const text = await table(store, 'us');
    const gone = Object.fromEntries(
      readCsv(text)
        .rows[0]!.filter((name) => si.test(name))
        .map((name) => [name, null]),
    );
    expect(Object.keys(gone).length).toBeGreaterThan(8);
    const semicolons = readCsv(changed(text, gone))
      .rows.map((row) =>
        row
          .map((cell) =>
            /^-?\d+\.\d+$/.test(cell) ? cell.replace('.', ',') : `"${cell.replaceAll('"', '""')}"`,
          )
          .join(';'),
      )
      .join('\n');
    expect(await importTable(other, `\ufeff${semicolons}`)).toMatchObject({ runs: 3 });
    const [ours, theirs] = [(await store.runs.list()).items[0]!, (await other.runs.list()).items[0]!];
    expect(theirs.hand!.grams).toBeCloseTo(ours.hand!.grams, 9);
    expect(theirs.figures!.rate!.low).toBeCloseTo(ours.figures!.rate!.low, 9);
  });

  it('brings runs of the stand only where they are on record', async () => {
    const id = await keep(store, await madeRun(1));
    const text = await table(store);
    expect(await importTable(store, text)).toEqual({ ...nothing, known: 1 });
    const report = await importTable(other, text);
    expect(report).toMatchObject({ runs: 0, known: 0 });
    expect(report.skipped[0]).toMatch(/One run of the stand .* holds no readings/);
    expect(await other.runs.find(id)).toBeNull();
  });

  it('leaves a run on record as it is where the table says otherwise, and says so', async () => {
    await weighed();
    const text = await table(store);
    const report = await importTable(
      store,
      changed(text, { 'catch (g)': '1', 'catch (kg)': '0.001', 'rate (g/m2)': '', 'rate (kg/ha)': '' }),
    );
    expect(report).toMatchObject({
      runs: 0,
      known: 2,
      conflicts: [expect.stringMatching(/other content, which was kept/)],
    });
    expect(await table(store)).toBe(text);
  });

  it('takes a run without a number once, however often it comes', async () => {
    await weighed();
    const text = changed(await table(store), { run: '' });
    expect(await importTable(other, text)).toMatchObject({ runs: 3 });
    expect(await importTable(other, text)).toEqual({ ...nothing, known: 3 });
  });
});

describe('what is no table of runs', () => {
  let sound: string;
  beforeAll(async () => {
    const place = mkdtempSync(join(tmpdir(), 'catchbench-table-'));
    const from = await openRecords(place);
    await weighed(from);
    sound = await table(from);
    await from.shut();
    rmSync(place, { recursive: true });
  });

  const cells: [string, Record<string, string | null>, RegExp][] = [
    ['a newer edition', { 'edition of the table': '2' }, /written by a newer Catchbench \(edition 2/],
    ['a missing column', { drill: null }, /no table of runs by Catchbench: it has no column drill/],
    ['a column twice', { ' drill': 'x' }, /column drill stands twice/],
    ['no number', { 'catch (g)': '86.2 g' }, /In line 2 of the table, catch \(g\) is no number/],
    ['a number without end', { 'catch (g)': '1e999' }, /is no number/],
    ['a catch below zero', { 'catch (g)': '-5', 'catch (kg)': '-0.005' }, /catch must be 0 or more/],
    ['units that differ', { 'catch (g)': '90' }, /two units that differ/],
    [
      'a rate of something else',
      { 'rate (g/m2)': '9', 'rate (kg/ha)': '90' },
      /does not follow from its turns and its catch/,
    ],
    ['no moment', { 'started (UTC)': '02.03.2026 8:00' }, /In line 2 of the table: Something does not fit/],
    ['no source', { source: 'guess' }, /neither hand nor stand/],
    ['a path for a run', { run: '../../etc/passwd' }, /does not fit: run/],
    ['a slip of half the way', { 'slip (fraction)': '0.9' }, /does not fit/],
    ['no drill', { drill: '' }, /does not fit/],
    ['a drill of many words', { drill: 'x'.repeat(90) }, /does not fit/],
    ['rows by halves', { 'rows caught': '1.5' }, /does not fit/],
    ['no turns', { turns: '0' }, /turns must be more than 0/],
    [
      'a wheel of nothing',
      { 'wheel circumference (m)': '0', 'wheel circumference (cm)': '0' },
      /does not fit/,
    ],
  ];
  it.each(cells)('%s: refused in a sentence, and nothing is changed', async (_name, change, sentence) => {
    await expect(importTable(other, changed(sound, change))).rejects.toThrow(sentence);
    expect((await other.drills.list()).items).toEqual([]);
    expect((await other.runs.list()).items).toEqual([]);
  });

  it('a run twice, a line too long, a quote without end, other letters: refused in a sentence', async () => {
    const [heading, first] = sound.split('\r\n') as [string, string];
    for (const [spoilt, sentence] of [
      [`${heading}\r\n${first}\r\n${first}\r\n`, /line 3 stands twice/],
      [`${heading}\r\n${first},more\r\n`, /more fields than there are headings/],
      [`${heading}\r\n"${'x'.repeat(300_000)}"\r\n`, /longer than any of ours/],
      [`${heading}\r\n${first.slice(0, 40)}"\r\n`, /quote/],
      [`${heading}\r\n${first.replace('Old', 'Gr\ufffdn')}\r\n`, /not written in UTF-8/],
      ['', /no table of runs/],
      ['{"format":"catchbench-records"}', /A quote in this table stands where none may/],
      [`${heading}\r\n${'\r\n'.repeat(3)}__proto__,constructor\r\n`, /In line 2/],
    ] as const) {
      await expect(importTable(other, spoilt)).rejects.toThrow(sentence);
    }
    const long = `${heading}\r\n${'x\r\n'.repeat(200_001)}`;
    await expect(importTable(other, long)).rejects.toThrow(/too long to be imported/);
    expect((await other.runs.list()).items).toEqual([]);
  });
});
