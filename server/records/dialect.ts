import {
  type CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  type Driver,
  type QueryResult,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from 'kysely';
import type { SqlValue } from './engine.ts';
import type { SqlPort } from './port.ts';

const sqlValue = (value: unknown): SqlValue =>
  typeof value === 'boolean' ? Number(value) : value === undefined ? null : (value as SqlValue);

class Connection implements DatabaseConnection {
  readonly #port: SqlPort;

  constructor(port: SqlPort) {
    this.#port = port;
  }

  async executeQuery<Row>({ sql, parameters }: CompiledQuery): Promise<QueryResult<Row>> {
    const { rows, changes } = await this.#port.execute(sql, parameters.map(sqlValue));
    return { rows: rows as Row[], numAffectedRows: BigInt(changes) };
  }

  async *streamQuery<Row>(query: CompiledQuery): AsyncIterableIterator<QueryResult<Row>> {
    yield await this.executeQuery<Row>(query);
  }
}

/** One connection, handed to one user after the other, so that nothing comes between the statements of a transaction. */
class OneConnection implements Driver {
  readonly #port: SqlPort;
  readonly #connection: Connection;
  readonly #queue: (() => void)[] = [];
  #taken = false;

  constructor(port: SqlPort) {
    this.#port = port;
    this.#connection = new Connection(port);
  }

  async init(): Promise<void> {}

  async acquireConnection(): Promise<DatabaseConnection> {
    if (this.#taken) await new Promise<void>((resolve) => this.#queue.push(resolve));
    this.#taken = true;
    return this.#connection;
  }

  async releaseConnection(): Promise<void> {
    const next = this.#queue.shift();
    // Stays taken when it goes straight to the next.
    if (next) next();
    else this.#taken = false;
  }

  async beginTransaction(): Promise<void> {
    await this.#port.execute('BEGIN IMMEDIATE', []);
  }

  async commitTransaction(): Promise<void> {
    await this.#port.execute('COMMIT', []);
  }

  async rollbackTransaction(): Promise<void> {
    // After some failures (a full disk, say) SQLite has rolled back already, and says so with an error of its own.
    await this.#port.execute('ROLLBACK', []).catch(() => {});
  }

  async destroy(): Promise<void> {
    await this.#port.close();
  }
}

/** Kysely over SQLite by either engine, in whichever thread. */
export function sqliteDialect(port: SqlPort): Dialect {
  return {
    createAdapter: () => new SqliteAdapter(),
    createDriver: () => new OneConnection(port),
    createIntrospector: (database) => new SqliteIntrospector(database),
    createQueryCompiler: () => new SqliteQueryCompiler(),
  };
}
