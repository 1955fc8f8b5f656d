import type { RunFigures, RunOutcome, RunPlan, StandFacts } from '../run/types.ts';

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

/** The store of runs and their readings. Every method rejects with a RecordsError whose message is a sentence for people. */
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
