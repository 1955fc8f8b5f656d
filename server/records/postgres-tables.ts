import { type Kysely, sql } from 'kysely';
import type { Tables } from './tables.ts';

/**
 * The tables of `migrations.ts` as PostgreSQL has them. Texts are compared byte by byte, as SQLite does it: ids and moments sort by time then,
 * whatever the language of the server. What SQLite does by triggers for its index of words and for the outbox has no counterpart here.
 */

const text = 'TEXT COLLATE "C"';

const tables = [
  `CREATE TABLE IF NOT EXISTS runs (
     id ${text} PRIMARY KEY, started_at ${text} NOT NULL, ended_at ${text}, demo INTEGER NOT NULL, plan TEXT NOT NULL,
     stand TEXT NOT NULL, outcome TEXT, figures TEXT, formula_version INTEGER, source TEXT NOT NULL DEFAULT 'stand',
     hand TEXT, compact INTEGER NOT NULL DEFAULT 0, chart BYTEA
   )`,
  'CREATE INDEX IF NOT EXISTS runs_unfinished ON runs (id) WHERE ended_at IS NULL',
  `CREATE TABLE IF NOT EXISTS blocks (
     run_id ${text} NOT NULL REFERENCES runs (id), first INTEGER NOT NULL, entries INTEGER NOT NULL, body BYTEA NOT NULL,
     PRIMARY KEY (run_id, first)
   )`,
  'CREATE TABLE IF NOT EXISTS settings (key TEXT PRIMARY KEY, value TEXT NOT NULL)',
  `CREATE TABLE IF NOT EXISTS edits (
     id ${text} PRIMARY KEY, kind TEXT NOT NULL, item_id ${text} NOT NULL, changes TEXT NOT NULL, made_by TEXT NOT NULL,
     place TEXT NOT NULL, made_at TEXT NOT NULL
   )`,
  'CREATE INDEX IF NOT EXISTS edits_of_item ON edits (item_id)',
  `CREATE TABLE IF NOT EXISTS items (
     number BIGSERIAL PRIMARY KEY, id ${text} NOT NULL UNIQUE, kind TEXT NOT NULL, created_at ${text} NOT NULL,
     changed_at ${text} NOT NULL, deleted_at ${text}, happened_at ${text} NOT NULL, drill_id ${text}, mix_id ${text},
     calibration_id ${text}, about_id ${text}, stand_id ${text}, label TEXT NOT NULL, fields TEXT NOT NULL, search TEXT NOT NULL
   )`,
  'CREATE INDEX IF NOT EXISTS items_by_time ON items (kind, happened_at, id) WHERE deleted_at IS NULL',
  ...['drill', 'mix', 'calibration', 'about', 'stand'].map(
    (what) =>
      `CREATE INDEX IF NOT EXISTS items_by_${what} ON items (${what}_id, kind, happened_at, id) WHERE ${what}_id IS NOT NULL`,
  ),
  'CREATE INDEX IF NOT EXISTS items_deleted ON items (deleted_at) WHERE deleted_at IS NOT NULL',
  'CREATE TABLE IF NOT EXISTS outbox (number BIGSERIAL PRIMARY KEY, what TEXT NOT NULL, id TEXT NOT NULL, UNIQUE (what, id))',
];

/** Where they lie: a schema of their own, beside that of a share. */
export const recordsSchema = 'catchbench_records';

/** Makes the tables where they are missing; two who do so at once take turns. */
export async function makeRecordsTables(kysely: Kysely<Tables>): Promise<void> {
  await kysely.transaction().execute(async (query) => {
    await sql`SELECT pg_advisory_xact_lock(715519)`.execute(query);
    await sql.raw(`CREATE SCHEMA IF NOT EXISTS ${recordsSchema}`).execute(query);
    await sql.raw(`SET LOCAL search_path TO ${recordsSchema}`).execute(query);
    for (const table of tables) await sql.raw(table).execute(query);
  });
}
