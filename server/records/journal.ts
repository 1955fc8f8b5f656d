import { sql } from 'kysely';
import { packBlock, unpackBlock } from './block.ts';
import type { Database, Query } from './database.ts';
import { trouble } from './errors.ts';
import type { BlocksTable } from './tables.ts';
import type { JournalEntry } from './types.ts';

/** Entries of one block once a run is over; the last batch may bring a few more. */
const compactEntries = 2048;
const blocksAtOnce = 100;

/**
 * The journals of all runs, in blocks: each batch is a block of its own at once, and when the run is over its blocks are packed anew, many
 * batches to a block, which takes a third of the room.
 */
export class Journals {
  readonly #database: Database;
  /** Entries on disk of the runs that are being written. */
  readonly #kept = new Map<string, number>();

  constructor(database: Database) {
    this.#database = database;
  }

  /** Puts entries on disk, all or none. Those that are there already are left as they are; a gap is refused. */
  async append(runId: string, entries: readonly JournalEntry[]): Promise<void> {
    const kept = this.#kept.get(runId) ?? (await this.count(runId));
    const fresh = entries.filter(({ position }) => position >= kept);
    if (fresh.length > 0) await this.#insert(runId, fresh, kept);
    this.#kept.set(runId, kept + fresh.length);
  }

  async #insert(runId: string, fresh: JournalEntry[], kept: number): Promise<void> {
    if (fresh.some(({ position }, index) => position !== kept + index)) {
      throw trouble('incomplete', this.#database.folder);
    }
    const row = { run_id: runId, first: kept, entries: fresh.length, body: packBlock(fresh) };
    await this.#database.read((query) => query.insertInto('blocks').values(row).execute());
  }

  /** Entries on disk of this run. */
  async count(runId: string): Promise<number> {
    return this.#database.read((query) => countEntries(query, runId));
  }

  /** This run is not written any more, or not at present. */
  forget(runId: string): void {
    this.#kept.delete(runId);
  }

  forgetAll(): void {
    this.#kept.clear();
  }

  /** At most `limit` entries from `position` on, in order. */
  async read(runId: string, position: number, limit: number): Promise<JournalEntry[]> {
    const end = position + limit;
    const entries = await this.#wholeBlocks(runId, position, limit);
    return entries.filter((entry) => entry.position >= position && entry.position < end);
  }

  /** All entries of the blocks that hold `position` and what follows it, until there are at least `enough` from there on. */
  async #wholeBlocks(runId: string, position: number, enough: number): Promise<JournalEntry[]> {
    const read: JournalEntry[] = [];
    for (let at = position; at < position + enough; ) {
      const blocks = await this.#blocksFrom(runId, at);
      for (const block of blocks) {
        if (at >= position + enough) break;
        for (const entry of unpackBlock(block.body, block.first)) read.push(entry);
        at = block.first + block.entries;
      }
      if (blocks.length === 0) break;
    }
    return read;
  }

  /** Some blocks in order, from the one that holds `position` on; none beyond the end. */
  #blocksFrom(runId: string, position: number) {
    return this.#database.read((query) =>
      query
        .selectFrom('blocks')
        .select(['first', 'entries', 'body'])
        .where('run_id', '=', runId)
        .where('first', '>=', (expression) =>
          expression
            .selectFrom('blocks as holder')
            .select(sql<number>`max(holder.first)`.as('first'))
            .where('holder.run_id', '=', runId)
            .where('holder.first', '<=', position),
        )
        .where(sql<number>`first + entries`, '>', position)
        .orderBy('first')
        .limit(blocksAtOnce)
        .execute(),
    );
  }

  /** Packs the journal of a run that is over into as few blocks as may be, a part at a time, each part whole or not at all. */
  async compact(runId: string): Promise<void> {
    this.forget(runId);
    for (let position = 0; ; ) {
      const entries = await this.#wholeBlocks(runId, position, compactEntries);
      if (entries.length === 0) break;
      await this.#replace(runId, position, entries);
      position += entries.length;
    }
    await this.#database.read((query) =>
      query.updateTable('runs').set({ compact: 1 }).where('id', '=', runId).execute(),
    );
  }

  async #replace(runId: string, first: number, entries: JournalEntry[]): Promise<void> {
    const body = packBlock(entries);
    await this.#database.write(async (query) => {
      await query
        .deleteFrom('blocks')
        .where('run_id', '=', runId)
        .where('first', '>=', first)
        .where('first', '<', first + entries.length)
        .execute();
      await query
        .insertInto('blocks')
        .values({ run_id: runId, first, entries: entries.length, body })
        .execute();
    });
  }
}

export async function countEntries(query: Query, runId: string): Promise<number> {
  const { kept } = await query
    .selectFrom('blocks')
    .select((expression) => expression.fn.sum<number | null>('entries').as('kept'))
    .where('run_id', '=', runId)
    .executeTakeFirstOrThrow();
  return kept ?? 0;
}

/** A whole journal as rows. */
export function blocksOf(runId: string, journal: readonly JournalEntry[]): BlocksTable[] {
  const rows: BlocksTable[] = [];
  for (let first = 0; first < journal.length; first += compactEntries) {
    const entries = journal.slice(first, first + compactEntries);
    rows.push({ run_id: runId, first, entries: entries.length, body: packBlock(entries) });
  }
  return rows;
}
