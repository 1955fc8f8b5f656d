import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { asWritten, csvLine, readCsv } from '../../server/records/csv.ts';
import { type ExportScope, exportJson } from '../../server/records/export.ts';
import { readingsCsv, runsCsv } from '../../server/records/export-csv.ts';
import type { ExportFile } from '../../server/records/export-schema.ts';
import { importJson } from '../../server/records/import.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { storeEngines } from './engines.ts';
import { keep, type MadeRun, madeRun } from './made-runs.ts';
import { calibrationOf, configurationOf, drill, figures, lot, mix, newRun, plan } from './samples.ts';

const engines = storeEngines();
let made: MadeRun[];
beforeAll(async () => {
  made = [await madeRun(1), await madeRun(2)];
});

let store: Store;
let other: Store;

/** Two empty stores for each test. */
async function exported(from: Store, scope: ExportScope = 'everything'): Promise<string> {
  let text = '';
  for await (const piece of exportJson(from, scope, '2026-04-01T00:00:00.000Z')) text += piece;
  return text;
}

async function textOf(pieces: AsyncIterable<string>): Promise<string> {
  let text = '';
  for await (const piece of pieces) text += piece;
  return text;
}

/** Something of every kind, changed, deleted and set aside here and there. */
async function fill(): Promise<{ calibrationId: string; runId: string }> {
  const machine = await store.drills.create(drill, 'Ann');
  const gate = await store.configurations.create(configurationOf(machine.id));
  const bag = await store.lots.create(lot);
  const blend = await store.mixes.create({ ...mix, parts: [{ ...mix.parts[0]!, lotId: bag.id }] });
  const fields = { ...calibrationOf(machine.id, blend.id), configurationId: gate.id };
  const calibration = await store.calibrations.create(fields);
  const runId = await keep(store, made[0]!, { calibrationId: calibration.id });
  const loose = await keep(store, made[1]!);
  const { id, startedAt, demo } = newRun();
  const hand = { turns: 25, grams: 86.2, gramsDoubt: 0.5 };
  await store.runs.addByHand({
    id,
    startedAt,
    demo,
    plan,
    hand,
    figures,
    formulaVersion: 1,
    calibrationId: calibration.id,
  });
  await store.runs.setAside(runId, 'The bag touched the frame.', 'Ben');
  await store.notes.create({ aboutId: runId, text: '=1+1, said the "chart"\nand more' });
  await store.drills.update(machine.id, { slip: 0.05 }, 'Ben');
  await store.runs.remove(loose);
  const spare = await store.lots.create({ ...lot, name: 'Bag 13' });
  await store.lots.remove(spare.id);
  await store.begin(newRun()); // under way: stays at home
  return { calibrationId: calibration.id, runId };
}

describe.each(engines)('an export as JSON on $name', (engine) => {
  beforeEach(async () => {
    store = await engine.open(await engine.newPlace());
    other = await engine.open(await engine.newPlace());
  });
  afterEach(async () => {
    await store.shut();
    await other.shut();
  });

  it('imported elsewhere and exported again is the same text', async () => {
    await fill();
    const text = await exported(store);
    const report = await importJson(other, text);
    expect(report).toMatchObject({ runs: 3, items: 7, conflicts: [] });
    expect(await exported(other)).toBe(text);
    const lines = text.split('\n').filter((line) => line.startsWith('{"id"')).length;
    expect(lines).toBe(7 + 3 + 3);
  });

  it('imported a second time changes nothing', async () => {
    await fill();
    const text = await exported(store);
    await importJson(other, text);
    expect(await importJson(other, text)).toEqual({ runs: 0, items: 0, edits: 0, known: 10, conflicts: [] });
    expect(await importJson(store, text)).toEqual({ runs: 0, items: 0, edits: 0, known: 10, conflicts: [] });
    expect(await exported(other)).toBe(text);
  });

  it('made while a run goes on can be taken in, whatever was noted about that run', async () => {
    await fill();
    const run = newRun();
    await store.begin(run);
    await store.notes.create({ aboutId: run.id, text: 'a gust just now' });
    const text = await exported(store);
    expect(text).not.toContain(run.id);
    await importJson(other, text);
    expect(await exported(other)).toBe(text);
  });

  it('of a calibration or a run brings all that it names, and nothing else', async () => {
    const { calibrationId, runId } = await fill();
    const ofCalibration: ExportFile = JSON.parse(await exported(store, { calibration: calibrationId }));
    expect(ofCalibration.items.map(({ kind }) => kind).toSorted()).toEqual(
      ['calibration', 'configuration', 'drill', 'lot', 'mix', 'note', 'run', 'run'].toSorted(),
    );
    const ofRun = await exported(store, { run: runId });
    expect((JSON.parse(ofRun) as ExportFile).runs.map(({ id }) => id)).toEqual([runId]);
    await importJson(other, ofRun);
    expect(await exported(other, { run: runId })).toBe(ofRun);
    expect((await other.runs.find(runId))!.setAside!.why).toBe('The bag touched the frame.');
  });

  it('brings later changes to what is there already; the later change counts on both sides', async () => {
    await fill();
    await importJson(other, await exported(store));
    const [machine] = (await store.drills.list()).items;
    await store.drills.update(machine!.id, { name: 'First' }, 'Ann');
    await other.drills.update(machine!.id, { name: 'Second' }, 'Ben');
    await importJson(other, await exported(store));
    await importJson(store, await exported(other));
    for (const each of [store, other]) {
      expect((await each.drills.find(machine!.id))!.fields.name).toBe('Second');
      const names = (await each.drills.history(machine!.id)).filter(({ field }) => field === 'name');
      expect(names.map(({ after, counts }) => [after, counts])).toEqual([
        ['First', false],
        ['Second', true],
      ]);
    }
    expect(await exported(other)).toBe(await exported(store));
  });

  it('of the form before this one comes in as ever', async () => {
    const { runId } = await fill();
    const file: ExportFile = JSON.parse(await exported(store, { run: runId }));
    expect(await importJson(other, JSON.stringify({ ...file, version: 1 }))).toMatchObject({ runs: 1 });
  });

  it('keeps our run where another one has the same number', async () => {
    const { runId } = await fill();
    const file: ExportFile = JSON.parse(await exported(store, { run: runId }));
    await importJson(other, JSON.stringify(file));
    file.runs[0]!.startedAt = '2026-01-01T00:00:00.000Z';
    const { conflicts, runs } = await importJson(other, JSON.stringify(file));
    expect(conflicts).toEqual([expect.stringMatching(/on record here with other content, which was kept/)]);
    expect(runs).toBe(0);
  });
});

