import type { RunFigures, RunOutcome, RunPlan, StandFacts } from '../run/types.ts';
import type { Edit } from './edits.ts';
import { FieldError } from './errors.ts';
import { exportedRun } from './export.ts';
import type { ExportedRun, ExportFile } from './export-schema.ts';
import { checkRun, editsOfItem, journalOf, missingIn, readExport } from './import-check.ts';
import type { ChartPoint, Store, StoredRun } from './types.ts';

export interface ImportReport {
  /** New items and new runs. */
  items: number;
  runs: number;
  /** Edits that were new to items known before. */
  edits: number;
  /** What was there already, the same. */
  known: number;
  /** Runs that are on record with other content: ours stays as it is. Sentences. */
  conflicts: string[];
}

/**
 * Takes in an export: what is new is added, what is there stays, a second time nothing happens. The whole file is checked first; a file with
 * anything wrong in it changes nothing. @throws FieldError with a sentence and the place in the file.
 */
export async function importJson(store: Store, text: string): Promise<ImportReport> {
  const file = readExport(text);
  for (const id of missingIn(file)) {
    if ((await store.edits(id)).length === 0) {
      throw new FieldError('/items', 'The file names something that is neither in it nor on record here.');
    }
  }
  const runs = await newRuns(store, file);
  const report: ImportReport = { items: 0, runs: 0, edits: 0, known: runs.known, conflicts: runs.conflicts };
  for (const item of file.items) {
    if (item.kind === 'run') continue;
    const before = (await store.edits(item.id)).length;
    const fresh = await store.merge(editsOfItem(item));
    if (before === 0) report.items++;
    else if (fresh > 0) report.edits += fresh;
    else report.known++;
  }
  const items = new Map(file.items.map((item) => [item.id, item]));
  for (const run of runs.fresh) {
    await addRun(store, run, editsOfItem(items.get(run.id)!));
    report.runs++;
    items.delete(run.id);
  }
  for (const item of items.values()) {
    if (item.kind === 'run') report.edits += await store.merge(editsOfItem(item));
  }
  return report;
}

async function newRuns(store: Store, { runs }: ExportFile) {
  const fresh: ExportedRun[] = [];
  const conflicts: string[] = [];
  let known = 0;
  for (const run of runs) {
    const ours = await store.runs.find(run.id);
    if (ours === null) {
      checkRun(run);
      fresh.push(run);
    } else if (await isSame(store, ours, run)) known++;
    else conflicts.push(`The run of ${run.startedAt} is on record here with other content, which was kept.`);
  }
  return { fresh, conflicts, known };
}

async function isSame(store: Store, ours: StoredRun, theirs: ExportedRun): Promise<boolean> {
  const exported = await exportedRun(store, ours);
  return JSON.stringify(exported) === JSON.stringify({ ...exported, ...theirs });
}

/** Puts one run of an export on record; its id must be new here. */
export function addRun(store: Store, run: ExportedRun, edits: Edit[]): Promise<void> {
  const { id, startedAt, demo, source, hand } = run;
  return store.addFinished({
    run: { id, startedAt, demo, plan: run.plan as RunPlan, stand: run.stand as StandFacts },
    source: source as StoredRun['source'],
    hand,
    journal: journalOf(run),
    end: {
      endedAt: run.endedAt,
      outcome: run.outcome as RunOutcome,
      figures: run.figures as unknown as RunFigures,
      trace: run.trace as ChartPoint[],
      formulaVersion: run.formulaVersion,
      entries: run.journal.length,
    },
    edits,
  });
}
