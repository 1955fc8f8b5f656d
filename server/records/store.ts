import { existsSync, rmSync } from 'node:fs';
import { hostname } from 'node:os';
import { Database } from './database.ts';
import { sqliteDialect } from './dialect.ts';
import { type Edit, EditClock } from './edits.ts';
import { trouble } from './errors.ts';
import { ItemStore } from './item-store.ts';
import { Journals } from './journal.ts';
import { mergeEdits } from './merge.ts';
import { inTurn } from './named.ts';
import { Outbox } from './outbox.ts';
import type { SqlPort } from './port.ts';
import { purge } from './purge.ts';
import { RunStore, runOf, unfinishedRuns } from './run-store.ts';
import { putSetting, settingOf } from './settings.ts';
import { Runs, shelfOf } from './shelves.ts';
import type {
  FinishedRun,
  JournalEntry,
  NewRun,
  RunEnd,
  RunPage,
  RunRecord,
  Store,
  StoredRun,
} from './types.ts';

export interface StoreSurroundings {
  folder: string;
  notices: readonly string[];
  /** Called once the database is closed. */
  release: () => void;
  /** Copies the database to a new file while this one goes on. */
  copy: (path: string) => Promise<void>;
  /** Takes a copy of a backup into the folder and brings it up to date; returns where it is. */
  prepare: (path: string) => string;
  /** Puts a prepared file in the place of the database; returns where the one before is. */
  replace: (prepared: string) => Promise<string>;
}

/** The store over one open database, by whichever engine. */
export class RecordsStore implements Store {
  readonly folder: string;
  readonly notices: readonly string[];
  readonly drills: Store['drills'];
  readonly configurations: Store['configurations'];
  readonly lots: Store['lots'];
  readonly mixes: Store['mixes'];
  readonly calibrations: Store['calibrations'];
  readonly stands: Store['stands'];
  readonly standChecks: Store['standChecks'];
  readonly scaleChecks: Store['scaleChecks'];
  readonly fieldChecks: Store['fieldChecks'];
  readonly notes: Store['notes'];
  readonly runs: Runs;
  readonly outbox: Outbox;
  readonly #around: StoreSurroundings;
  readonly #database: Database;
  readonly #items: ItemStore;
  readonly #journals: Journals;
  readonly #runStore: RunStore;
  /** What is done when there is time for it: packing, throwing away. Never rejects. */
  #chores: Promise<unknown> = Promise.resolve();
  #shutting = false;
  /** Who copies the file and who changes it for another wait for each other. */
  readonly #files = {};

  constructor(database: Database, around: StoreSurroundings) {
    this.#around = around;
    this.folder = around.folder;
    this.notices = around.notices;
    this.#database = database;
    const items = new ItemStore(this.#database, new EditClock(), hostname());
    this.#items = items;
    this.#journals = new Journals(this.#database);
    this.#runStore = new RunStore(this.#database, this.#journals, items);
    this.drills = shelfOf('drill', items);
    this.configurations = shelfOf('configuration', items);
    this.lots = shelfOf('lot', items);
    this.mixes = shelfOf('mix', items);
    this.calibrations = shelfOf('calibration', items);
    this.stands = shelfOf('stand', items);
    this.standChecks = shelfOf('stand-check', items);
    this.scaleChecks = shelfOf('scale-check', items);
    this.fieldChecks = shelfOf('field-check', items);
    this.notes = shelfOf('note', items);
    this.outbox = new Outbox(this.#database);
    this.runs = new Runs(items, this.#runStore, around.folder);
  }

  /** Takes up what an earlier program left to do. */
  tidy(): void {
    this.#chore(() => purge(this.#database));
    this.#chore(async () => {
      for (const id of await this.#runStore.toCompact()) this.#chore(() => this.#compact(id));
    });
  }

  async begin(run: NewRun): Promise<void> {
    await this.#runStore.begin(run);
  }

  append(runId: string, entries: readonly JournalEntry[]): Promise<void> {
    return this.#runStore.append(runId, entries);
  }

  async close(runId: string, end: RunEnd): Promise<void> {
    await this.#runStore.close(runId, end);
    this.#chore(() => this.#compact(runId));
  }

  /** Puts a run that was made elsewhere on record, whole. */
  addFinished(run: FinishedRun): Promise<void> {
    return this.#runStore.addFinished(run);
  }

  unfinished(): Promise<RunRecord[]> {
    return this.#runStore.unfinished();
  }

  async page(limit: number, before: string | null): Promise<RunPage> {
    const rows = await this.#database.read((query) => {
      const wanted = query
        .selectFrom('runs')
        .innerJoin('items', 'items.id', 'runs.id')
        .select('runs.id')
        .where('items.deleted_at', 'is', null)
        .orderBy('runs.id', 'desc')
        .limit(limit + 1);
      return (before === null ? wanted : wanted.where('runs.id', '<', before)).execute();
    });
    const ids = rows.slice(0, limit).map(({ id }) => id);
    const found = await this.#runStore.rows(ids);
    // Between the two questions one may have gone for good.
    const runs = ids.flatMap((id) => found.get(id) ?? []).map(runOf);
    return { runs, next: rows.length > limit ? ids.at(-1)! : null };
  }

