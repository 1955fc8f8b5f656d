import type { Transaction } from 'kysely';
import { checkedFields } from './check.ts';
import type { Database, Query } from './database.ts';
import { type Edit, type EditClock, type FieldChange, fold, historyOf } from './edits.ts';
import { FieldError, trouble } from './errors.ts';
import { editOf, editRow, itemOf, itemRow, referencesIn } from './items.ts';
import { type Kind, namesOf } from './model.ts';
import { listItems } from './search.ts';
import type { Tables } from './tables.ts';
import type { FindQuery, Item, Page } from './types.ts';

/** Everything that is made of edits. */
export class ItemStore {
  readonly #database: Database;
  readonly #clock: EditClock;
  readonly #place: string;

  /** `place`: what this computer's edits are marked with. */
  constructor(database: Database, clock: EditClock, place: string) {
    this.#database = database;
    this.#clock = clock;
    this.#place = place;
  }

  newEdit(
    kind: Kind,
    itemId: string,
    changes: Edit['changes'],
    by: string,
    at = new Date().toISOString(),
  ): Edit {
    return { id: this.#clock.next(), kind, itemId, changes, by, place: this.#place, at };
  }

  /** Changes fields that need no check, within a transaction. @throws RecordsError `unknown`. */
  async change(
    query: Transaction<Tables>,
    kind: Kind,
    id: string,
    changes: Edit['changes'],
    by: string,
  ): Promise<void> {
    const known = await this.#known(query, kind, id);
    await this.apply(query, [this.#editAfter(known, changes, by)], '');
  }

  /** An edit by someone who saw what `known` make of the item. */
  #editAfter(known: readonly Edit[], changes: Edit['changes'], by: string): Edit {
    const { kind, itemId } = known[0]!;
    return { ...this.newEdit(kind, itemId, changes, by), id: this.#clock.nextAfter(known) };
  }

  async create<K extends Kind>(kind: K, fields: unknown, by: string): Promise<Item<K>> {
    const checked = checkedFields(kind, fields);
    const edit = this.newEdit(kind, this.#clock.next(), { ...checked }, by);
    await this.#database.write(async (query) => {
      await this.#checkReferences(query, kind, edit.changes);
      await this.applyFirst(query, edit, '');
    });
    return (await this.find(kind, edit.itemId))!;
  }

  async update<K extends Kind>(
    kind: K,
    id: string,
    changes: Record<string, unknown>,
    by: string,
  ): Promise<Item<K>> {
    await this.#database.write(async (query) => {
      const known = await this.#known(query, kind, id);
      const { fields } = fold(known);
      const checked = checkedFields(kind, { ...fields, ...changes }) as Record<string, unknown>;
      // What stays as it is is no change: someone else may be changing it.
      const real = Object.keys(changes).filter(
        (field) => JSON.stringify(checked[field]) !== JSON.stringify(fields[field]),
      );
      if (real.length === 0) return;
      const changed = Object.fromEntries(real.map((field) => [field, checked[field]]));
      await this.#checkReferences(query, kind, changed);
      await this.apply(query, [this.#editAfter(known, changed, by)], '');
    });
    return (await this.find(kind, id))!;
  }

  /** Deletes it, or brings it back where `deletedAt` is null. */
  async markDeleted(kind: Kind, id: string, deletedAt: string | null, by: string): Promise<void> {
    await this.#database.write(async (query) => {
      const known = await this.#known(query, kind, id);
      if ((fold(known).deletedAt === null) === (deletedAt === null)) return;
      await this.apply(query, [this.#editAfter(known, { deletedAt }, by)], '');
    });
  }

  /** All edits of this item, at least one. */
  async #known(query: Query, kind: Kind, id: string): Promise<Edit[]> {
    const edits = (await editsOf(query, id)).filter((edit) => edit.kind === kind);
    if (edits.length === 0) throw trouble('unknown', this.#database.folder);
    return edits;
  }

  /** @throws FieldError where a field names something that is not there. */
  async #checkReferences(query: Query, kind: Kind, changes: Record<string, unknown>): Promise<void> {
    for (const { id, kind: wanted, field } of referencesIn(kind, changes)) {
      const row = await query
        .selectFrom('items')
        .select(['kind', 'deleted_at'])
        .where('id', '=', id)
        .executeTakeFirst();
      if (row === undefined || row.deleted_at !== null || (wanted !== null && row.kind !== wanted)) {
        const what = wanted === null ? 'What this is about' : `The ${namesOf[wanted]} that is named`;
        throw new FieldError(`/${field}`, `${what} is not on record.`);
      }
    }
  }

  /** Adds edits of one item and makes its row anew. Returns how many were new. `label` counts where the item is new. */
  async apply(query: Transaction<Tables>, edits: readonly Edit[], label: string): Promise<number> {
    const { numInsertedOrUpdatedRows = 0n } = await query
      .insertInto('edits')
      .values(edits.map(editRow))
      .onConflict((conflict) => conflict.doNothing())
      .executeTakeFirst();
    if (numInsertedOrUpdatedRows === 0n) return 0;
    for (const edit of edits) this.#clock.met(edit.id);
    const { itemId } = edits[0]!;
    const known = await query.selectFrom('items').select('label').where('id', '=', itemId).executeTakeFirst();
    const row = itemRow(await editsOf(query, itemId), known?.label ?? label);
    await query
      .insertInto('items')
      .values(row)
      .onConflict((conflict) => conflict.column('id').doUpdateSet(row))
      .execute();
    return Number(numInsertedOrUpdatedRows);
  }

  /** The same for an item that nobody has seen yet, its first edit: it need not be looked up. */
  async applyFirst(query: Transaction<Tables>, edit: Edit, label: string): Promise<void> {
    await query.insertInto('edits').values(editRow(edit)).execute();
    await query
      .insertInto('items')
      .values(itemRow([edit], label))
      .execute();
  }

  async find<K extends Kind>(kind: K, id: string): Promise<Item<K> | null> {
    const row = await this.#database.read((query) =>
      query.selectFrom('items').selectAll().where('id', '=', id).where('kind', '=', kind).executeTakeFirst(),
    );
    return row === undefined ? null : (itemOf(row) as Item<K>);
  }

  async list<K extends Kind>(kind: K, wish: FindQuery = {}): Promise<Page<Item<K>>> {
    const { rows, next } = await this.#database.read((query) =>
      listItems(query, this.#database.engine, kind, wish),
    );
    return { items: rows.map(itemOf) as Item<K>[], next };
  }

  edits(id: string): Promise<Edit[]> {
    return this.#database.read((query) => editsOf(query, id));
  }

  async history(id: string): Promise<FieldChange[]> {
    return historyOf(await this.edits(id));
  }
}

/** All edits of an item, oldest first. */
export async function editsOf(query: Query, id: string): Promise<Edit[]> {
  const rows = await query.selectFrom('edits').selectAll().where('item_id', '=', id).orderBy('id').execute();
  return rows.map(editOf);
}
