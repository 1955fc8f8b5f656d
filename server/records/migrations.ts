import { inTransaction, type SqlDatabase } from './engine.ts';
import { packOldJournal } from './migrate-journal.ts';

/** One step: SQL, or SQL and what only a program can do. */
type Step = (database: SqlDatabase) => void;

const sql =
  (text: string): Step =>
  (database) =>
    database.exec(text);

/**
 * An index of the words of some items, kept by triggers. Runs have one of their own: they are many and seldom looked for by words, and would make
 * every other search slow.
 */
const wordsOf = (table: string, which: string): string => `
  CREATE VIRTUAL TABLE ${table} USING fts5 (
    search, content='items', content_rowid='number', tokenize='unicode61 remove_diacritics 2', prefix='2 3'
  );
  CREATE TRIGGER ${table}_added AFTER INSERT ON items WHEN new.${which} BEGIN
    INSERT INTO ${table} (rowid, search) VALUES (new.number, new.search);
  END;
  CREATE TRIGGER ${table}_gone AFTER DELETE ON items WHEN old.${which} BEGIN
    INSERT INTO ${table} (${table}, rowid, search) VALUES ('delete', old.number, old.search);
  END;
  CREATE TRIGGER ${table}_changed AFTER UPDATE OF search ON items WHEN new.${which} AND old.search <> new.search BEGIN
    INSERT INTO ${table} (${table}, rowid, search) VALUES ('delete', old.number, old.search);
    INSERT INTO ${table} (rowid, search) VALUES (new.number, new.search);
  END;`;

/**
 * The steps from an empty file to today's tables. `user_version` of the file counts the steps taken. Steps are added at the end
 * and never changed: files out there have taken them.
 */
const steps: readonly Step[] = [
  sql(`CREATE TABLE runs (
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
   ) STRICT;`),
  (database) => {
    database.exec(`
      ALTER TABLE runs ADD COLUMN source TEXT NOT NULL DEFAULT 'stand';
      ALTER TABLE runs ADD COLUMN hand TEXT;
      ALTER TABLE runs ADD COLUMN compact INTEGER NOT NULL DEFAULT 0;
      ALTER TABLE runs ADD COLUMN chart BLOB;
      CREATE INDEX runs_to_compact ON runs (id) WHERE compact = 0 AND ended_at IS NOT NULL;
      CREATE TABLE blocks (
        run_id  TEXT NOT NULL REFERENCES runs (id),
        first   INTEGER NOT NULL,
        entries INTEGER NOT NULL,
        body    BLOB NOT NULL,
        PRIMARY KEY (run_id, first)
      ) STRICT, WITHOUT ROWID;
      CREATE TABLE edits (
        id      TEXT PRIMARY KEY,
        kind    TEXT NOT NULL,
        item_id TEXT NOT NULL,
        changes TEXT NOT NULL,
        made_by TEXT NOT NULL,
        place   TEXT NOT NULL,
        made_at TEXT NOT NULL
      ) STRICT, WITHOUT ROWID;
      CREATE INDEX edits_of_item ON edits (item_id);
      CREATE TABLE items (
        number         INTEGER PRIMARY KEY,
        id             TEXT NOT NULL UNIQUE,
        kind           TEXT NOT NULL,
        created_at     TEXT NOT NULL,
        changed_at     TEXT NOT NULL,
        deleted_at     TEXT,
        happened_at    TEXT NOT NULL,
        drill_id       TEXT,
        mix_id         TEXT,
        calibration_id TEXT,
        about_id       TEXT,
        label          TEXT NOT NULL,
        fields         TEXT NOT NULL,
        search         TEXT NOT NULL
      ) STRICT;
      CREATE INDEX items_by_time ON items (kind, happened_at, id) WHERE deleted_at IS NULL;
      CREATE INDEX items_by_drill ON items (drill_id, kind, happened_at, id) WHERE drill_id IS NOT NULL;
      CREATE INDEX items_by_mix ON items (mix_id, kind, happened_at, id) WHERE mix_id IS NOT NULL;
      CREATE INDEX items_by_calibration ON items (calibration_id, kind, happened_at, id) WHERE calibration_id IS NOT NULL;
      CREATE INDEX items_by_subject ON items (about_id, happened_at, id) WHERE about_id IS NOT NULL;
      CREATE INDEX items_deleted ON items (deleted_at) WHERE deleted_at IS NOT NULL;`);
    database.exec(wordsOf('words', "kind <> 'run'"));
    database.exec(wordsOf('run_words', "kind = 'run'"));
    packOldJournal(database);
    database.exec('ALTER TABLE runs DROP COLUMN trace; DROP TABLE journal');
  },
  sql(`CREATE TABLE outbox (
     number INTEGER PRIMARY KEY AUTOINCREMENT,
     what   TEXT NOT NULL,
     id     TEXT NOT NULL,
     UNIQUE (what, id)
   ) STRICT;
   CREATE TRIGGER outbox_edit AFTER INSERT ON edits BEGIN
     INSERT OR IGNORE INTO outbox (what, id) VALUES ('edit', new.id);
   END;
   CREATE TRIGGER outbox_run_ended AFTER UPDATE OF ended_at ON runs WHEN old.ended_at IS NULL AND new.ended_at IS NOT NULL BEGIN
     INSERT OR IGNORE INTO outbox (what, id) VALUES ('run', new.id);
   END;
   CREATE TRIGGER outbox_run_added AFTER INSERT ON runs WHEN new.ended_at IS NOT NULL BEGIN
     INSERT OR IGNORE INTO outbox (what, id) VALUES ('run', new.id);
   END;
   INSERT INTO outbox (what, id) SELECT 'edit', id FROM edits ORDER BY id;
   INSERT INTO outbox (what, id) SELECT 'run', id FROM runs WHERE ended_at IS NOT NULL ORDER BY id;`),
  sql(`ALTER TABLE items ADD COLUMN stand_id TEXT;
   CREATE INDEX items_by_stand ON items (stand_id, kind, happened_at, id) WHERE stand_id IS NOT NULL;`),
];

/** How many steps a file of this edition has taken. */
export const newestFormat = steps.length;

/** Steps that this file has taken. */
export function formatOf(database: SqlDatabase): number {
  return (database.prepare('PRAGMA user_version').get() as { user_version: number }).user_version;
}

/**
 * Takes the steps that this file has not taken yet, each whole or not at all; `before` is called ahead of each. The file must not be newer than
 * `newestFormat`.
 */
export function migrate(database: SqlDatabase, before: (format: number) => void = () => {}): void {
  for (let format = formatOf(database); format < newestFormat; format++) {
    before(format);
    inTransaction(database, () => {
      steps[format]!(database);
      database.exec(`PRAGMA user_version = ${format + 1}`);
    });
  }
}
