import { inTransaction, type SqlDatabase } from './engine.ts';
import { explain, trouble } from './errors.ts';
import type { JournalEntry, NewRun, Records, RunEnd, RunPage, RunRecord } from './types.ts';

interface RunRow {
  id: string;
  started_at: string;
  ended_at: string | null;
  demo: number;
  plan: string;
  stand: string;
  outcome: RunRecord['outcome'];
  figures: string | null;
  trace: string | null;
  formula_version: number | null;
}

interface JournalRow {
  position: number;
  host_millis: number;
  kind: JournalEntry['kind'];
  text: string;
}

const runOf = (row: RunRow): RunRecord => ({
  id: row.id,
  startedAt: row.started_at,
  endedAt: row.ended_at,
  demo: row.demo === 1,
  plan: JSON.parse(row.plan),
  stand: JSON.parse(row.stand),
  outcome: row.outcome,
  figures: row.figures === null ? null : JSON.parse(row.figures),
  trace: row.trace === null ? null : JSON.parse(row.trace),
  formulaVersion: row.formula_version,
});

const entryOf = (row: JournalRow): JournalEntry => ({
  position: row.position,
  hostMillis: row.host_millis,
  kind: row.kind,
  text: row.text,
});

/**
 * The store over one open database. The engine works at once; the methods are promises all the same, so that a thread of its own
 * can take the work without a change elsewhere.
 */
export class SqliteRecords implements Records {
  readonly folder: string;
  readonly notices: readonly string[];
  readonly #database: SqlDatabase;
  readonly #release: () => void;

  /** `release` is called once the database is closed. */
  constructor(database: SqlDatabase, folder: string, notices: readonly string[], release: () => void) {
    this.#database = database;
    this.folder = folder;
    this.notices = notices;
    this.#release = release;
  }

  async begin(run: NewRun): Promise<void> {
    this.#guarded(() =>
      this.#database
        .prepare(
          `INSERT INTO runs (id, started_at, demo, plan, stand) VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
        )
        .run(run.id, run.startedAt, run.demo ? 1 : 0, JSON.stringify(run.plan), JSON.stringify(run.stand)),
    );
  }

  async append(runId: string, entries: readonly JournalEntry[]): Promise<void> {
    this.#transaction(() => {
      const insert = this.#database.prepare(
        `INSERT INTO journal (run_id, position, host_millis, kind, text) VALUES (?, ?, ?, ?, ?)
         ON CONFLICT DO NOTHING`,
      );
      for (const { position, hostMillis, kind, text } of entries) {
        insert.run(runId, position, hostMillis, kind, text);
      }
    });
  }

  async close(runId: string, end: RunEnd): Promise<void> {
    this.#transaction(() => {
      const { kept } = this.#database
        .prepare('SELECT count(*) AS kept FROM journal WHERE run_id = ?')
        .get(runId) as { kept: number };
      if (kept !== end.entries) throw trouble('incomplete', this.folder);
      this.#database
        .prepare(
          `UPDATE runs SET ended_at = ?, outcome = ?, figures = ?, trace = ?, formula_version = ?
           WHERE id = ? AND ended_at IS NULL`,
        )
        .run(
          end.endedAt,
          end.outcome,
          JSON.stringify(end.figures),
          JSON.stringify(end.trace),
          end.formulaVersion,
          runId,
        );
    });
  }

  async unfinished(): Promise<RunRecord[]> {
    return this.#guarded(() =>
      (this.#database.prepare('SELECT * FROM runs WHERE ended_at IS NULL ORDER BY id').all() as RunRow[]).map(
        runOf,
      ),
    );
  }

  async page(limit: number, before: string | null): Promise<RunPage> {
    const rows = this.#guarded(
      () =>
        this.#database
          .prepare('SELECT * FROM runs WHERE ?1 IS NULL OR id < ?1 ORDER BY id DESC LIMIT ?2')
          .all(before, limit + 1) as RunRow[],
    );
    const runs = rows.slice(0, limit).map(runOf);
    return { runs, next: rows.length > limit ? runs.at(-1)!.id : null };
  }

  async find(runId: string): Promise<RunRecord | null> {
    const row = this.#guarded(() => this.#database.prepare('SELECT * FROM runs WHERE id = ?').get(runId));
    return row === undefined ? null : runOf(row as RunRow);
  }

  async journal(runId: string, position: number, limit: number): Promise<JournalEntry[]> {
    return this.#guarded(() =>
      (
        this.#database
          .prepare('SELECT * FROM journal WHERE run_id = ? AND position >= ? ORDER BY position LIMIT ?')
          .all(runId, position, limit) as JournalRow[]
      ).map(entryOf),
    );
  }

  async setting(key: string): Promise<unknown> {
    const row = this.#guarded(() =>
      this.#database.prepare('SELECT value FROM settings WHERE key = ?').get(key),
    );
    return row === undefined ? null : JSON.parse((row as { value: string }).value);
  }

  async keepSetting(key: string, value: unknown): Promise<void> {
    this.#guarded(() =>
      this.#database
        .prepare(
          'INSERT INTO settings (key, value) VALUES (?, ?) ON CONFLICT DO UPDATE SET value = excluded.value',
        )
        .run(key, JSON.stringify(value)),
    );
  }

  async shut(): Promise<void> {
    try {
      // Statements that the engine has not yet let go of would keep the close from doing this by itself.
      this.#guarded(() => this.#database.exec('PRAGMA wal_checkpoint(TRUNCATE)'));
    } finally {
      this.#guarded(() => this.#database.close());
      this.#release();
    }
  }

  #guarded<T>(task: () => T): T {
    try {
      return task();
    } catch (error) {
      throw explain(error, this.folder);
    }
  }

  #transaction<T>(task: () => T): T {
    return this.#guarded(() => inTransaction(this.#database, task));
  }
}
