import { createRequire } from 'node:module';

/** The part of Node's `DatabaseSync` that the store uses; both engines have it. */
export interface SqlDatabase {
  exec(sql: string): void;
  prepare(sql: string): SqlStatement;
  close(): void;
}

export type SqlValue = string | number | null | Uint8Array;

export interface SqlStatement {
  run(...values: SqlValue[]): { changes: number | bigint };
  get(...values: SqlValue[]): unknown;
  all(...values: SqlValue[]): unknown[];
  columns(): unknown[];
}

interface Engine {
  DatabaseSync: new (path: string, options: { timeout: number; readOnly?: boolean }) => SqlDatabase;
}

const require = createRequire(import.meta.url);

/** Node's own SQLite where it stands without a warning (24 and later), elsewhere a package with the same interface: where to load it from. */
export function enginePath(): string {
  const major = Number(process.versions.node.split('.')[0]);
  return major >= 24 ? 'node:sqlite' : require.resolve('@photostructure/sqlite');
}

let engine: Engine | undefined;

/** Opens one SQLite file. Waits `waitMillis` for a lock held by someone else; throws the engine's error. */
export function openDatabase(path: string, waitMillis: number, readOnly = false): SqlDatabase {
  engine ??= require(enginePath()) as Engine;
  return new engine.DatabaseSync(path, { timeout: waitMillis, readOnly });
}

/** Runs `task` in one transaction: all of it or nothing. */
export function inTransaction<T>(database: SqlDatabase, task: () => T): T {
  database.exec('BEGIN IMMEDIATE');
  try {
    const result = task();
    database.exec('COMMIT');
    return result;
  } catch (error) {
    rollBack(database);
    throw error;
  }
}

/** After some failures (a full disk, say) SQLite has rolled back already, and says so with an error of its own. */
function rollBack(database: SqlDatabase): void {
  try {
    database.exec('ROLLBACK');
  } catch {
    // nothing left to roll back
  }
}