type Change = (file: ExportFile) => unknown;
const itemOf = (file: ExportFile, kind: string) => file.items.find((item) => item.kind === kind)!;

describe('a file that is not as it should be', () => {
  const places = [0, 1].map(() => mkdtempSync(join(tmpdir(), 'catchbench-records-')));
  /** The export of one run with all that it names. */
  let sample = '';
  beforeAll(async () => {
    store = await openRecords(places[0]!);
    other = await openRecords(places[1]!);
    sample = await exported(store, { run: (await fill()).runId });
  });
  afterAll(async () => {
    await store.shut();
    await other.shut();
    for (const place of places) rmSync(place, { recursive: true });
  });

  const wrong: [string, Change | string, RegExp][] = [
    ['no JSON', '{"format": "catch', /no JSON, or it was cut short/],
    ['something else', '{"drills": []}', /no export of Catchbench/],
    ['a list', '[]', /no export of Catchbench/],
    ['null', 'null', /no export of Catchbench/],
    ['a newer form', (file) => Object.assign(file, { version: 3 }), /written by a newer Catchbench/],
    ['an impossible form', (file) => Object.assign(file, { version: -1 }), /does not fit/],
    ['a field too many', (file) => Object.assign(file, { colour: 'green' }), /does not fit/],
    ['items that are no list', (file) => Object.assign(file, { items: {} }), /does not fit/],
    [
      'an id that is a path',
      (file) => Object.assign(itemOf(file, 'lot'), { id: '../../etc/passwd' }),
      /does not fit/,
    ],
    [
      'a kind that there is not',
      (file) => Object.assign(itemOf(file, 'lot'), { kind: 'tractor' }),
      /does not fit/,
    ],
    ['an item twice', (file) => file.items.push(structuredClone(itemOf(file, 'lot'))), /stands twice/],
    [
      'an edit twice',
      (file) => itemOf(file, 'lot').edits.push(itemOf(file, 'lot').edits[0]!),
      /stands twice/,
    ],
    ['a run twice', (file) => file.runs.push(structuredClone(file.runs[0]!)), /stands twice/],
    [
      'a run without labels',
      (file) => Object.assign(file, { items: file.items.filter(({ kind }) => kind !== 'run') }),
      /lacks its labels/,
    ],
    ['labels without a run', (file) => Object.assign(file, { runs: [] }), /named and not in the file/],
    [
      'fields that are not what the edits say',
      (file) => Object.assign(itemOf(file, 'drill').fields, { slip: 0 }),
      /not what its edits make it/,
    ],
    [
      'a value out of range',
      (file) =>
        Object.assign(itemOf(file, 'drill').edits[0]!.changes, { rowSpacingMetres: 30 }) &&
        Object.assign(itemOf(file, 'drill').fields, { rowSpacingMetres: 30 }),
      /does not fit/,
    ],
    [
      'a name for the prototype',
      (file) =>
        Object.defineProperty(itemOf(file, 'drill').fields, '__proto__', {
          value: { a: 1 },
          enumerable: true,
        }),
      /does not fit|not what its edits/,
    ],
    [
      'an edit of next century',
      (file) => Object.assign(itemOf(file, 'drill').edits[0]!, { at: 'tomorrow' }),
      /does not fit/,
    ],
    [
      'a named drill that is nowhere',
      (file) => Object.assign(file, { items: file.items.filter(({ kind }) => kind !== 'drill') }),
      /neither in it nor on record/,
    ],
    [
      'figures that the readings do not give',
      (file) => Object.assign(file.runs[0]!.figures, { grams: 1e6 }),
      /do not give the figures/,
    ],
    ['a chart that the readings do not give', (file) => file.runs[0]!.trace.pop(), /do not give the figures/],
    ['readings changed', (file) => file.runs[0]!.journal.splice(200, 300), /do not give the figures/],
    [
      'readings that are no input',
      (file) => file.runs[0]!.journal.unshift([0, 'input', '{{{']),
      /cannot be computed with/,
    ],
    [
      'an ending that there is not',
      (file) => Object.assign(file.runs[0]!, { outcome: 'exploded' }),
      /No run ends/,
    ],
    [
      'a wheel without circumference',
      (file) => Object.assign(file.runs[0]!.plan.drill, { circumferenceMetres: 0 }),
      /circumference/,
    ],
    ['a number that is none', (file) => Object.assign(file.runs[0]!.plan, { turns: '25' }), /does not fit/],
    [
      'half a character',
      (file) => Object.assign(itemOf(file, 'note').fields, { text: '\ud800' }),
      /characters that are none|not what/,
    ],
  ];

  it.each(wrong)('is refused, and changes nothing: %s', async (_name, change, sentence) => {
    let text = change as string;
    if (typeof change !== 'string') {
      const file: ExportFile = JSON.parse(sample);
      change(file);
      text = JSON.stringify(file);
    }
    await expect(importJson(other, text)).rejects.toThrow(sentence);
    const empty: ExportFile = JSON.parse(await exported(other));
    expect([empty.items, empty.runs]).toEqual([[], []]);
  });

  it('may be anything at all: it is taken or refused in a sentence, never more', async () => {
    const text = sample;
    await fc.assert(
      fc.asyncProperty(
        fc.nat({ max: text.length - 1 }),
        fc.constantFrom('0', '"', '}', ']', ',', '-', 'null', '\\', '1e999', '\u0000', '{"a":1}'),
        fc.nat({ max: 30 }),
        async (at, insert, cut) => {
          const harmed = text.slice(0, at) + insert + text.slice(at + cut);
          const outcome = await importJson(other, harmed).catch((error: Error) => error);
          if (outcome instanceof Error) expect(outcome.name).toBe('FieldError');
        },
      ),
      { numRuns: 30 },
    );
  });
});

