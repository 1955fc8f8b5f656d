import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { openDatabase, type SqlValue } from '../../server/records/engine.ts';
import { RecordsError } from '../../server/records/errors.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import { inThisThread, type SqlPort } from '../../server/records/port.ts';
import { SqliteStore } from '../../server/records/store.ts';
import type { Store } from '../../server/records/types.ts';
import { verifyAll } from '../../server/records/verify.ts';
import { temporaryFolders } from '../records/folders.ts';
import { type MadeRun, madeRun } from '../records/made-runs.ts';
import { calibrationOf, drill, mix } from '../records/samples.ts';

const folder = temporaryFolders();
let made: MadeRun;
beforeAll(async () => {
  made = await madeRun(1);
});

/** An open database whose disk is full at the `n`-th statement that writes, and again at each until `room` is called. */
class FillingDisk implements SqlPort {
  writes = 0;
  refusals = 0;
  fullFrom = Number.POSITIVE_INFINITY;
  readonly #port: SqlPort;

  constructor(path: string) {
    const database = openDatabase(path, 100);
    database.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON');
    this.#port = inThisThread(database);
  }

  async execute(sql: string, values: readonly SqlValue[]) {
    if (/^\s*(insert|update|delete|commit)/i.test(sql) && ++this.writes >= this.fullFrom) {
      this.refusals++;
      // SQLite rolls back by itself when a commit finds no room.
      if (/^commit/i.test(sql)) await this.#port.execute('ROLLBACK', []);
      throw Object.assign(new Error('database or disk is full'), { errcode: 13, code: 'ERR_SQLITE_ERROR' });
    }
    return this.#port.execute(sql, values);
  }

  close() {
    return this.#port.close();
  }
}

const storeOn = (port: SqlPort, place: string): SqliteStore =>
  new SqliteStore(port, {
    folder: place,
    notices: [],
    release: () => {},
    copy: async () => {},
    prepare: () => '',
    replace: async () => '',
  });

/** One day's work, each step tried again until it is done, as the session does. */
async function work(store: Store, again: (task: () => Promise<unknown>) => Promise<void>): Promise<void> {
  const ids = { drill: '', mix: '', calibration: '' };
  await again(async () => (ids.drill = (await store.drills.create(drill)).id));
  await again(async () => (ids.mix = (await store.mixes.create(mix)).id));
  await again(
    async () => (ids.calibration = (await store.calibrations.create(calibrationOf(ids.drill, ids.mix))).id),
  );
  await again(() => store.begin({ ...made.run, calibrationId: ids.calibration }));
  for (let at = 0; at < made.journal.length; at += 100) {
    await again(() => store.append(made.run.id, made.journal.slice(at, at + 100)));
  }
  await again(() => store.close(made.run.id, made.end));
  await again(() => store.runs.setAside(made.run.id, 'The bag touched the frame.', 'Ben'));
  await again(() => store.keepSetting('plan', { turns: 7 }));
  await store.settled();
}

async function emptyPlace(): Promise<string> {
  const place = folder();
  await (await openRecords(place)).shut();
  return place;
}

async function expectWhole(place: string): Promise<void> {
  const store = await openRecords(place);
  expect(store.notices).toEqual([]);
  await store.settled();
  expect(await store.journal(made.run.id, 0, 1e6)).toEqual(made.journal);
  for await (const { verdict } of verifyAll(store)) expect(verdict).toBe('same');
  expect((await store.drills.list()).items).toHaveLength(1);
  expect((await store.calibrations.list()).items).toHaveLength(1);
  expect((await store.runs.find(made.run.id))!.setAside!.by).toBe('Ben');
  expect(await store.setting('plan')).toEqual({ turns: 7 });
  await store.shut();
  const database = openDatabase(join(place, recordsFile), 100);
  expect(database.prepare('PRAGMA integrity_check').get()).toEqual({ integrity_check: 'ok' });
  database.close();
}

