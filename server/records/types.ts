import type { RunFigures, RunOutcome, RunPlan, StandFacts } from '../run/types.ts';
import type { Edit, FieldChange } from './edits.ts';
import type { Fields, Kind } from './model.ts';

/**
 * One line of a run's journal. `line` is a line of the board exactly as it came, check included; `sent` is a command as it was
 * given to the board, for people and logs; `input` is any other input of the run's reducer, as JSON.
 */
export interface JournalEntry {
  /** 0, 1, 2 ... within the run. */
  position: number;
  /** Host milliseconds since the run began. */
  hostMillis: number;
  kind: 'line' | 'sent' | 'input';
  text: string;
}

/** Seconds, turns and grams since the run's start. */
export type ChartPoint = [seconds: number, turns: number, grams: number];

/** What is known of a run when it begins. */
export interface NewRun {
  /** UUID version 7 (RFC 9562), so that runs sort by their beginning. */
  id: string;
  /** ISO 8601, UTC. */
  startedAt: string;
  demo: boolean;
  plan: RunPlan;
  stand: StandFacts;
  /** The calibration it is made for; none where it is left out. */
  calibrationId?: string | null;
  /** The drill's setting as a number; where it is left out, the number in `plan.drill.setting`, if that is one. */
  settingNumber?: number | null;
}

/** How a run ended. */
export interface RunEnd {
  /** ISO 8601, UTC. */
  endedAt: string;
  outcome: RunOutcome;
  figures: RunFigures;
  /** The run's chart, thinned: seconds, turns and grams since its start. */
  trace: ChartPoint[];
  /** Which edition of the formulas gave the figures. */
  formulaVersion: number;
  /** Journal entries that the figures rest on: a run is closed only when this many are on disk. */
  entries: number;
}

/** A run on record. The last five are null while it has not ended. */
export interface RunRecord extends NewRun {
  endedAt: string | null;
  outcome: RunOutcome | null;
  figures: RunFigures | null;
  trace: ChartPoint[] | null;
  formulaVersion: number | null;
}

export interface RunPage {
  /** Newest first. */
  runs: RunRecord[];
  /** Give it as `before` for the page after this one; null on the last. */
  next: string | null;
}

/** A catch that was weighed by hand, as it was typed in. */
export interface HandCatch {
  turns: number;
  /** Catch of all rows caught together, and the standard doubt of its weighing. */
  grams: number;
  gramsDoubt: number;
  /** False where a tally was kept, so that no turn can be one out. */
  countedByEye?: boolean;
}

/** A run that was not made on the stand. Its figures are given with it: it has no readings to compute them from. */
export interface HandRun extends Omit<NewRun, 'stand'> {
  hand: HandCatch;
  figures: RunFigures;
  formulaVersion: number;
}

/** Why a run does not count, who said so, and when (ISO 8601, UTC). */
export type SetAside = NonNullable<Fields<'run'>['setAside']>;

/** A run with what people may change of it. */
export interface StoredRun extends RunRecord {
  source: 'stand' | 'hand';
  hand: HandCatch | null;
  calibrationId: string | null;
  settingNumber: number | null;
  settingText: string;
  /** Null where it counts. */
  setAside: SetAside | null;
  note: string;
  changedAt: string;
  deletedAt: string | null;
}

/** Something people wrote down, as it is now. */
export interface Item<K extends Kind> {
  id: string;
  createdAt: string;
  changedAt: string;
  /** Null unless it was deleted, which can be undone for 30 days. */
  deletedAt: string | null;
  fields: Fields<K>;
}

export interface FindQuery {
  /** At most so many, 1 to 500; 50 where it is left out. */
  limit?: number;
  /** Where to go on: `next` of the page before. */
  after?: string | null;
  /** Words that must all be in it, or in the drill or mix it is about; each may be the beginning of a word. */
  text?: string;
  /** When it took place: from this moment on, and before that one. ISO 8601, UTC. */
  from?: string;
  before?: string;
  drillId?: string;
  mixId?: string;
  calibrationId?: string;
  /** The stand that scale checks and stand checks were made on. */
  standId?: string;
  /** What notes are about. */
  aboutId?: string;
  /** True lists what is deleted instead. */
  deleted?: boolean;
}

/** Newest first. `next` is null on the last page. */
export interface Page<T> {
  items: T[];
  next: string | null;
}

/**
 * All items of one kind. Fields are checked by `model.ts`; what does not fit is refused with a FieldError. `by` is whoever does it, as they call
 * themselves. Every change is kept; where two change one field, the later counts.
 */
