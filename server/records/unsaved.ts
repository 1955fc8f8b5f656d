import { parse, v7 } from 'uuid';
import { type ExportedItem, type ExportFile, exportVersion, formatName } from './export-schema.ts';
import { firstRunFields, setAsideByTrace } from './run-fields.ts';
import type { JournalEntry, Store, UnsavedRun } from './types.ts';

/** Runs that the disk would not take, as a file like any export: kept elsewhere, it is imported once there is room. */
export async function exportUnsaved(
  store: Store,
  runs: readonly UnsavedRun[],
  now = new Date().toISOString(),
): Promise<string> {
  const file: ExportFile = {
    format: formatName,
    version: exportVersion,
    exportedAt: now,
    items: [],
    runs: [],
  };
  for (const unsaved of runs) {
    file.items.push(itemOf(unsaved));
    const { run, end } = unsaved;
    const { id, startedAt, demo, plan, stand } = run;
    const { endedAt, outcome, figures, trace, formulaVersion } = end;
    const journal = await wholeJournal(store, unsaved);
    file.runs.push({
      ...{ id, startedAt, endedAt, demo, source: 'stand', plan, stand, hand: null, outcome },
      ...{ figures: { ...figures }, trace, formulaVersion },
      journal: journal.map(({ hostMillis, kind, text }) => [hostMillis, kind, text]),
    });
  }
  return JSON.stringify(file);
}

/** What is on disk, as far as that can be read, and what is not. */
async function wholeJournal(store: Store, { run, pending }: UnsavedRun): Promise<JournalEntry[]> {
  const first = pending[0]?.position ?? Number.MAX_SAFE_INTEGER;
  const kept = first === 0 ? [] : await store.journal(run.id, 0, first);
  return [...kept, ...pending];
}

function itemOf({ run, end }: UnsavedRun): ExportedItem {
  const { id, startedAt, plan, calibrationId = null, settingNumber } = run;
  const number = settingNumber === undefined ? {} : { settingNumber };
  const given = { calibrationId, ...number, setAside: setAsideByTrace(end) };
  const fields = firstRunFields(plan.drill.setting, given);
  // The same each time, so that a second import finds nothing new.
  const editId = v7({ msecs: Date.parse(startedAt), seq: 0, random: parse(id) });
  const edit = { id: editId, changes: { ...fields }, by: '', place: '', at: startedAt };
  return {
    ...{ id, kind: 'run', createdAt: startedAt, changedAt: startedAt, deletedAt: null },
    ...{ fields: { ...fields }, edits: [edit] },
  };
}
