import { type Dialect, Kysely, sql, type Transaction } from 'kysely';
import { explain, FieldError } from './errors.ts';
import type { Tables } from './tables.ts';

export type Query = Kysely<Tables> | Transaction<Tables>;

/** What a statement must be written for where the two do not agree. */
export type SqlEngine = 'sqlite' | 'postgres';

/** Any number, as long as all who write to one database take the same. */
const writersTurn = 715_518;

/** The open database, by whichever engine: every failure of it becomes a RecordsError with a sentence. */
export class Database {
  /** Where it is, for sentences. */
  readonly folder: string;
  readonly engine: SqlEngine;
  readonly #kysely: Kysely<Tables>;
  #generation = 0;

  constructor(dialect: Dialect, engine: SqlEngine, folder: string) {
    this.folder = folder;
    this.engine = engine;
    this.#kysely = new Kysely<Tables>({ dialect });
  }

  async read<T>(task: (query: Query) => Promise<T>): Promise<T> {
    try {
      return await task(this.#kysely);
    } catch (error) {
      throw error instanceof FieldError ? error : explain(error, this.folder);
    }
  }

  /** One statement that writes needs no more than `read`; several are all done or none. */
  write<T>(task: (query: Transaction<Tables>) => Promise<T>): Promise<T> {
    return this.read(() =>
      this.#kysely.transaction().execute(async (query) => {
        // What is read in it still holds when it writes: SQLite lets one writer in at a time by itself.
        if (this.engine === 'postgres')
          await sql`SELECT pg_advisory_xact_lock(${writersTurn})`.execute(query);
        return task(query);
      }),
    );
  }

  /** Grows with each time that the whole database was changed for another: what was read of the one before does not hold in this one. */
  get generation(): number {
    return this.#generation;
  }

  /** Runs `task`, which changes the whole database for another, while nobody else gets at it. */
  exchange<T>(task: (query: Query) => Promise<T>): Promise<T> {
    return this.read(() =>
      this.#kysely.connection().execute(async (query) => {
        const result = await task(query);
        this.#generation++;
        return result;
      }),
    );
  }

  /** Brings all that was committed from the log into the file itself; on a full disk, or while somebody reads, it is left undone. */
  async checkpoint(query: Query = this.#kysely): Promise<void> {
    if (this.engine !== 'sqlite') return;
    await sql`PRAGMA wal_checkpoint(TRUNCATE)`.execute(query).catch(() => {});
  }

  async close(): Promise<void> {
    // Statements that the engine has not yet let go of would keep the close from doing this by itself.
    await this.checkpoint();
    await this.read(() => this.#kysely.destroy());
  }
}
