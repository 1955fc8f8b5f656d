import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inTransaction, openDatabase } from '../../server/records/engine.ts';
import { RecordsError } from '../../server/records/errors.ts';
import { dataFolder } from '../../server/records/folder.ts';
import { migrate, newestFormat } from '../../server/records/migrations.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import { inThisThread } from '../../server/records/port.ts';
import { SqliteStore } from '../../server/records/store.ts';
import { temporaryFolders } from './folders.ts';
import { lines, newRun } from './samples.ts';

const folder = temporaryFolders();

async function troubleAt(opening: Promise<unknown>): Promise<RecordsError> {
  const outcome = await opening.then(
    () => null,
    (error: unknown) => error,
  );
  expect(outcome).toBeInstanceOf(RecordsError);
  return outcome as RecordsError;
}

describe('opening the records', () => {
  it('makes the folder, however deep', async () => {
    const place = join(folder(), 'a', 'b');
    await (await openRecords(place)).shut();
    expect(existsSync(join(place, recordsFile))).toBe(true);
  });

  it('puts a damaged file aside, whole, begins a new one and says so', async () => {
    const place = folder();
    const damaged = 'these are no records. '.repeat(500);
    writeFileSync(join(place, recordsFile), damaged);
    const records = await openRecords(place);
    expect(records.notices).toHaveLength(1);
    expect(records.notices[0]).toMatch(/was damaged\. It was kept as .*damaged-.*\.db/);
    const kept = readdirSync(place).find((name) => name.startsWith('damaged-') && name.endsWith('.db'));
    expect(readFileSync(join(place, kept!), 'utf8')).toBe(damaged);
    await records.begin(newRun());
    await records.shut();
    const again = await openRecords(place);
    expect(again.notices).toEqual([]);
    expect(await again.unfinished()).toHaveLength(1);
    await again.shut();
  });

  it('notices damage inside a file that opens', async () => {
    const place = folder();
    const records = await openRecords(place);
    const run = newRun();
    await records.begin(run);
    await records.append(run.id, lines(5000));
    await records.shut();
    const path = join(place, recordsFile);
    const bytes = readFileSync(path);
    bytes.fill(0xa5, Math.floor(bytes.length / 2), Math.floor(bytes.length / 2) + 20_000);
    writeFileSync(path, bytes);
    const again = await openRecords(place);
    expect(again.notices).toHaveLength(1);
    await again.shut();
  });

  it('refuses a folder that another Catchbench holds, and takes it once that one has ended', async () => {
    const place = folder();
    const first = await openRecords(place);
    const refusal = await troubleAt(openRecords(place));
    expect(refusal.trouble).toBe('locked');
    expect(refusal.message).toMatch(/in use by another program, most likely another Catchbench/);
    await first.shut();
    await (await openRecords(place)).shut();
  });

  it('leaves alone what a newer edition wrote', async () => {
    const place = folder();
    await (await openRecords(place)).shut();
    const database = openDatabase(join(place, recordsFile), 100);
    database.exec(`PRAGMA user_version = ${newestFormat + 1}`);
    database.close();
    const refusal = await troubleAt(openRecords(place));
    expect(refusal.trouble).toBe('newer');
    expect(readdirSync(place).filter((name) => name.startsWith('damaged'))).toEqual([]);
  });

  it('says so when the folder is a file', async () => {
    const path = join(folder(), 'file');
    writeFileSync(path, '');
    expect((await troubleAt(openRecords(path))).message).toMatch(/it is no folder, or it cannot be reached/);
  });

  it('says so when the folder is read-only', () => {
    const place = folder();
    chmodSync(place, 0o555);
    const script = `import { openRecords } from ${JSON.stringify(join(import.meta.dirname, '../../server/records/open.ts'))};
      // To the superuser nothing is read-only, so be nobody.
      if (process.getuid?.() === 0) process.setuid(65534);
      await openRecords(${JSON.stringify(place)}).then(() => console.log('opened'), (error) => console.log(error.message));`;
    const { stdout, stderr } = spawnSync(
      process.execPath,
      ['--import', 'tsx', '--input-type=module', '-e', script],
      { encoding: 'utf8', env: { ...process.env, TMPDIR: '/tmp' } },
    );
    chmodSync(place, 0o755);
    expect(stdout + stderr).toMatch(/cannot be written: the folder or a file in it is read-only/);
  });

  it('says so when the disk is full, loses nothing that was kept, and goes on once there is room', async () => {
    const place = folder();
    const database = openDatabase(join(place, recordsFile), 100);
    migrate(database);
    const port = inThisThread(database);
    const records = new SqliteStore(port, {
      folder: place,
      notices: [],
      release: () => {},
      copy: async () => {},
      prepare: () => '',
      replace: async () => '',
    });
    const run = newRun();
    await records.begin(run);
    await records.append(run.id, lines(10));
    // SQLite then answers as it does on a full disk.
    const { page_count } = database.prepare('PRAGMA page_count').get() as { page_count: number };
    database.exec(`PRAGMA max_page_count = ${page_count}`);
    const refusal = await troubleAt(records.append(run.id, lines(5000, 10)));
    expect(refusal.trouble).toBe('full');
    expect(refusal.message).toMatch(/disk that holds the records in .* is full\. Make room/);
    expect(await records.journal(run.id, 0, 10_000)).toEqual(lines(10));
    database.exec('PRAGMA max_page_count = 100000');
    await records.append(run.id, lines(5000, 10));
    expect(await records.journal(run.id, 0, 10_000)).toHaveLength(5010);
    await records.shut();
  });
});

describe('migrations', () => {
  it('bring an empty file to the newest format, and do nothing the second time', () => {
    const database = openDatabase(':memory:', 100);
    migrate(database);
    migrate(database);
    expect(database.prepare('PRAGMA user_version').get()).toEqual({ user_version: newestFormat });
    database.close();
  });

  it('leave nothing half done', () => {
    const database = openDatabase(':memory:', 100);
    expect(() =>
      inTransaction(database, () => {
        database.exec('CREATE TABLE half (done)');
        throw new Error('power cut');
      }),
    ).toThrow('power cut');
    expect(database.prepare("SELECT name FROM sqlite_schema WHERE name = 'half'").all()).toEqual([]);
    database.close();
  });
});

describe('the folder of the records', () => {
  it('is CATCHBENCH_DATA where that is set', () => {
    expect(dataFolder({ CATCHBENCH_DATA: '/srv/catch' }, 'linux', '/home/ann')).toBe('/srv/catch');
  });

  it.each([
    ['linux', {}, '/home/ann/.local/share/catchbench'],
    ['linux', { XDG_DATA_HOME: '/data' }, '/data/catchbench'],
    ['darwin', {}, '/home/ann/Library/Application Support/catchbench'],
  ] as const)("is the user's own on %s with %o", (platform, environment, path) => {
    expect(dataFolder(environment, platform, '/home/ann')).toBe(path);
  });

  it("is the user's own on Windows", () => {
    expect(dataFolder({ LOCALAPPDATA: 'L' }, 'win32', 'H')).toBe(join('L', 'catchbench'));
    expect(dataFolder({}, 'win32', 'H')).toBe(join('H', 'AppData', 'Local', 'catchbench'));
  });
});
