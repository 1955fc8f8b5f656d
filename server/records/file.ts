import { copyFileSync, existsSync, linkSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { openDatabase, type SqlDatabase } from './engine.ts';
import { explain, trouble } from './errors.ts';
import { formatOf, migrate, newestFormat } from './migrations.ts';
import { inOwnThread, type SqlPort } from './port.ts';

/** The file of records as a file: opened, checked, brought up to date, copied, put aside, replaced. */

export const recordsFile = 'catchbench.db';

/** How long one waits for a lock. Short, because the whole service waits with it. */
export const lockWaitMillis = 250;

/** FULL is set at every open because engines reopen a WAL file with NORMAL. */
const setUp = 'PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON';

export const pathIn = (folder: string): string => join(folder, recordsFile);

export const openPort = (folder: string): Promise<SqlPort> =>
  inOwnThread(pathIn(folder), lockWaitMillis, setUp);

/** For looking alone, beside whoever writes. */
export const openReadingPort = (folder: string): Promise<SqlPort> =>
  inOwnThread(pathIn(folder), lockWaitMillis, 'PRAGMA query_only = ON');

function checkWithin(database: SqlDatabase, folder: string): void {
  const check = database.prepare('PRAGMA quick_check(1)').get() as { quick_check: string };
  if (check.quick_check !== 'ok') throw trouble('damaged', folder);
  if (formatOf(database) > newestFormat) throw trouble('newer', folder);
}

/** Checks the file and brings it up to date, a copy kept of it before each step. */
export function checkFile(folder: string): void {
  const database = openDatabase(pathIn(folder), lockWaitMillis);
  try {
    database.exec(setUp);
    checkWithin(database, folder);
    const isNew = formatOf(database) === 0;
    migrate(database, (format) => {
      if (!isNew) copyInto(database, join(folder, `before-format-${format + 1}.db`));
    });
  } catch (error) {
    throw explain(error, folder);
  } finally {
    database.close();
  }
}

/** A whole copy or none under this name; an older one gives way. */
function copyInto(database: SqlDatabase, path: string): void {
  const part = `${path}.part`;
  rmSync(part, { force: true });
  database.prepare('VACUUM INTO ?').run(part);
  renameSync(part, path);
}

/** A copy of the records made while they are in use, in a thread of its own. */
export async function copyWhileInUse(folder: string, path: string): Promise<void> {
  const part = `${path}.part`;
  try {
    rmSync(part, { force: true });
    const port = await inOwnThread(pathIn(folder), lockWaitMillis, 'PRAGMA query_only = OFF');
    try {
      await port.execute('VACUUM INTO ?', [part]);
    } finally {
      await port.close();
    }
    renameSync(part, path);
  } catch (error) {
    rmSync(part, { force: true });
    throw explain(error, path);
  }
}

const stamp = (): string => new Date().toISOString().replace(/[:.]/g, '-');

/** Moves a damaged file and what belongs to it out of the way, for someone to mend; returns where it is. */
export function putAside(folder: string): string {
  const aside = join(folder, `damaged-${stamp()}.db`);
  for (const part of ['', '-wal', '-shm']) {
    const path = pathIn(folder) + part;
    if (existsSync(path)) renameSync(path, aside + part);
  }
  return aside;
}

/** Counts the backups that were prepared: two at once are two files. */
let prepares = 0;

/** Copies a backup into the folder, checks it and brings it up to date; returns where it is. @throws RecordsError where it is none of ours. */
export function prepareBackup(folder: string, backup: string): string {
  if (!existsSync(backup)) throw trouble('not-ours', backup);
  const prepared = join(folder, `restoring-${++prepares}.db`);
  for (const part of ['', '-wal', '-shm', '-journal']) rmSync(prepared + part, { force: true });
  try {
    copyFileSync(backup, prepared);
    checkBackup(prepared, backup);
    return prepared;
  } catch (error) {
    rmSync(prepared, { force: true });
    const explained = explain(error, folder);
    throw ['damaged', 'failed', 'unreachable'].includes(explained.trouble)
      ? trouble('not-ours', backup, error)
      : explained;
  }
}

function checkBackup(prepared: string, backup: string): void {
  const database = openDatabase(prepared, lockWaitMillis);
  try {
    checkWithin(database, backup);
    const tables = database
      .prepare(`SELECT count(*) AS ours FROM sqlite_schema WHERE name IN ('runs', 'settings')`)
      .get() as { ours: number };
    if (formatOf(database) < 1 || tables.ours !== 2) throw trouble('not-ours', backup);
    migrate(database);
  } finally {
    database.close();
  }
}

/**
 * Puts a prepared file in the place of the records, which must be closed; returns where those are now. At no moment is there no file of records. Where
 * somebody was still reading them, the last changes may be in their log alone: it goes along.
 */
export function replaceFile(folder: string, prepared: string): string {
  const path = pathIn(folder);
  const before = join(folder, `replaced-${stamp()}.db`);
  linkOrCopy(path, before);
  const log = statSync(`${path}-wal`, { throwIfNoEntry: false });
  if (log !== undefined && log.size > 0) renameSync(`${path}-wal`, `${before}-wal`);
  for (const part of ['-wal', '-shm']) rmSync(path + part, { force: true });
  renameSync(prepared, path);
  return before;
}

/** Some file systems know no second name for a file. */
function linkOrCopy(from: string, to: string): void {
  try {
    linkSync(from, to);
  } catch {
    copyFileSync(from, to);
  }
}
