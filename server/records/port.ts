import { Worker } from 'node:worker_threads';
import { enginePath, type SqlDatabase, type SqlStatement, type SqlValue } from './engine.ts';

export interface SqlResult {
  rows: unknown[];
  changes: number;
}

/** An open database, one statement at a time. Rejects with the engine's error, of which `code` and `errcode` are kept. */
export interface SqlPort {
  execute(sql: string, values: readonly SqlValue[]): Promise<SqlResult>;
  close(): Promise<void>;
}

/** Statements kept prepared: the store has a few dozen, searches vary a little. */
const mostPrepared = 200;

/** A port whose database can be changed for another while it is in use. */
export class ChangeablePort implements SqlPort {
  #port: SqlPort;

  constructor(port: SqlPort) {
    this.#port = port;
  }

  execute(sql: string, values: readonly SqlValue[]): Promise<SqlResult> {
    return this.#port.execute(sql, values);
  }

  close(): Promise<void> {
    return this.#port.close();
  }

  /** Closes the one, calls `task`, and goes on with what `open` opens, whether or not the task succeeded. */
  async change(task: () => void, open: () => Promise<SqlPort>): Promise<void> {
    await this.#port.close();
    try {
      task();
    } finally {
      this.#port = await open();
    }
  }
}

/** The database in this very thread: while it writes, all else waits. For tools and tests. */
export function inThisThread(database: SqlDatabase): SqlPort {
  const prepared = new Map<string, SqlStatement>();
  const prepare = (sql: string): SqlStatement => {
    const statement = prepared.get(sql) ?? database.prepare(sql);
    if (prepared.size >= mostPrepared) prepared.clear();
    prepared.set(sql, statement);
    return statement;
  };
  return {
    async execute(sql, values) {
      const statement = prepare(sql);
      if (statement.columns().length > 0) return { rows: statement.all(...values), changes: 0 };
      return { rows: [], changes: Number(statement.run(...values).changes) };
    },
    async close() {
      prepared.clear();
      database.close();
    },
  };
}

/** What runs in the other thread: the same as above, in plain JavaScript, so that it needs no file of its own in any build. */
const threadProgram = `
const { parentPort, workerData } = require('node:worker_threads');
const { DatabaseSync } = require(workerData.engine);
const database = new DatabaseSync(workerData.path, { timeout: workerData.waitMillis });
const prepared = new Map();
const tasks = {
  set: ({ sql }) => (database.exec(sql), { rows: [], changes: 0 }),
  execute({ sql, values }) {
    const statement = prepared.get(sql) ?? database.prepare(sql);
    if (prepared.size >= ${mostPrepared}) prepared.clear();
    prepared.set(sql, statement);
    if (statement.columns().length > 0) return { rows: statement.all(...values), changes: 0 };
    return { rows: [], changes: Number(statement.run(...values).changes) };
  },
  close: () => (prepared.clear(), database.close(), { rows: [], changes: 0 }),
};
parentPort.on('message', (request) => {
  let answer;
  try {
    answer = tasks[request.task](request);
  } catch ({ message, code, errcode }) {
    answer = { failure: { message, code, errcode } };
  }
  parentPort.postMessage(answer);
});
`;

interface Waiting {
  resolve: (result: SqlResult) => void;
  reject: (error: Error) => void;
}

/**
 * The database in a thread of its own: a commit may wait for the disk while the rest of the service goes on. `setUp` is run once at opening.
 * Requests are answered in the order in which they were made.
 */
export async function inOwnThread(path: string, waitMillis: number, setUp: string): Promise<SqlPort> {
  const workerData = { engine: enginePath(), path, waitMillis };
  const worker = new Worker(threadProgram, { eval: true, workerData });
  const waiting: Waiting[] = [];
  let ended: Error | null = null;
  const fail = (error: Error): void => {
    ended ??= error;
    for (const each of waiting.splice(0)) each.reject(ended);
  };
  worker.on('message', ({ failure, ...result }) => {
    const { resolve, reject } = waiting.shift()!;
    // Idle, it keeps no program from ending.
    if (waiting.length === 0) worker.unref();
    if (failure) reject(Object.assign(new Error(failure.message), failure));
    else resolve(result as SqlResult);
  });
  worker.on('error', fail);
  worker.on('exit', () => fail(new Error('The records are closed.')));
  const ask = (request: { task: 'set' | 'execute' | 'close'; sql?: string; values?: readonly SqlValue[] }) =>
    new Promise<SqlResult>((resolve, reject) => {
      if (ended !== null) return reject(ended);
      waiting.push({ resolve, reject });
      worker.ref();
      worker.postMessage(request);
    });
  await ask({ task: 'set', sql: setUp });
  return {
    execute: (sql, values) => ask({ task: 'execute', sql, values }),
    async close() {
      await ask({ task: 'close' });
      await worker.terminate();
    },
  };
}
