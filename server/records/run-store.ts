import type { Selectable, Transaction } from 'kysely';
import { packChart, unpackChart } from './chart.ts';
import type { Database, Query } from './database.ts';
import { trouble } from './errors.ts';
import type { ItemStore } from './item-store.ts';
import { blocksOf, countEntries, type Journals } from './journal.ts';
import { firstRunFields, runLabel, setAsideByTrace } from './run-fields.ts';
import type { RunsTable, Tables } from './tables.ts';
import type {
  FinishedRun,
  HandCatch,
  HandRun,
  JournalEntry,
  NewRun,
  RunEnd,
  RunRecord,
  StoredRun,
} from './types.ts';

/** The columns of a run in a list: without its chart. */
const shortColumns = [
  'runs.id',
  'started_at',
  'ended_at',
  'demo',
  'plan',
  'stand',
  'outcome',
  'figures',
  'formula_version',
  'source',
  'hand',
] as const;

type ShortRow = Omit<Selectable<RunsTable>, 'chart' | 'compact'> & { chart?: Uint8Array | null };

const jsonOf = <T>(text: string | null | undefined): T | null => (text ? JSON.parse(text) : null);

export function runOf(row: ShortRow): RunRecord & Pick<StoredRun, 'source' | 'hand'> {
  return {
    id: row.id,
    startedAt: row.started_at,
    endedAt: row.ended_at,
    demo: row.demo === 1,
    plan: JSON.parse(row.plan),
    stand: JSON.parse(row.stand),
    outcome: row.outcome as RunRecord['outcome'],
    figures: jsonOf(row.figures),
    trace: row.chart ? unpackChart(row.chart) : null,
    formulaVersion: row.formula_version,
    source: row.source,
    hand: jsonOf(row.hand),
  };
}

/** What a run by hand has for a stand. */
const noStand = { name: '', firmware: '', boot: 0, pulsesPerTurn: 0, cells: [] };

const startRow = (run: NewRun, source: StoredRun['source'], hand: HandCatch | null) => ({
  id: run.id,
  started_at: run.startedAt,
  demo: run.demo ? 1 : 0,
  plan: JSON.stringify(run.plan),
  stand: JSON.stringify(run.stand),
  source,
  hand: hand && JSON.stringify(hand),
});

const endRow = (end: RunEnd) => ({
  ended_at: end.endedAt,
  outcome: end.outcome,
  figures: JSON.stringify(end.figures),
  chart: packChart(end.trace),
  formula_version: end.formulaVersion,
});

const labelOf = ({ plan }: NewRun): string => runLabel(plan.drill.name, plan.seed.name);

/** Runs as they are made: their beginning, their readings, their end. */
export class RunStore {
  readonly #database: Database;
  readonly #journals: Journals;
  readonly #items: ItemStore;

  constructor(database: Database, journals: Journals, items: ItemStore) {
    this.#database = database;
    this.#journals = journals;
    this.#items = items;
  }

  /** Puts the beginning of a run on record; a second time it does nothing. */
  async begin(run: NewRun): Promise<void> {
    await this.#database.write((query) => this.#begin(query, run, 'stand', null, ''));
  }

  /** True where the run was not on record yet. */
  async #begin(
    query: Transaction<Tables>,
    run: NewRun,
    source: StoredRun['source'],
    hand: HandCatch | null,
    by: string,
  ): Promise<boolean> {
    const { calibrationId = null, settingNumber } = run;
    const given = { calibrationId, ...(settingNumber === undefined ? {} : { settingNumber }) };
    const fields = firstRunFields(run.plan.drill.setting, given);
    const { numInsertedOrUpdatedRows } = await query
      .insertInto('runs')
      .values(startRow(run, source, hand))
      .onConflict((conflict) => conflict.doNothing())
      .executeTakeFirst();
    if (numInsertedOrUpdatedRows === 0n) return false;
    const edit = this.#items.newEdit('run', run.id, { ...fields }, by, run.startedAt);
    await this.#items.applyFirst(query, edit, labelOf(run));
    return true;
  }

  /** Puts a whole run on record at once, or nothing of it. Its id must be new. */
  async addFinished({ run, source, hand, journal, end, edits }: FinishedRun): Promise<void> {
    await this.#database.write(async (query) => {
      const row = { ...startRow(run, source, hand), ...endRow(end), compact: 1 };
      await query.insertInto('runs').values(row).execute();
      for (const block of blocksOf(run.id, journal)) await query.insertInto('blocks').values(block).execute();
      await this.#items.apply(query, edits, labelOf(run));
    });
  }

  async append(runId: string, entries: readonly JournalEntry[]): Promise<void> {
    await this.#journals.append(runId, entries);
  }

  /** Gives a run its end once all its readings are on disk; where it has one already, that stays. A run that its trace calls spoilt ends set aside. */
  async close(runId: string, end: RunEnd): Promise<void> {
    await this.#database.write(async (query) => {
      if ((await countEntries(query, runId)) !== end.entries) {
        throw trouble('incomplete', this.#database.folder);
      }
      const { numUpdatedRows } = await query
        .updateTable('runs')
        .set(endRow(end))
        .where('id', '=', runId)
        .where('ended_at', 'is', null)
        .executeTakeFirst();
      const setAside = setAsideByTrace(end);
      if (numUpdatedRows === 0n || setAside === null) return;
      await this.#items.change(query, 'run', runId, { setAside }, setAside.by);
    });
    this.#journals.forget(runId);
  }

  /** Beginning and end in one: a catch weighed by hand has no time in which it is under way. */
  async addByHand({ hand, figures, formulaVersion, ...run }: HandRun, by: string): Promise<void> {
    const outcome = figures.outcome ?? 'complete';
    const end = { endedAt: run.startedAt, outcome, figures, trace: [], formulaVersion, entries: 0 };
    await this.#database.write(async (query) => {
      const isNew = await this.#begin(query, { ...run, stand: noStand }, 'hand', hand, by);
      if (isNew) await query.updateTable('runs').set(endRow(end)).where('id', '=', run.id).execute();
    });
  }

  /** The runs without an end, oldest first. */
  async unfinished(): Promise<RunRecord[]> {
    return (await this.#database.read(unfinishedRuns)).map(runOf);
  }

  /** Rows of these runs, without their charts, by id. */
  async rows(ids: readonly string[]): Promise<Map<string, ShortRow>> {
    if (ids.length === 0) return new Map();
    const rows = await this.#database.read((query) =>
      query.selectFrom('runs').select(shortColumns).where('id', 'in', ids).execute(),
    );
    return new Map(rows.map((row) => [row.id, row]));
  }

  async row(id: string): Promise<ShortRow | null> {
    const row = await this.#database.read((query) =>
      query
        .selectFrom('runs')
        .select([...shortColumns, 'chart'])
        .where('id', '=', id)
        .executeTakeFirst(),
    );
    return row ?? null;
  }

  /** Ids of the runs that are over and not packed yet. */
  async toCompact(): Promise<string[]> {
    const rows = await this.#database.read((query) =>
      query
        .selectFrom('runs')
        .select('id')
        .where('compact', '=', 0)
        .where('ended_at', 'is not', null)
        .execute(),
    );
    return rows.map(({ id }) => id);
  }
}

/** Rows of the runs without an end, oldest first. */
export const unfinishedRuns = (query: Query): Promise<ShortRow[]> =>
  query.selectFrom('runs').select(shortColumns).where('ended_at', 'is', null).orderBy('id').execute();