  find(runId: string): Promise<StoredRun | null> {
    return this.runs.find(runId);
  }

  journal(runId: string, position: number, limit: number): Promise<JournalEntry[]> {
    return this.#journals.read(runId, position, limit);
  }

  setting(key: string): Promise<unknown> {
    return this.#database.read((query) => settingOf(query, key));
  }

  keepSetting(key: string, value: unknown): Promise<void> {
    return this.#database.read((query) => putSetting(query, key, value));
  }

  edits(itemId: string): Promise<Edit[]> {
    return this.#items.edits(itemId);
  }

  merge(edits: readonly Edit[]): Promise<number> {
    return mergeEdits(this.#database, this.#items, edits);
  }

  async settled(): Promise<void> {
    for (let seen: Promise<unknown> | null = null; seen !== this.#chores; ) {
      seen = this.#chores;
      await seen;
    }
  }

  async backup(path: string): Promise<void> {
    if (existsSync(path)) throw trouble('exists', path);
    await inTurn(this.#files, () => this.#around.copy(path));
  }

  async examine(path: string): Promise<void> {
    rmSync(this.#around.prepare(path));
  }

  async restore(path: string): Promise<string> {
    const prepared = this.#around.prepare(path);
    try {
      await this.settled();
      return await inTurn(this.#files, () => this.#replaceBy(prepared));
    } finally {
      rmSync(prepared, { force: true });
    }
  }

  /** No run begins between the look whether one is under way and the exchange of the files. */
  async #replaceBy(prepared: string): Promise<string> {
    const before = await this.#database.exchange(async (query) => {
      if ((await unfinishedRuns(query)).length > 0) throw trouble('busy', this.folder);
      await this.#database.checkpoint(query);
      return this.#around.replace(prepared);
    });
    this.#journals.forgetAll();
    this.tidy();
    return before;
  }

  async shut(): Promise<void> {
    this.#shutting = true;
    await this.settled();
    try {
      await this.#database.close();
    } finally {
      this.#around.release();
    }
  }

  #compact(runId: string): Promise<void> {
    return this.#journals.compact(runId);
  }

  /** What a chore cannot do now, a full disk being the usual reason, is found again at the next start. */
  #chore(task: () => Promise<unknown>): void {
    this.#chores = this.#chores.then(() => (this.#shutting ? undefined : task())).catch(() => {});
  }
}

/** The store over a file of SQLite. */
export class SqliteStore extends RecordsStore {
  constructor(port: SqlPort, around: StoreSurroundings) {
    super(new Database(sqliteDialect(port), 'sqlite', around.folder), around);
  }
}
