import { CompiledQuery, sql } from 'kysely';
import { packBlock, packProven, unpackBlock } from './block.ts';
import type { Database, Query, SqlEngine } from './database.ts';
import { trouble } from './errors.ts';
import type { BlocksTable } from './tables.ts';
import type { JournalEntry } from './types.ts';

/** Entries of one block once a run is over; the last batch may bring a few more. */
const compactEntries = 2048;
const blocksAtOnce = 100;
const putBlock = (places: string) => `INSERT INTO blocks (run_id, first, entries, body) VALUES (${places})
  ON CONFLICT (run_id, first) DO UPDATE SET entries = excluded.entries, body = excluded.body`;
const putBlockFor: Record<SqlEngine, string> = {
  sqlite: putBlock('?, ?, ?, ?'),
  postgres: putBlock('$1, $2, $3, $4'),
};

/** Up to so many entries a batch is put into the block of the batches before it, which costs one page of disk as much as a new one does. */
const growingEntries = 40;

/** Deflating a few hundred bytes gains little and takes, with a cold cache, half as long as the disk does; it is done when the run is over. */
const deflateFrom = 1024;

/** What is known of a run that is being written: entries on disk, and those of its last block while that still grows. */
interface Writing {
  kept: number;
  growing: readonly JournalEntry[];
}

/**
 * The journals of all runs, in blocks: each batch is on disk at once, in a block with a few others, and when the run is over its blocks are packed
 * anew, many to one, which takes a third of the room.
 */
export class Journals {
  readonly #database: Database;
  readonly #writing = new Map<string, Writing>();

  constructor(database: Database) {
    this.#database = database;
  }

  /** Puts entries on disk, all or none. Those that are there already are left as they are; a gap is refused. */
  async append(runId: string, entries: readonly JournalEntry[]): Promise<void> {
    const before = this.#writing.get(runId) ?? { kept: await this.count(runId), growing: [] };
    const fresh = entries.filter(({ position }) => position >= before.kept);
    if (fresh.length === 0) return;
    if (fresh.some(({ position }, index) => position !== before.kept + index)) {
      throw trouble('incomplete', this.#database.folder);
    }
    const grows = before.growing.length + fresh.length <= growingEntries;
    const growing = grows ? [...before.growing, ...fresh] : fresh;
    await this.#put(runId, growing);
    this.#writing.set(runId, { kept: before.kept + fresh.length, growing });
  }

  async #put(runId: string, entries: readonly JournalEntry[]): Promise<void> {
    // Several times a second: written out, for Kysely would put the same words together each time.
    const values = [runId, entries[0]!.position, entries.length, packBlock(entries, deflateFrom)];
    await this.#database.read((query) =>
      query.executeQuery(CompiledQuery.raw(putBlockFor[this.#database.engine], values)),
    );
  }

  /** Entries on disk of this run. */
  async count(runId: string): Promise<number> {
    return this.#database.read((query) => countEntries(query, runId));
  }

  /** This run is not written any more, or not at present. */
  forget(runId: string): void {
    this.#writing.delete(runId);
  }

  forgetAll(): void {
    this.#writing.clear();
  }

  /** At most `limit` entries from `position` on, in order. */
  async read(runId: string, position: number, limit: number): Promise<JournalEntry[]> {
    const end = position + limit;
    const entries = await this.#wholeBlocks(runId, position, limit);
    return entries.filter((entry) => entry.position < end);
  }

  /** Entries from `position` on, until there are at least `enough`, up to the end of a block. */
  async #wholeBlocks(runId: string, position: number, enough: number): Promise<JournalEntry[]> {
    const read: JournalEntry[] = [];
    for (let at = position; at < position + enough; ) {
      const blocks = await this.#blocksFrom(runId, at);
      for (const block of blocks) {
        if (at >= position + enough) break;
        // A block read again, grown or packed with others since, begins with entries that were read before.
        for (const entry of unpackBlock(block.body, block.first)) if (entry.position >= at) read.push(entry);
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
    const body = packProven(entries);
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
    .select((expression) => expression.fn.sum<number | string | null>('entries').as('kept'))
    .where('run_id', '=', runId)
    .executeTakeFirstOrThrow();
  return Number(kept ?? 0);
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
