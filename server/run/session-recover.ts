import type { JournalEntry, Records, RunRecord } from '../records/types.ts';
import { inputText } from './session-inputs.ts';
import { formulaVersion, Replay } from './session-replay.ts';
import type { RunInput } from './types.ts';

const entriesAtOnce = 5000;

/**
 * Closes the runs that an earlier server left without an end: each is computed from the readings it has and marked as interrupted, or as it ended if
 * only its end was missing. Returns a sentence for each.
 */
export async function recoverRuns(records: Records): Promise<string[]> {
  const sentences: string[] = [];
  for (const run of await records.unfinished()) {
    sentences.push(await recover(records, run).catch((error: Error) => failure(run, error)));
  }
  return sentences;
}

const named = ({ plan, startedAt }: RunRecord): string => `The run of ${startedAt} on ${plan.drill.name}`;

const failure = (run: RunRecord, error: Error): string =>
  `${named(run)} has no end and could not be computed from its readings (${error.message}). They are kept.`;

async function recover(records: Records, run: RunRecord): Promise<string> {
  const made = new Replay();
  const kept = await readAll(records, run.id, (entry) => made.take(entry));
  const hostMillis = kept.last?.hostMillis ?? 0;
  const missing: RunInput[] = [];
  // Killed between the run's row and its first batch: there is a plan and nothing else.
  if (kept.count === 0) missing.push({ type: 'begin', plan: run.plan, stand: run.stand });
  if (made.phase !== 'finished') missing.push({ type: 'interrupted' });
  for (const input of missing) made.apply(input);
  const added = missing.map((input, index): JournalEntry => {
    return { position: kept.count + index, hostMillis, kind: 'input', text: inputText(input) };
  });
  await records.append(run.id, added);
  const { figures, trace } = made.result();
  await records.close(run.id, {
    endedAt: new Date(Date.parse(run.startedAt) + hostMillis).toISOString(),
    outcome: figures.outcome ?? 'interrupted',
    figures,
    trace,
    formulaVersion,
    entries: kept.count + added.length,
  });
  return `${named(run)} was cut off when Catchbench ended; its ${kept.count} records of readings and commands are kept.`;
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
