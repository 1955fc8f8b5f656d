import { Kysely, sql, type Transaction } from 'kysely';
import { sqliteDialect } from './dialect.ts';
import { explain, FieldError } from './errors.ts';
import type { SqlPort } from './port.ts';
import type { Tables } from './tables.ts';

export type Query = Kysely<Tables> | Transaction<Tables>;

/** The open database: every failure of it becomes a RecordsError with a sentence. */
export class Database {
  readonly folder: string;
  readonly #kysely: Kysely<Tables>;

  constructor(port: SqlPort, folder: string) {
    this.folder = folder;
    this.#kysely = new Kysely<Tables>({ dialect: sqliteDialect(port) });
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
    return this.read(() => this.#kysely.transaction().execute(task));
  }

  /** Runs `task` while nobody else gets at the database. */
  alone<T>(task: () => Promise<T>): Promise<T> {
    return this.read(() => this.#kysely.connection().execute(task));
  }

  /** Brings all that was committed from the log into the file itself; on a full disk it is left undone. */
  async checkpoint(): Promise<void> {
    await sql`PRAGMA wal_checkpoint(TRUNCATE)`.execute(this.#kysely).catch(() => {});
  }

  async close(): Promise<void> {
    // Statements that the engine has not yet let go of would keep the close from doing this by itself.
    await this.checkpoint();
    await this.read(() => this.#kysely.destroy());
  }
}