describe('a disk that fills', () => {
  it('at each write in turn: said in a sentence, nothing half done, nothing lost once there is room', async () => {
    const first = new FillingDisk(join(await emptyPlace(), recordsFile));
    const calm = storeOn(first, 'x');
    await work(calm, async (task) => void (await task()));
    await calm.shut();
    expect(first.writes).toBeGreaterThan(20);
    let refusals = 0;
    // All of them with CATCHBENCH_WHOLE set, else every fifth, begun anywhere.
    const step = process.env.CATCHBENCH_WHOLE ? 1 : 5;
    const begin = 1 + (Date.now() % step);
    for (let full = begin; full <= first.writes; full += step) {
      const place = await emptyPlace();
      const disk = new FillingDisk(join(place, recordsFile));
      const store = storeOn(disk, place);
      disk.fullFrom = full;
      await work(store, async (task) => {
        const refusal = await task().then(
          () => null,
          (error: Error) => error,
        );
        if (refusal === null) return;
        expect((refusal as RecordsError).trouble).toBe('full');
        expect(refusal.message).toMatch(/disk that holds the records in .* is full\. Make room on it/);
        disk.fullFrom = Number.POSITIVE_INFINITY;
        await task();
      });
      refusals += disk.refusals;
      await store.shut();
      await expectWhole(place);
    }
    expect(refusals).toBeGreaterThanOrEqual(Math.floor(first.writes / step));
  });

  it('while a backup is made: no half of one is left behind', async () => {
    const place = folder();
    const store = await openRecords(place);
    mkdirSync(join(place, 'there'));
    await store.backup(join(place, 'there', 'whole.db'));
    await expect(store.backup(join(place, 'there', 'whole.db'))).rejects.toThrow(/something at .* already/);
    await expect(store.backup(join(place, 'nowhere', 'x.db'))).rejects.toThrow(RecordsError);
    expect(readdirSync(join(place, 'there'))).toEqual(['whole.db']);
    await store.shut();
  });
});

describe('what is no file of records', () => {
  it.each([
    ['nothing', null],
    ['a text', Buffer.from('these are no records. '.repeat(400))],
    ['an empty file', Buffer.alloc(0)],
  ])('is not restored, and changes nothing: %s', async (_name, bytes) => {
    const place = folder();
    const store = await openRecords(place);
    const { id } = await store.drills.create(drill);
    const path = join(folder(), 'backup.db');
    if (bytes !== null) writeFileSync(path, bytes);
    await expect(store.restore(path)).rejects.toThrow(
      /no backup of Catchbench, or it is damaged\. Nothing was changed/,
    );
    expect((await store.drills.find(id))!.fields).toEqual(drill);
    expect(readdirSync(place).filter((name) => /restoring|replaced/.test(name))).toEqual([]);
    await store.shut();
  });

  it('is not restored either where it is a database of something else, damaged, or of a newer edition', async () => {
    const place = folder();
    const store = await openRecords(place);
    const good = join(place, 'good.db');
    await store.backup(good);
    const change = (name: string, task: (path: string) => void): string => {
      const path = join(place, name);
      writeFileSync(path, readFileSync(good));
      task(path);
      return path;
    };
    const bySql = (sql: string) => (path: string) => {
      const database = openDatabase(path, 100);
      database.exec(sql);
      database.close();
    };
    const other = change('other.db', bySql('DROP TABLE settings'));
    const newer = change('newer.db', bySql('PRAGMA user_version = 99'));
    const damaged = change('damaged.db', (path) => {
      const bytes = readFileSync(path);
      bytes.fill(0xa5, 4096, bytes.length - 100);
      writeFileSync(path, bytes);
    });
    await expect(store.restore(other)).rejects.toThrow(/no backup of Catchbench/);
    await expect(store.restore(damaged)).rejects.toThrow(/no backup of Catchbench/);
    await expect(store.restore(newer)).rejects.toThrow(/written by a newer Catchbench/);
    await store.drills.create(drill);
    await store.restore(good);
    expect((await store.drills.list()).items).toEqual([]);
    await store.shut();
  });
});

describe('a path that is no folder', () => {
  it('holds what was there, whatever is tried', async () => {
    const place = await emptyPlace();
    const before = statSync(join(place, recordsFile)).size;
    await expect(openRecords(join(place, recordsFile))).rejects.toThrow(/it is no folder/);
    expect(statSync(join(place, recordsFile)).size).toBe(before);
    expect(existsSync(join(place, recordsFile))).toBe(true);
  });
});
