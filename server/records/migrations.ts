import { inTransaction, type SqlDatabase } from './engine.ts';

/**
 * The steps from an empty file to today's tables. `user_version` of the file counts the steps taken. Steps are added at the end
 * and never changed: files out there have taken them.
 */
const steps: readonly string[] = [
  `CREATE TABLE runs (
     id              TEXT PRIMARY KEY,
     started_at      TEXT NOT NULL,
     ended_at        TEXT,
     demo            INTEGER NOT NULL,
     plan            TEXT NOT NULL,
     stand           TEXT NOT NULL,
     outcome         TEXT,
     figures         TEXT,
     trace           TEXT,
     formula_version INTEGER
   ) STRICT;
   CREATE INDEX runs_unfinished ON runs (id) WHERE ended_at IS NULL;
   CREATE TABLE journal (
     run_id      TEXT NOT NULL REFERENCES runs (id),
     position    INTEGER NOT NULL,
     host_millis REAL NOT NULL,
     kind        TEXT NOT NULL,
     text        TEXT NOT NULL,
     PRIMARY KEY (run_id, position)
   ) STRICT, WITHOUT ROWID;
   CREATE TABLE settings (
     key   TEXT PRIMARY KEY,
     value TEXT NOT NULL
   ) STRICT;`,
];

/** How many steps a file of this edition has taken. */
export const newestFormat = steps.length;

/** Steps that this file has taken. */
export function formatOf(database: SqlDatabase): number {
  return (database.prepare('PRAGMA user_version').get() as { user_version: number }).user_version;
}

/** Takes the steps that this file has not taken yet, each whole or not at all. The file must not be newer than `newestFormat`. */
export function migrate(database: SqlDatabase): void {
  for (let format = formatOf(database); format < newestFormat; format++) {
    inTransaction(database, () => {
      database.exec(steps[format]!);
      database.exec(`PRAGMA user_version = ${format + 1}`);
    });
  }
}
