import type { Database, Query } from './database.ts';
import type { Edit } from './edits.ts';
import { editOf } from './items.ts';
import { putSetting } from './settings.ts';

/** What has come about here and not reached the share yet. */
export interface OutboxBatch {
  /** Give it to `done` once it has been delivered. */
  upTo: number;
  /** Of which database it was read: after a restore the same numbers stand for other things. */
  generation: number;
  edits: Edit[];
  runIds: string[];
}

export class Outbox {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** Things that wait. */
  async waiting(): Promise<number> {
    const { count } = await this.#database.read((query) =>
      query
        .selectFrom('outbox')
        .select((expression) => expression.fn.countAll<number | string>().as('count'))
        .executeTakeFirstOrThrow(),
    );
    return Number(count);
  }

  /** The oldest things that wait, in their order; null when there is nothing. */
  async next(limit: number): Promise<OutboxBatch | null> {
    const { generation } = this.#database;
    return this.#database.read(async (query) => {
      const rows = await query.selectFrom('outbox').selectAll().orderBy('number').limit(limit).execute();
      const last = rows.at(-1);
      if (last === undefined) return null;
      const idsOf = (what: 'edit' | 'run') => rows.filter((row) => row.what === what).map(({ id }) => id);
      const edits = await query
        .selectFrom('edits')
        .selectAll()
        .where('id', 'in', idsOf('edit'))
        .orderBy('id')
        .execute();
      return { upTo: last.number, generation, edits: edits.map(editOf), runIds: idsOf('run') };
    });
  }

  /** False, and nothing done, where a backup was put in the place of everything since the batch was read. */
  done({ upTo, generation }: OutboxBatch): Promise<boolean> {
    return this.#writeIn(generation, (query) =>
      query.deleteFrom('outbox').where('number', '<=', upTo).execute(),
    );
  }

  /** Which database this is; grows when a backup is put in its place. */
  get generation(): number {
    return this.#database.generation;
  }

  /**
   * Keeps under this key how far the share has been read. That is true of the database alone that all up to there was put into: false, and nothing
   * kept, where it is another by now.
   */
  keepPlace(key: string, place: unknown, generation: number): Promise<boolean> {
    return this.#writeIn(generation, (query) => putSetting(query, key, place));
  }

  #writeIn(generation: number, task: (query: Query) => Promise<unknown>): Promise<boolean> {
    return this.#database.write(async (query) => {
      if (this.#database.generation !== generation) return false;
      await task(query);
      return true;
    });
  }

  /** These came from the share itself. */
  async notNeeded(ids: readonly string[]): Promise<void> {
    await this.#database.read((query) => query.deleteFrom('outbox').where('id', 'in', ids).execute());
  }

  /** Puts everything in again, for a share that has none of it. */
  async refill(): Promise<void> {
    await this.#database.write(async (query) => {
      await query.deleteFrom('outbox').execute();
      await query
        .insertInto('outbox')
        .columns(['what', 'id'])
        .expression((from) =>
          from
            .selectFrom('edits')
            .select((expression) => [expression.val<'edit'>('edit').as('what'), 'id'])
            .orderBy('id'),
        )
        .execute();
      await query
        .insertInto('outbox')
        .columns(['what', 'id'])
        .expression((from) =>
          from
            .selectFrom('runs')
            .select((expression) => [expression.val<'run'>('run').as('what'), 'id'])
            .where('ended_at', 'is not', null)
            .orderBy('id'),
        )
        .execute();
    });
  }
}