describe.each(engines)('a table on $name', (engine) => {
  beforeEach(async () => {
    store = await engine.open(await engine.newPlace());
    other = await engine.open(await engine.newPlace());
  });
  afterEach(async () => {
    await store.shut();
    await other.shut();
  });

  it('is read back as it was written, whatever stands in it', () => {
    const cell = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 12 }),
      fc.string({ unit: fc.constantFrom(...'\'=+-@|%\t\r\n ,;"1.x'), maxLength: 8 }),
    );
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 1, maxLength: 5 }), { minLength: 1 }), (rows) => {
        // A byte order mark at the very beginning is no text.
        const solid = [['heading', 'another'], ...rows.map((row) => [...row, 'end'])];
        expect(readCsv(solid.map(csvLine).join('')).rows.map((row) => row.map(asWritten))).toEqual(solid);
      }),
    );
  });

  it.each(['=HYPERLINK("x")', '+1+1', '-1+2', '@SUM(A1)', '\t=1', '\r=1', '  =1', '|calc', '%x', '\uff1d1'])(
    'holds no formula: %j',
    (text) => {
      expect(readCsv(csvLine([text])).rows[0]![0]).toBe(`'${text}`);
    },
  );

  it('leaves numbers as they are, those typed as text too', () => {
    expect(csvLine([-1.5, 1e-7, null, true, '-3', '+1.5', '-0,5'])).toBe(
      '-1.5,1e-7,,true,-3,+1.5,"-0,5"\r\n',
    );
  });

  it('of runs has each quantity in SI and in the units of the reader', async () => {
    const { calibrationId, runId } = await fill();
    const [heading, ...rows] = readCsv(
      await textOf(runsCsv(store, { calibration: calibrationId }, 'us')),
    ).rows;
    expect(rows.length).toBe(2);
    const row = rows.find((cells) => cells[heading!.indexOf('run')] === runId)!;
    const at = (name: string) => row[heading!.indexOf(name)]!;
    const rate = made[0]!.end.figures.rate!.gramsPerSquareMetre;
    expect(Number(at('rate (g/m2)'))).toBe(rate);
    // 1 lb/ac = 453.59237 g / 4046.8564224 m2, exactly.
    expect(Number(at('rate (lb/ac)'))).toBeCloseTo((rate * 4046.8564224) / 453.59237, 10);
    expect(at('set aside because')).toBe('The bag touched the frame.');
    expect(at('configuration')).toBe('gate 2');
  });

  it('of readings has a line for each', async () => {
    const { runId } = await fill();
    const run = (await store.runs.find(runId))!;
    const { rows } = readCsv(await textOf(readingsCsv(store, run, 'metric')));
    const readings = made[0]!.journal.filter(({ text }) => text.startsWith('R ')).length;
    expect(rows.length).toBe(readings + 1);
    expect(rows[0]).toContain('cell 1 (kg)');
    expect(Number(rows.at(-1)![4])).toBeCloseTo(run.figures!.turnsDone, 1);
  });
});
