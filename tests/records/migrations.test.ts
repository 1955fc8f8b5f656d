import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { inTransaction, openDatabase, type SqlDatabase } from '../../server/records/engine.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import { verifyAll } from '../../server/records/verify.ts';
import { recoverRuns } from '../../server/run/session-recover.ts';
import { temporaryFolders } from './folders.ts';
import { type MadeRun, madeRun } from './made-runs.ts';
import { newRun } from './samples.ts';

const folder = temporaryFolders();
let made: MadeRun;
beforeAll(async () => {
  made = await madeRun(1);
});

/** The tables as the first edition made them. */
const firstFormat = `
  CREATE TABLE runs (
    id TEXT PRIMARY KEY, started_at TEXT NOT NULL, ended_at TEXT, demo INTEGER NOT NULL, plan TEXT NOT NULL, stand TEXT NOT NULL,
    outcome TEXT, figures TEXT, trace TEXT, formula_version INTEGER
  ) STRICT;
  CREATE INDEX runs_unfinished ON runs (id) WHERE ended_at IS NULL;
  CREATE TABLE journal (
    run_id TEXT NOT NULL REFERENCES runs (id), position INTEGER NOT NULL, host_millis REAL NOT NULL, kind TEXT NOT NULL,
    text TEXT NOT NULL, PRIMARY KEY (run_id, position)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
  PRAGMA user_version = 1;`;

function keepOld(database: SqlDatabase, { run, journal, end }: MadeRun, finished: boolean): void {
  const values = [
    run.id,
    run.startedAt,
    finished ? end.endedAt : null,
    0,
    JSON.stringify(run.plan),
    JSON.stringify(run.stand),
  ];
  const ending = finished
    ? [end.outcome, JSON.stringify(end.figures), JSON.stringify(end.trace), end.formulaVersion]
    : [null, null, null, null];
  database.prepare('INSERT INTO runs VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)').run(...values, ...ending);
  const insert = database.prepare('INSERT INTO journal VALUES (?, ?, ?, ?, ?)');
  for (const { position, hostMillis, kind, text } of journal)
    insert.run(run.id, position, hostMillis, kind, text);
}

function oldFile(place: string, fill: (database: SqlDatabase) => void): void {
  const database = openDatabase(join(place, recordsFile), 100);
  database.exec(firstFormat);
  inTransaction(database, () => fill(database));
  database.close();
}

describe('records of the first edition', () => {
  it('are brought up to date with every reading, figure and setting; a copy from before is kept', async () => {
    const place = folder();
    const cut: MadeRun = {
      ...made,
      run: { ...made.run, id: newRun().id },
      journal: made.journal.slice(0, 300),
    };
    oldFile(place, (database) => {
      keepOld(database, made, true);
      keepOld(database, cut, false);
      database.exec(`INSERT INTO settings VALUES ('plan', '{"turns":3}')`);
    });
    const store = await openRecords(place);
    expect(await store.journal(made.run.id, 0, 1e6)).toEqual(made.journal);
    expect(await store.journal(cut.run.id, 0, 1e6)).toEqual(cut.journal);
    expect(await store.setting('plan')).toEqual({ turns: 3 });
    const run = (await store.runs.find(made.run.id))!;
    expect(run).toMatchObject({
      figures: made.end.figures,
      trace: made.end.trace,
      source: 'stand',
      calibrationId: null,
    });
    expect(run.settingText).toBe(made.run.plan.drill.setting);
    expect((await store.runs.list({ text: made.run.plan.drill.name.split(' ')[0]! })).items).toHaveLength(2);
    expect(await recoverRuns(store)).toHaveLength(1);
    for await (const { verdict } of verifyAll(store)) expect(verdict).toBe('same');
    await store.shut();
    const copy = openDatabase(join(place, 'before-format-2.db'), 100);
    expect(copy.prepare('SELECT count(*) AS lines FROM journal').get()).toEqual({
      lines: made.journal.length + cut.journal.length,
    });
    copy.close();
  });

  it('are left as they were where they cannot be understood', async () => {
    const place = folder();
    oldFile(place, (database) => {
      keepOld(database, made, true);
      database.exec(`UPDATE runs SET plan = 'no JSON'`);
    });
    await expect(openRecords(place)).rejects.toThrow(/could not be read or written/);
    const database = openDatabase(join(place, recordsFile), 100);
    expect(database.prepare('PRAGMA user_version').get()).toEqual({ user_version: 1 });
    expect(database.prepare('SELECT count(*) AS lines FROM journal').get()).toEqual({
      lines: made.journal.length,
    });
    database.close();
  });

  it('of today need no copy', async () => {
    const place = folder();
    await (await openRecords(place)).shut();
    await (await openRecords(place)).shut();
    expect(existsSync(join(place, 'before-format-2.db'))).toBe(false);
  });
});
