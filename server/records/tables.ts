import type { Generated } from 'kysely';
import type { Kind } from './model.ts';
import type { JournalEntry } from './types.ts';

/** The tables of `migrations.ts`, as Kysely wants to know them. Groups of values are JSON. */
export interface Tables {
  runs: RunsTable;
  blocks: BlocksTable;
  items: ItemsTable;
  edits: EditsTable;
  outbox: OutboxTable;
  settings: { key: string; value: string };
}

/** What a run was and gave; never changed once it has an end. */
export interface RunsTable {
  id: string;
  started_at: string;
  ended_at: string | null;
  demo: number;
  plan: string;
  stand: string;
  outcome: string | null;
  figures: string | null;
  /** The run's chart, packed by `chart.ts`. */
  chart: Uint8Array | null;
  formula_version: number | null;
  source: Generated<'stand' | 'hand'>;
  hand: string | null;
  /** 1 once its readings are in as few blocks as may be. */
  compact: Generated<number>;
}

/** A run's journal: entries `first` to `first + entries - 1`, packed by `block.ts`. */
export interface BlocksTable {
  run_id: string;
  first: number;
  entries: number;
  body: Uint8Array;
}

/** The present state of everything that has edits, made from these alone, with what one looks for it by. */
export interface ItemsTable {
  number: Generated<number>;
  id: string;
  kind: Kind;
  created_at: string;
  changed_at: string;
  deleted_at: string | null;
  /** When it took place: what lists are ordered by. */
  happened_at: string;
  drill_id: string | null;
  mix_id: string | null;
  calibration_id: string | null;
  about_id: string | null;
  stand_id: string | null;
  /** Words that belong to it without being fields: the names in a run's plan. */
  label: string;
  fields: string;
  search: string;
}

export interface EditsTable {
  id: string;
  kind: Kind;
  item_id: string;
  changes: string;
  made_by: string;
  place: string;
  made_at: string;
}

/** What a share has not got yet, in the order in which it came about; filled by triggers. */
export interface OutboxTable {
  number: Generated<number>;
  what: 'edit' | 'run';
  id: string;
}

/** A row of the journal as it was before format 2. */
export interface OldJournalRow {
  run_id: string;
  position: number;
  host_millis: number;
  kind: JournalEntry['kind'];
  text: string;
}
