import { accessSync, constants, existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { openDatabase } from './engine.ts';
import { explain, RecordsError, trouble } from './errors.ts';
import {
  checkFile,
  copyWhileInUse,
  lockWaitMillis,
  openPort,
  openReadingPort,
  pathIn,
  prepareBackup,
  putAside,
  replaceFile,
} from './file.ts';
import { newestFormat } from './migrations.ts';
import { ChangeablePort } from './port.ts';
import { SqliteStore, type StoreSurroundings } from './store.ts';

export { recordsFile } from './file.ts';

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

/**
 * Opens the records in `folder`, which is made where it is missing. A damaged file is put aside, never deleted, and a new one begun:
 * `notices` then says so. Rejects with a RecordsError: read-only, full, locked by another process, written by a newer edition.
 */
export async function openRecords(folder: string): Promise<SqliteStore> {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK);
    const release = lockFolder(folder);
    try {
      const notices: string[] = [];
      checkOrReplace(folder, notices);
      const port = new ChangeablePort(await openPort(folder));
      const store = new SqliteStore(port, surroundings(folder, notices, release, port));
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

function surroundings(
  folder: string,
  notices: string[],
  release: () => void,
  port: ChangeablePort,
): StoreSurroundings {
  return {
    folder,
    notices,
    release,
    copy: (path) => copyWhileInUse(folder, path),
    prepare: (path) => prepareBackup(folder, path),
    async replace(prepared) {
      let before = '';
      const task = () => {
        before = replaceFile(folder, prepared);
      };
      await port.change(task, () => openPort(folder));
      return before;
    },
  };
}

/** Opens the records for looking alone, beside a Catchbench that writes them. What would change them is refused by SQLite. */
export async function openForReading(folder: string): Promise<SqliteStore> {
  try {
    if (!existsSync(pathIn(folder))) throw trouble('unreachable', folder);
    const port = new ChangeablePort(await openReadingPort(folder));
    const { rows } = await port.execute('PRAGMA user_version', []);
    const { user_version: format } = rows[0] as { user_version: number };
    if (format !== newestFormat) {
      await port.close();
      throw trouble(format > newestFormat ? 'newer' : 'older', folder);
    }
    return new SqliteStore(
      port,
      surroundings(folder, [], () => {}, port),
    );
  } catch (error) {
    throw explain(error, folder);
  }
}

function checkOrReplace(folder: string, notices: string[]): void {
  try {
    checkFile(folder);
  } catch (error) {
    if (!(error instanceof RecordsError) || error.trouble !== 'damaged') throw error;
    const aside = putAside(folder);
    notices.push(
      `The file of records was damaged. It was kept as ${aside}, and a new one was begun; runs from before are only in the old file.`,
    );
    checkFile(folder);
  }
}
