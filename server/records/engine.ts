import { createRequire } from 'node:module';

/** The part of Node's `DatabaseSync` that the store uses; both engines have it. */
export interface SqlDatabase {
  exec(sql: string): void;
  prepare(sql: string): SqlStatement;
  close(): void;
}

export type SqlValue = string | number | null;

export interface SqlStatement {
  run(...values: SqlValue[]): { changes: number | bigint };
  get(...values: SqlValue[]): unknown;
  all(...values: SqlValue[]): unknown[];
}

interface Engine {
  DatabaseSync: new (path: string, options: { timeout: number }) => SqlDatabase;
}

const require = createRequire(import.meta.url);

/** Node's own SQLite where it stands without a warning (24 and later), elsewhere a package with the same interface. */
function loadEngine(): Engine {
  const major = Number(process.versions.node.split('.')[0]);
  return require(major >= 24 ? 'node:sqlite' : '@photostructure/sqlite');
}

let engine: Engine | undefined;

/** Opens one SQLite file. Waits `waitMillis` for a lock held by someone else; throws the engine's error. */
export function openDatabase(path: string, waitMillis: number): SqlDatabase {
  engine ??= loadEngine();
  return new engine.DatabaseSync(path, { timeout: waitMillis });
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