export interface Shelf<K extends Kind> {
  create(fields: Fields<K>, by?: string): Promise<Item<K>>;
  /** Changes some fields. @throws RecordsError `unknown` where there is no such item. */
  update(id: string, changes: Partial<Fields<K>>, by?: string): Promise<Item<K>>;
  /** Deleted ones too, as long as they can be brought back. */
  find(id: string): Promise<Item<K> | null>;
  list(query?: FindQuery): Promise<Page<Item<K>>>;
  /** Undoable by `bringBack` for 30 days. */
  remove(id: string, by?: string): Promise<void>;
  bringBack(id: string, by?: string): Promise<void>;
  /** Each change of each field since it was made, oldest first. */
  history(id: string): Promise<FieldChange[]>;
}

/** The runs, beyond what the session needs of them. */
export interface RunShelf extends Omit<Shelf<'run'>, 'create' | 'find' | 'list' | 'update'> {
  find(id: string): Promise<StoredRun | null>;
  /** Without charts (`trace` is null): those are long. */
  list(query?: FindQuery): Promise<Page<StoredRun>>;
  update(id: string, changes: Partial<Omit<Fields<'run'>, 'setAside'>>, by?: string): Promise<StoredRun>;
  /** It stays on record and is shown, but does not count. */
  setAside(id: string, why: string, by?: string): Promise<StoredRun>;
  /** It counts again. */
  count(id: string, by?: string): Promise<StoredRun>;
  addByHand(run: HandRun, by?: string): Promise<StoredRun>;
}

/** A run that was made elsewhere or before, whole. */
export interface FinishedRun {
  run: NewRun;
  source: StoredRun['source'];
  hand: HandCatch | null;
  journal: JournalEntry[];
  end: RunEnd;
  /** What makes its labels. */
  edits: Edit[];
}

/** A run that is over and could not be put on disk: what of it is in memory alone. */
export interface UnsavedRun {
  run: NewRun;
  end: RunEnd;
  /** The entries that are not on disk, the last ones. */
  pending: JournalEntry[];
}

/** The store of runs and their readings, as far as the making of a run needs it. Every method rejects with a RecordsError whose message is a sentence for people. */
export interface Records {
  /** The folder it lies in. */
  readonly folder: string;
  /** What happened at opening that people should know, as sentences; mostly empty. */
  readonly notices: readonly string[];
  begin(run: NewRun): Promise<void>;
  /** Puts entries on disk, all or none. Giving an entry again does no harm. */
  append(runId: string, entries: readonly JournalEntry[]): Promise<void>;
  close(runId: string, end: RunEnd): Promise<void>;
  /** Runs without an end, oldest first. */
  unfinished(): Promise<RunRecord[]>;
  /** At most `limit` runs older than the run `before`. */
  page(limit: number, before: string | null): Promise<RunPage>;
  find(runId: string): Promise<RunRecord | null>;
  /** At most `limit` entries from `position` on, in order. */
  journal(runId: string, position: number, limit: number): Promise<JournalEntry[]>;
  /** The value kept under this key, or null. */
  setting(key: string): Promise<unknown>;
  keepSetting(key: string, value: unknown): Promise<void>;
  /** Closes the files; the store is of no use afterwards. */
  shut(): Promise<void>;
}

/** The whole store. */
export interface Store extends Records {
  find(runId: string): Promise<StoredRun | null>;
  readonly drills: Shelf<'drill'>;
  readonly configurations: Shelf<'configuration'>;
  readonly lots: Shelf<'lot'>;
  readonly mixes: Shelf<'mix'>;
  readonly calibrations: Shelf<'calibration'>;
  readonly runs: RunShelf;
  readonly stands: Shelf<'stand'>;
  readonly standChecks: Shelf<'stand-check'>;
  readonly scaleChecks: Shelf<'scale-check'>;
  readonly fieldChecks: Shelf<'field-check'>;
  readonly notes: Shelf<'note'>;
  /** All edits of an item, oldest first; empty where there is none. */
  edits(itemId: string): Promise<Edit[]>;
  /**
   * Takes in edits made elsewhere, in any order, each as often as it comes; those met before change nothing. Returns how many were new.
   * Edits of runs are taken only where the run itself is on record.
   */
  merge(edits: readonly Edit[]): Promise<number>;
  /** Puts a run that was made elsewhere on record, whole or not at all. Its id must be new. */
  addFinished(run: FinishedRun): Promise<void>;
  /** Resolves when finished runs are packed and what was deleted 30 days ago is gone. */
  settled(): Promise<void>;
  /** Writes a copy of everything to this new file while the store goes on. */
  backup(path: string): Promise<void>;
  /** Resolves where this file could be restored; rejects where it is damaged, of a newer edition, or none of ours. Changes nothing. */
  examine(path: string): Promise<void>;
  /**
   * Puts a backup in the place of everything; what was there is kept in a file beside it, whose path is returned. Rejects, and changes nothing, where the
   * file is damaged, of a newer edition, or none of ours, and while a run is under way.
   */
  restore(path: string): Promise<string>;
}
