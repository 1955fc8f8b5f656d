import type { Generated, Kysely } from 'kysely';
import { sql } from 'kysely';

/** The tables of a share: what several stands have put together. */
export interface ShareTables {
  share: { id: string; format: number };
  log: LogTable;
  edits: SharedEditsTable;
  runs: { id: string; body: string };
  blocks: { run_id: string; first: number; entries: number; body: Uint8Array };
}

/** Everything in the order in which it came in: stands read on from where they were. */
export interface LogTable {
  number: Generated<number>;
  what: 'edit' | 'run';
  id: string;
}

export interface SharedEditsTable {
  id: string;
  kind: string;
  item_id: string;
  changes: string;
  made_by: string;
  place: string;
  made_at: string;
}

export type ShareEngine = 'postgres' | 'sqlite';

/** 2: stands, which an older Catchbench would not know what to do with. */
export const shareFormat = 2;

const schema = 'catchbench';

const typesOf = {
  postgres: { number: 'BIGSERIAL PRIMARY KEY', bytes: 'BYTEA' },
  sqlite: { number: 'INTEGER PRIMARY KEY AUTOINCREMENT', bytes: 'BLOB' },
};

const tables = ({ number, bytes }: (typeof typesOf)['postgres']): string[] => [
  `CREATE TABLE IF NOT EXISTS share (id TEXT PRIMARY KEY, format INTEGER NOT NULL)`,
  `CREATE TABLE IF NOT EXISTS log (number ${number}, what TEXT NOT NULL, id TEXT NOT NULL, UNIQUE (what, id))`,
  `CREATE TABLE IF NOT EXISTS edits (
     id TEXT PRIMARY KEY, kind TEXT NOT NULL, item_id TEXT NOT NULL, changes TEXT NOT NULL,
     made_by TEXT NOT NULL, place TEXT NOT NULL, made_at TEXT NOT NULL
   )`,
  `CREATE INDEX IF NOT EXISTS edits_of_item ON edits (item_id)`,
  `CREATE TABLE IF NOT EXISTS runs (id TEXT PRIMARY KEY, body TEXT NOT NULL)`,
  `CREATE TABLE IF NOT EXISTS blocks (
     run_id TEXT NOT NULL REFERENCES runs (id), first INTEGER NOT NULL, entries INTEGER NOT NULL, body ${bytes} NOT NULL,
     PRIMARY KEY (run_id, first)
   )`,
];

/** One at a time: numbers of the log are then handed out in the order in which they become visible, and nobody reads past one. */
export async function takeTurn(query: Kysely<ShareTables>, engine: ShareEngine): Promise<void> {
  // The number is arbitrary; it only has to be the same for all.
  if (engine === 'postgres') await sql`SELECT pg_advisory_xact_lock(715517)`.execute(query);
}

/** Makes the tables where they are missing. In PostgreSQL they lie in a schema of their own. */
export async function makeTables(
  query: Kysely<ShareTables>,
  engine: ShareEngine,
  newId: string,
): Promise<void> {
  await takeTurn(query, engine);
  if (engine === 'postgres') {
    await sql.raw(`CREATE SCHEMA IF NOT EXISTS ${schema}`).execute(query);
    await sql.raw(`SET LOCAL search_path TO ${schema}`).execute(query);
  }
  for (const table of tables(typesOf[engine])) await sql.raw(table).execute(query);
  const known = await query.selectFrom('share').select('id').executeTakeFirst();
  if (known === undefined)
    await query.insertInto('share').values({ id: newId, format: shareFormat }).execute();
  // The tables are the same; what may lie in them is more.
  else
    await query.updateTable('share').set({ format: shareFormat }).where('format', '<', shareFormat).execute();
}

/** Where every connection to PostgreSQL finds these tables. */
export const searchPath = `-c search_path=${schema}`;
