import { FieldError, trouble } from './errors.ts';
import type { ItemStore } from './item-store.ts';
import type { Fields, Kind } from './model.ts';
import type { RunStore } from './run-store.ts';
import { runOf } from './run-store.ts';
import type { FindQuery, HandRun, Item, Page, RunShelf, Shelf, StoredRun } from './types.ts';

const now = (): string => new Date().toISOString();

export function shelfOf<K extends Kind>(kind: K, items: ItemStore): Shelf<K> {
  return {
    create: (fields, by = '') => items.create(kind, fields, by),
    update: (id, changes, by = '') => items.update(kind, id, changes, by),
    find: (id) => items.find(kind, id),
    list: (query) => items.list(kind, query),
    remove: (id, by = '') => items.markDeleted(kind, id, now(), by),
    bringBack: (id, by = '') => items.markDeleted(kind, id, null, by),
    history: (id) => items.history(id),
  };
}

function storedRun(row: Parameters<typeof runOf>[0], item: Item<'run'>): StoredRun {
  const { changedAt, deletedAt, fields } = item;
  return { ...runOf(row), ...fields, changedAt, deletedAt };
}

/** Runs as people see them. */
export class Runs implements RunShelf {
  readonly #items: ItemStore;
  readonly #runs: RunStore;
  readonly #folder: string;

  constructor(items: ItemStore, runs: RunStore, folder: string) {
    this.#items = items;
    this.#runs = runs;
    this.#folder = folder;
  }

  async find(id: string): Promise<StoredRun | null> {
    const [row, item] = [await this.#runs.row(id), await this.#items.find('run', id)];
    return row && item && storedRun(row, item);
  }

  async list(query: FindQuery = {}): Promise<Page<StoredRun>> {
    const { items, next } = await this.#items.list('run', query);
    const rows = await this.#runs.rows(items.map(({ id }) => id));
    // Between the two questions one may have gone for good.
    const found = items.flatMap((item) => {
      const row = rows.get(item.id);
      return row === undefined ? [] : [storedRun(row, item)];
    });
    return { items: found, next };
  }

  async update(id: string, changes: Partial<Fields<'run'>>, by = ''): Promise<StoredRun> {
    await this.#items.update('run', id, changes, by);
    return this.#found(id);
  }

  async setAside(id: string, why: string, by = ''): Promise<StoredRun> {
    if (why.trim() === '') throw new FieldError('/why', 'Say why this run shall not count.');
    return this.update(id, { setAside: { why, by, at: now() } }, by);
  }

  count(id: string, by = ''): Promise<StoredRun> {
    return this.update(id, { setAside: null }, by);
  }

  async addByHand(run: HandRun, by = ''): Promise<StoredRun> {
    const { turns, grams, gramsDoubt } = run.hand;
    if (!(turns > 0 && turns < 1e6)) throw new FieldError('/hand/turns', 'The turns must be more than 0.');
    if (!(Math.abs(grams) < 1e7)) throw new FieldError('/hand/grams', 'The catch must be a number of grams.');
    if (!(gramsDoubt >= 0)) throw new FieldError('/hand/gramsDoubt', 'The doubt must not be below 0.');
    await this.#runs.addByHand(run, by);
    return this.#found(run.id);
  }

  remove(id: string, by = ''): Promise<void> {
    return this.#items.markDeleted('run', id, now(), by);
  }

  bringBack(id: string, by = ''): Promise<void> {
    return this.#items.markDeleted('run', id, null, by);
  }

  history(id: string) {
    return this.#items.history(id);
  }

  async #found(id: string): Promise<StoredRun> {
    const run = await this.find(id);
    if (run === null) throw trouble('unknown', this.#folder);
    return run;
  }
}
