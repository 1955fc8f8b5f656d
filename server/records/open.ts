import { accessSync, constants, existsSync, mkdirSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { openDatabase, type SqlDatabase } from './engine.ts';
import { explain, RecordsError, trouble } from './errors.ts';
import { formatOf, migrate, newestFormat } from './migrations.ts';
import { SqliteRecords } from './store.ts';
import type { Records } from './types.ts';

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

/** Opens, checks and brings up to date. FULL is set at every open because engines reopen a WAL file with NORMAL. */
function openChecked(folder: string): SqlDatabase {
  const database = openDatabase(join(folder, recordsFile), lockWaitMillis);
  try {
    database.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON');
    const check = database.prepare('PRAGMA quick_check(1)').get() as { quick_check: string };
    if (check.quick_check !== 'ok') throw trouble('damaged', folder);
    if (formatOf(database) > newestFormat) throw trouble('newer', folder);
    migrate(database);
    return database;
  } catch (error) {
    database.close();
    throw explain(error, folder);
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
export async function openRecords(folder: string): Promise<Records> {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK);
    const release = lockFolder(folder);
    try {
      const notices: string[] = [];
      const database = openOrReplace(folder, notices);
      return new SqliteRecords(database, folder, notices, release);
    } catch (error) {
      release();
      throw error;
    }
  } catch (error) {
    throw explain(error, folder);
  }
}

function openOrReplace(folder: string, notices: string[]): SqlDatabase {
  try {
    return openChecked(folder);
  } catch (error) {
    if (!(error instanceof RecordsError) || error.trouble !== 'damaged') throw error;
    notices.push(putAside(folder));
    return openChecked(folder);
  }
}
