import { fork } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { v7 } from 'uuid';
import { sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { fold } from '../../server/records/edits.ts';
import { inTransaction, openDatabase, type SqlDatabase } from '../../server/records/engine.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import type { JournalEntry, Store } from '../../server/records/types.ts';
import { type MadeRun, madeRun } from '../records/made-runs.ts';
import { calibrationOf, drill, mix } from '../records/samples.ts';
import { type Figure, judged } from './figures.ts';
import { programOf } from './load/processes.ts';

/** Figures of the records: storing, room on disk, replay, finding. */

async function inFolder<T>(task: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'catchbench-bench-'));
  try {
    return await task(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const batch = 12; // what 150 ms bring at 80 readings a second
const rounds = 400;

function linesFrom({ journal }: MadeRun, count: number): JournalEntry[] {
  const lines = journal.filter(({ kind }) => kind === 'line');
  return Array.from({ length: count }, (_, position) => {
    const { text } = lines[position % lines.length]!;
    return { position, hostMillis: position * 12.5, kind: 'line', text };
  });
}

/** Milliseconds of each batch, put on disk one after the other by the store and by bare inserts, taking turns. */
async function storing(made: MadeRun): Promise<Figure[]> {
  return inFolder(async (folder) => {
    const store = await openRecords(folder);
    const run = { ...made.run, id: v7() };
    await store.begin(run);
    const bare = openBare(folder);
    const entries = linesFrom(made, batch * rounds);
    const millis = { store: [] as number[], bare: [] as number[] };
    for (let at = 0; at < entries.length; at += batch) {
      const these = entries.slice(at, at + batch);
      const ways = [
        ['bare', () => bare.insert(these)],
        ['store', () => store.append(run.id, these)],
      ] as const;
      // Whoever comes second may find the disk busy with the first: each does so every other time.
      for (const [way, put] of at % (2 * batch) === 0 ? ways : ways.toReversed()) {
        const from = performance.now();
        await put();
        millis[way].push(performance.now() - from);
      }
    }
    bare.database.close();
    await store.shut();
    const how = `batches of ${batch} lines, each on disk (WAL, synchronous FULL) before the next; reference: the same lines as rows of a bare table, same driver, same disk, taking turns`;
    return [
      judged({
        id: 'records-store',
        value: quantile(millis.store, 0.5),
        unit: 'ms a batch',
        reference: quantile(millis.bare, 0.5),
        aim: '<= 1.5',
        how: `median of ${rounds}, ${Math.round((1000 * batch) / quantile(millis.store, 0.5))} readings/s; ${how}`,
      }),
    ];
  });
}

function openBare(folder: string) {
  const database: SqlDatabase = openDatabase(join(folder, 'bare.db'), 1000);
  database.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL');
  database.exec('CREATE TABLE readings (run TEXT, position INTEGER, millis REAL, line TEXT)');
  const insert = database.prepare('INSERT INTO readings VALUES (?, ?, ?, ?)');
  return {
    database,
    insert: (entries: JournalEntry[]) =>
      inTransaction(database, () => {
        for (const { position, hostMillis, text } of entries) insert.run('run', position, hostMillis, text);
      }),
  };
}

const longRun = 100_000;

/** Bytes that the file grows by for a reading and cell of a long run, with the host's own uneven times; while it is on, and packed. */
async function room(made: MadeRun, cells: number): Promise<Figure[]> {
  return inFolder(async (folder) => {
    const store = await openRecords(folder);
    const size = async (name: string): Promise<number> => {
      await store.backup(join(folder, name));
      return statSync(join(folder, name)).size;
    };
    const empty = await size('empty.db');
    const entries = linesFrom(made, longRun).map((entry) => {
      return { ...entry, hostMillis: entry.hostMillis + Math.round(Math.random() * 20) / 10 };
    });
    await store.begin(made.run);
    for (let at = 0; at < longRun; at += batch)
      await store.append(made.run.id, entries.slice(at, at + batch));
    const live = (await size('live.db')) - empty;
    await store.close(made.run.id, { ...made.end, entries: longRun });
    await store.settled();
    const packed = (await size('packed.db')) - empty;
    await store.shut();
    const how = `one run of ${longRun} lines (${Math.round((longRun * 12.5) / 60_000)} minutes), ${cells} cell(s), in batches of ${batch}, all else of the run included`;
    const figure = (id: string, bytes: number, when: string) =>
      judged({
        id: `${id}-${cells}`,
        value: bytes / longRun / cells,
        unit: 'bytes a reading and cell',
        aim: '<= 20',
        how: `${when}; ${how}`,
      });
    return [
      figure('records-bytes-live', live, 'while it is under way'),
      figure('records-bytes', packed, 'once it is over, with figures and chart'),
    ];
  });
}

async function replaying(made: MadeRun, cells: number): Promise<Figure> {
  const { path, remove } = await programOf(new URL('./replaying.ts', import.meta.url));
  const child = fork(path);
  child.send(made.journal);
  const millis = await new Promise<number>((resolve) =>
    child.once('message', (told) => resolve(told as number)),
  );
  remove();
  const seconds =
    Number(
      made.journal
        .filter(({ text }) => text.startsWith('R '))
        .at(-1)!
        .text.split(' ')[2],
    ) / 1e6;
  return judged({
    id: `records-replay-${cells}`,
    value: (1000 * seconds) / millis,
    unit: 'times real time',
    ...(cells === 1 ? { aim: '>= 1000' } : {}),
    how: `a whole run of ${seconds.toFixed(0)} s from its lines to its figures, ${cells} cell(s), built as the program is, in a process of its own, best of twenty`,
  });
}

const calibrationsKept = 10_000;
const runsEach = 10;
const names = ['Red', 'Blue', 'Old', 'New', 'Long', 'Broad', 'North', 'South', 'Hill', 'Brook'];
const seeds = ['Meadow', 'Cover', 'Triticale', 'Clover', 'Rye', 'Fescue', 'Vetch', 'Lucerne', 'Oats', 'Pea'];

/** 10 000 calibrations on 100 drills with 100 mixes, and 100 000 runs, written straight into the tables as the store writes them. */
async function fill(store: Store, folder: string, made: MadeRun): Promise<void> {
  const drills: string[] = [];
  const mixes: string[] = [];
  for (let index = 0; index < 100; index++) {
    const pick = (list: string[]) => `${list[index % 10]} ${list[Math.floor(index / 10)]} ${index}`;
    drills.push((await store.drills.create({ ...drill, name: pick(names) })).id);
    mixes.push((await store.mixes.create({ ...mix, name: pick(seeds) })).id);
  }
  const calibration = await store.calibrations.create(calibrationOf(drills[0]!, mixes[0]!));
  await store.begin({ ...made.run, calibrationId: calibration.id });
  await store.close(made.run.id, { ...made.end, entries: 0 });
  await store.settled();
  const database = openDatabase(join(folder, recordsFile), 5000);
  const row = (table: string, id: string) =>
    database.prepare(`SELECT * FROM ${table} WHERE id = ?`).get(id) as Record<string, string>;
  const insert = (table: string, values: Record<string, unknown>) => {
    const columns = Object.keys(values);
    const sql = `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`;
    database.prepare(sql).run(...(Object.values(values) as string[]));
  };
  const { number: _one, ...calibrationRow } = row('items', calibration.id);
  const { number: _two, ...runItem } = row('items', made.run.id);
  const runRow = row('runs', made.run.id);
  const [edit] = await store.edits(calibration.id);
  const fields = fold([edit!]).fields;
  inTransaction(database, () => {
    for (let index = 0; index < calibrationsKept; index++) {
      const at = new Date(Date.UTC(2020, 0, 1) + index * 6 * 3600_000).toISOString();
      const [drillId, mixId] = [drills[index % 100]!, mixes[(index * 7) % 100]!];
      const id = v7();
      const its = { ...fields, drillId, mixId, note: index % 500 === 0 ? 'before the rain' : '' };
      const moments = { created_at: at, changed_at: at, happened_at: at };
      insert('items', {
        ...calibrationRow,
        ...moments,
        id,
        drill_id: drillId,
        mix_id: mixId,
        fields: JSON.stringify(its),
        search: its.note,
      });
      for (let run = 0; run < runsEach; run++) {
        const runId = v7();
        const label = `${names[index % 10]} ${seeds[(index * 7) % 10]} ${index % 100}`;
        insert('runs', { ...runRow, id: runId, started_at: at });
        insert('items', {
          ...runItem,
          ...moments,
          id: runId,
          calibration_id: id,
          label,
          search: `${label} ${run}`,
        });
      }
    }
  });
  database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  database.close();
}

const quantile = (values: number[], share: number): number =>
  values.toSorted((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))]!;

interface Question {
  id: string;
  how: string;
  ours: (store: Store, index: number) => Promise<unknown>;
  bare: (database: SqlDatabase, index: number) => unknown;
}

const word = (index: number): string =>
  (index % 2 === 0 ? names[index % 10]! : seeds[index % 10]!).toLowerCase();
const bareList = (where: string) =>
  `SELECT id, fields FROM items WHERE deleted_at IS NULL AND ${where} ORDER BY happened_at DESC, id DESC LIMIT 51`;

const questions: Question[] = [
  {
    id: 'records-list',
    how: 'a page of 50 calibrations from a moment on',
    ours: (store, index) => store.calibrations.list({ before: `20${20 + (index % 6)}-06-01T00:00:00.000Z` }),
    bare: (database, index) =>
      database
        .prepare(bareList(`kind = 'calibration' AND happened_at < ?`))
        .all(`20${20 + (index % 6)}-06-01T00:00:00.000Z`),
  },
  {
    id: 'records-search',
    how: 'calibrations by two words, of the drill and of the mix',
    ours: (store, index) => store.calibrations.list({ text: `${word(index)} ${word(index + 3)}` }),
    bare: (database, index) => {
      const matching = (text: string) =>
        database
          .prepare('SELECT id FROM items WHERE number IN (SELECT rowid FROM words WHERE words MATCH ?)')
          .all(`"${text}" *`);
      return [matching(word(index)), matching(word(index + 3))];
    },
  },
  {
    id: 'records-search-runs',
    how: '50 of 100 000 runs by two words',
    ours: (store, index) => store.runs.list({ text: `${word(index)} ${index % 100}` }),
    bare: (database, index) =>
      database
        .prepare(bareList(`kind = 'run' AND number IN (SELECT rowid FROM run_words WHERE run_words MATCH ?)`))
        .all(`"${word(index)}" * "${index % 100}" *`),
  },
  {
    id: 'records-list-runs',
    how: 'a page of 50 of 100 000 runs from a moment on',
    ours: (store, index) => store.runs.list({ before: `20${20 + (index % 6)}-06-01T00:00:00.000Z` }),
    bare: (database, index) =>
      database
        .prepare(bareList(`kind = 'run' AND happened_at < ?`))
        .all(`20${20 + (index % 6)}-06-01T00:00:00.000Z`),
  },
];

async function finding(made: MadeRun): Promise<Figure[]> {
  return inFolder(async (folder) => {
    const store = await openRecords(folder);
    await fill(store, folder, made);
    const database = openDatabase(join(folder, recordsFile), 5000);
    const figures: Figure[] = [];
    for (const { id, how, ours, bare } of questions) {
      const times = { ours: [] as number[], bare: [] as number[] };
      for (let index = 0; index < 400; index++) {
        let from = performance.now();
        bare(database, index);
        times.bare.push(performance.now() - from);
        from = performance.now();
        await ours(store, index);
        times.ours.push(performance.now() - from);
      }
      const all = `${how}; p99 of 400, in a store of 10 000 calibrations and 100 000 runs`;
      figures.push(
        judged({
          id,
          value: quantile(times.ours, 0.99),
          unit: 'ms',
          aim: '<= 50',
          how: `${all}; bare SQL ${quantile(times.bare, 0.99).toFixed(1)} ms (median ${quantile(times.bare, 0.5).toFixed(1)}, ours ${quantile(times.ours, 0.5).toFixed(1)})`,
        }),
      );
    }
    database.close();
    await store.shut();
    return figures;
  });
}

export async function records(): Promise<Figure[]> {
  const one = await madeRun(1, 25);
  const six = await madeRun(1, 10, sixRows);
  return [
    ...(await storing(one)),
    ...(await room(one, 1)),
    ...(await room(six, 6)),
    await replaying(one, 1),
    await replaying(six, 6),
    ...(await finding(one)),
  ];
}
