import { accessSync, constants, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { openDatabase, type SqlDatabase } from './engine.ts';
import { explain, RecordsError, trouble } from './errors.ts';
import { formatOf, migrate, newestFormat } from './migrations.ts';
import { inOwnThread } from './port.ts';
import { SqliteStore } from './store.ts';
import type { Store } from './types.ts';

export const recordsFile = 'catchbench.db';

/** How long one waits for a lock. Short, because the whole service waits with it. */
const lockWaitMillis = 250;

/**
 * Takes this folder for this process until the returned function is called or the process ends, however it ends: the system drops the
 * lock. It is a file of its own so that other programs may read the records meanwhile.
 */
function lockFolder(folder: string): () => void {
  const lock = openDatabase(join(folder, 'catchbench.lock'), lockWaitMillis);
  try {
    lock.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    lock.close();
    throw error;
  }
  return () => lock.close();
}

/** FULL is set at every open because engines reopen a WAL file with NORMAL. */
const setUp = 'PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON';

/** Checks the file and brings it up to date, a copy kept of it before each step. */
function checkFile(folder: string): void {
  const database = openDatabase(join(folder, recordsFile), lockWaitMillis);
  try {
    database.exec(setUp);
    const check = database.prepare('PRAGMA quick_check(1)').get() as { quick_check: string };
    if (check.quick_check !== 'ok') throw trouble('damaged', folder);
    if (formatOf(database) > newestFormat) throw trouble('newer', folder);
    migrate(database, (format) => {
      if (format > 0) copyInto(database, join(folder, `before-format-${format + 1}.db`));
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
async function copyWhileInUse(folder: string, path: string): Promise<void> {
  const part = `${path}.part`;
  try {
    rmSync(part, { force: true });
    const port = await inOwnThread(join(folder, recordsFile), lockWaitMillis, 'PRAGMA query_only = OFF');
    try {
      await port.execute('VACUUM INTO ?', [part]);
    } finally {
      await port.close();
    }
    renameSync(part, path);
  } catch (error) {
    rmSync(part, { force: true });
    throw explain(error, dirname(path));
  }
}

/** Moves a damaged file and what belongs to it out of the way, for someone to mend; returns the sentence that says so. */
function putAside(folder: string): string {
  const stamp = new Date().toISOString().replace(/[:.]/g, '-');
  const aside = join(folder, `damaged-${stamp}.db`);
  for (const part of ['', '-wal', '-shm']) {
    const path = join(folder, recordsFile + part);
    if (existsSync(path)) renameSync(path, aside + part);
  }
  return `The file of records was damaged. It was kept as ${aside}, and a new one was begun; runs from before are only in the old file.`;
}

/**
 * Opens the records in `folder`, which is made where it is missing. A damaged file is put aside, never deleted, and a new one begun:
 * `notices` then says so. Rejects with a RecordsError: read-only, full, locked by another process, written by a newer edition.
 */
export async function openRecords(folder: string): Promise<Store> {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK);
    const release = lockFolder(folder);
    try {
      const notices: string[] = [];
      checkOrReplace(folder, notices);
      const port = await inOwnThread(join(folder, recordsFile), lockWaitMillis, setUp);
      const copy = (path: string) => copyWhileInUse(folder, path);
      const store = new SqliteStore(port, { folder, notices, release, copy });
      store.tidy();
      return store;
    } catch (error) {
      release();
      throw error;
    }
  } catch (error) {
    throw explain(error, folder);
  }
}

function checkOrReplace(folder: string, notices: string[]): void {
  try {
    checkFile(folder);
  } catch (error) {
    if (!(error instanceof RecordsError) || error.trouble !== 'damaged') throw error;
    notices.push(putAside(folder));
    checkFile(folder);
  }
}
