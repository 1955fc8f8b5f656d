import type { Kysely } from 'kysely';
import { v7 } from 'uuid';
import { unpackBlock } from '../block.ts';
import type { Edit } from '../edits.ts';
import type { ExportedRun } from '../export-schema.ts';
import { editOf, editRow } from '../items.ts';
import { blocksOf } from '../journal.ts';
import type { EditsTable } from '../tables.ts';
import type { JournalEntry } from '../types.ts';
import { makeTables, type ShareEngine, type ShareTables, shareFormat, takeTurn } from './share-tables.ts';

/** A run as it lies in a share: what an export says of it, the journal apart. */
export interface SharedRun {
  run: Omit<ExportedRun, 'journal'>;
  journal: JournalEntry[];
}

/** What a stand hands in at one go. */
export interface Delivery {
  edits: Edit[];
  runs: SharedRun[];
}

export interface News {
  /** Items of which there are new edits, and new runs. */
  itemIds: string[];
  runIds: string[];
  /** Where to read on, and the thing that stands there. */
  cursor: number;
  last: string | null;
}

/** The share is of a newer edition of Catchbench. */
export class ShareFormatError extends Error {
  override name = 'ShareFormatError';
}

/** A database that several stands share, by whichever engine. Rejects with the engine's errors. */
export class ShareStore {
  readonly #kysely: Kysely<ShareTables>;
  readonly #engine: ShareEngine;

  constructor(kysely: Kysely<ShareTables>, engine: ShareEngine) {
    this.#kysely = kysely;
    this.#engine = engine;
  }

  /** Makes the tables where they are missing; returns the share's own id and the newest number of its log. */
  async open(): Promise<{ id: string; newest: number }> {
    await this.#kysely.transaction().execute((query) => makeTables(query, this.#engine, v7()));
    const { id, format } = await this.#kysely.selectFrom('share').selectAll().executeTakeFirstOrThrow();
    if (format > shareFormat)
      throw new ShareFormatError('The share was made by a newer Catchbench. Use the newer one here too.');
    const last = await this.#kysely
      .selectFrom('log')
      .select((expression) => expression.fn.max('number').as('number'))
      .executeTakeFirst();
    return { id, newest: Number(last?.number ?? 0) };
  }

  /** Puts a delivery in, all of it or nothing; what is there already stays as it is. */
  async deliver({ edits, runs }: Delivery): Promise<void> {
    await this.#kysely.transaction().execute(async (query) => {
      await takeTurn(query, this.#engine);
      if (edits.length > 0) {
        await query
          .insertInto('edits')
          .values(edits.map(editRow))
          .onConflict((on) => on.doNothing())
          .execute();
        await this.#log(
          query,
          'edit',
          edits.map(({ id }) => id),
        );
      }
      for (const { run, journal } of runs) {
        const row = { id: run.id, body: JSON.stringify(run) };
        await query
          .insertInto('runs')
          .values(row)
          .onConflict((on) => on.doNothing())
          .execute();
        for (const block of blocksOf(run.id, journal)) {
          const body = Buffer.from(block.body);
          await query
            .insertInto('blocks')
            .values({ ...block, body })
            .onConflict((on) => on.doNothing())
            .execute();
        }
        await this.#log(query, 'run', [run.id]);
      }
    });
  }

  async #log(query: Kysely<ShareTables>, what: 'edit' | 'run', ids: readonly string[]): Promise<void> {
    const rows = ids.map((id) => ({ what, id }));
    await query
      .insertInto('log')
      .values(rows)
      .onConflict((on) => on.doNothing())
      .execute();
  }

  /** What came in after `cursor`, at most `limit` things. */
  async news(cursor: number, limit: number): Promise<News> {
    const rows = await this.#kysely
      .selectFrom('log')
      .leftJoin('edits', (join) => join.onRef('edits.id', '=', 'log.id').on('log.what', '=', 'edit'))
      .select(['log.number', 'log.what', 'log.id', 'edits.item_id'])
      .where('log.number', '>', cursor)
      .orderBy('log.number')
      .limit(limit)
      .execute();
    const itemIds = rows.flatMap(({ item_id }) => (item_id === null ? [] : [item_id]));
    const runIds = rows.filter(({ what }) => what === 'run').map(({ id }) => id);
    const newest = rows.at(-1);
    return {
      itemIds: [...new Set(itemIds)],
      runIds,
      cursor: Number(newest?.number ?? cursor),
      last: newest?.id ?? null,
    };
  }

  /** The thing that stands at this number of the log; null where there is none. */
  async thingAt(number: number): Promise<string | null> {
    const row = await this.#kysely
      .selectFrom('log')
      .select('id')
      .where('number', '=', number)
      .executeTakeFirst();
    return row?.id ?? null;
  }

  /** All edits of these items. */
  async editsOf(itemIds: readonly string[]): Promise<Edit[]> {
    if (itemIds.length === 0) return [];
    const rows = await this.#kysely
      .selectFrom('edits')
      .selectAll()
      .where('item_id', 'in', itemIds)
      .orderBy('id')
      .execute();
    return rows.map((row) => editOf(row as EditsTable));
  }

  async run(id: string): Promise<SharedRun | null> {
    const row = await this.#kysely.selectFrom('runs').select('body').where('id', '=', id).executeTakeFirst();
    if (row === undefined) return null;
    const blocks = await this.#kysely
      .selectFrom('blocks')
      .select(['first', 'body'])
      .where('run_id', '=', id)
      .orderBy('first')
      .execute();
    const journal = blocks.flatMap(({ first, body }) => unpackBlock(body, Number(first)));
    return { run: JSON.parse(row.body), journal };
  }

  /** Everything in it, for comparison: ids of edits and runs. */
  async ids(): Promise<{ edits: string[]; runs: string[] }> {
    const edits = await this.#kysely.selectFrom('edits').select('id').orderBy('id').execute();
    const runs = await this.#kysely.selectFrom('runs').select('id').orderBy('id').execute();
    return { edits: edits.map(({ id }) => id), runs: runs.map(({ id }) => id) };
  }

  close(): Promise<void> {
    return this.#kysely.destroy();
  }
}
