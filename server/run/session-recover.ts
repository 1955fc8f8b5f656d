import type { JournalEntry, Records, RunPage, RunRecord } from '../records/types.ts';
import { canBeTakenUp } from './gap.ts';
import { inputText } from './session-inputs.ts';
import { formulaVersion, Replay } from './session-replay.ts';
import type { InterruptionWhy, RunInput } from './types.ts';

/** What becomes of the runs that an earlier server left without an end. */

const entriesAtOnce = 5000;
const runsAtOnce = 100;

/** The board's time goes round in 71 minutes; a run is not taken up after longer than this. */
const longestAwaySeconds = 3600;

/** A run that was cut off and may go on, if the board still answers in it. */
export interface UnendedRun {
  record: RunRecord;
  /** All that its journal holds, made again. */
  replay: Replay;
  entries: number;
  /** Host milliseconds from its beginning to its last entry. */
  lastMillis: number;
  /** Seconds from there until this moment of `performance.now()`. */
  awaySeconds: number;
  foundAt: number;
}

/** Seconds from its last entry until now: other runs may have been mended since it was found. */
export function awayUntilNow({ awaySeconds, foundAt }: UnendedRun): number {
  return awaySeconds + (performance.now() - foundAt) / 1000;
}

export interface Recovered {
  /** One for each run that was found without an end. */
  sentences: string[];
  /** The run to go on with; null where there is none. */
  unended: UnendedRun | null;
}

/**
 * Finds the runs that an earlier server left without an end. The newest is handed over to go on with where that may be possible; every other one is
 * computed from the readings it has and closed as interrupted, or as it ended if only its end was missing. `now`: milliseconds since 1970.
 */
export async function findUnended(records: Records, now: () => number = Date.now): Promise<Recovered> {
  const recovered: Recovered = { sentences: [], unended: null };
  const runs = await records.unfinished();
  for (const run of runs) {
    try {
      const found = await read(records, run, now);
      const why = whyNot(found, await isNewestOnStand(records, run));
      if (why === null) recovered.unended = found;
      recovered.sentences.push(why === null ? goesOn(run) : await end(records, found, why));
    } catch (error) {
      recovered.sentences.push(failure(run, error as Error));
    }
  }
  return recovered;
}

/** Closes every run that an earlier server left without an end. Returns a sentence for each. */
export async function recoverRuns(records: Records): Promise<string[]> {
  const { sentences, unended } = await findUnended(records);
  if (unended === null) return sentences;
  // It is the last one found.
  return [...sentences.slice(0, -1), await end(records, unended, 'none')];
}

const named = ({ plan, startedAt }: RunRecord): string => `The run of ${startedAt} on ${plan.drill.name}`;

const failure = (run: RunRecord, error: Error): string =>
  `${named(run)} has no end and could not be computed from its readings (${error.message}). They are kept.`;

const goesOn = (run: RunRecord): string =>
  `${named(run)} was cut off when Catchbench ended; it goes on if the stand still answers in it.`;

async function read(records: Records, record: RunRecord, now: () => number): Promise<UnendedRun> {
  const replay = new Replay();
  const { count, last } = await readAll(records, record.id, (entry) => replay.take(entry));
  const lastMillis = last?.hostMillis ?? 0;
  // A clock that was set back in between shows nothing: then the time away is not known, and the board's own will not fit it.
  const awaySeconds = Math.max(0, now() - Date.parse(record.startedAt) - lastMillis) / 1000;
  return { record, replay, entries: count, lastMillis, awaySeconds, foundAt: performance.now() };
}

/** Runs that came from other stands or were weighed by hand meanwhile say nothing of this stand. */
async function isNewestOnStand(records: Records, { id, stand }: RunRecord): Promise<boolean> {
  for (let before: string | null = null; ; ) {
    const page: RunPage = await records.page(runsAtOnce, before);
    const newer = page.runs.filter((run) => run.id > id);
    if (newer.some((run) => run.stand.name === stand.name)) return false;
    if (page.next === null || newer.length < page.runs.length) return true;
    before = page.next;
  }
}

/** Why the run cannot go on; null where it may. `none`: it needs no going on. */
function whyNot({ replay, awaySeconds }: UnendedRun, isNewest: boolean): InterruptionWhy | 'none' | null {
  if (replay.state.phase === 'finished') return 'none';
  if (!canBeTakenUp(replay.state)) return 'not-started';
  if (!isNewest) return 'newer-run';
  return awaySeconds > longestAwaySeconds ? 'too-long' : null;
}

async function end(records: Records, found: UnendedRun, why: InterruptionWhy | 'none'): Promise<string> {
  const { record, replay, entries, lastMillis: hostMillis } = found;
  const missing: RunInput[] = [];
  // Killed between the run's row and its first batch: there is a plan and nothing else.
  if (entries === 0) missing.push({ type: 'begin', plan: record.plan, stand: record.stand });
  if (replay.state.phase !== 'finished')
    missing.push({ type: 'interrupted', ...(why === 'none' ? {} : { why }) });
  for (const input of missing) replay.apply(input);
  const added = missing.map((input, index): JournalEntry => {
    return { position: entries + index, hostMillis, kind: 'input', text: inputText(input) };
  });
  await records.append(record.id, added);
  const { figures, trace } = replay.result();
  await records.close(record.id, {
    endedAt: new Date(Date.parse(record.startedAt) + hostMillis).toISOString(),
    outcome: figures.outcome ?? 'interrupted',
    figures,
    trace,
    formulaVersion,
    entries: entries + added.length,
  });
  return `${named(record)} was cut off when Catchbench ended; its ${entries} records of readings and commands are kept.`;
}

/** Hands over a run's whole journal, a part at a time. */
async function readAll(records: Records, runId: string, take: (entry: JournalEntry) => void) {
  let count = 0;
  let last: JournalEntry | null = null;
  for (;;) {
    const entries = await records.journal(runId, count, entriesAtOnce);
    for (const entry of entries) take(entry);
    count += entries.length;
    last = entries.at(-1) ?? last;
    if (entries.length < entriesAtOnce) return { count, last };
  }
}
