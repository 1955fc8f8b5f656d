import type { Edit } from '../records/edits.ts';
import { FieldError } from '../records/errors.ts';
import type { ImportReport } from '../records/import.ts';
import type { Fields, Kind } from '../records/model.ts';
import { inTurn } from '../records/named.ts';
import { runLines } from '../records/run-table.ts';
import type { Store, StoredRun } from '../records/types.ts';
import { formulaVersion } from '../run/session-replay.ts';
import { configurationIn, drillOf, mixOf } from './find.ts';
import { configurationFields, drillFields, mixFields } from './identity.ts';
import { derivedId, type TableRow, tableCalibration, tableRow } from './table-row.ts';

/**
 * A table of runs, as we give it out, taken in again: runs weighed by hand, and drills, mixes and calibrations where they are missing. Runs of
 * the stand are only recognised, for a table holds no readings to compute them from.
 */

/** What came of it, with sentences for what was left out. */
export interface TableReport extends ImportReport {
  skipped: string[];
}

/** What a run made by hand has for a stand. */
const noStand = { name: '', firmware: '', boot: 0, pulsesPerTurn: 0, cells: [] };

function rowsIn(text: string): TableRow[] {
  const rows = runLines(text).map(tableRow);
  const seen = new Set<string>();
  for (const [index, { id }] of rows.entries()) {
    if (seen.has(id))
      throw new FieldError(`/${index + 2}`, `The run in line ${index + 2} stands twice in the table.`);
    seen.add(id);
  }
  return rows;
}

/** Puts an item on record with an id of its own; returns how many were new. */
function keep<K extends Kind>(store: Store, kind: K, itemId: string, changes: Fields<K>, at: string) {
  const id = derivedId(at, 'edit', itemId);
  const edit: Edit = { id, kind, itemId, changes: { ...changes }, by: '', place: '', at };
  return store.merge([edit]);
}

/** The ids of drill, configuration and mix, each made where there is none of its name. */
async function placesFor(store: Store, { plan, startedAt }: TableRow, report: TableReport) {
  const idOf = async <K extends Kind>(
    known: { id: string } | null,
    kind: K,
    name: string,
    fields: Fields<K>,
  ) => {
    if (known !== null) return known.id;
    const id = derivedId(startedAt, kind, name);
    report.items += await keep(store, kind, id, fields, startedAt);
    return id;
  };
  const { drill, seed } = plan;
  const drillId = await idOf(await drillOf(store, plan), 'drill', drill.name, drillFields(plan));
  const mixId = await idOf(await mixOf(store, plan), 'mix', seed.name, mixFields(plan));
  const fields = configurationFields(plan, drillId);
  const known = await configurationIn(store, plan, drillId);
  const configurationId =
    fields === null
      ? (known?.id ?? null)
      : await idOf(known, 'configuration', `${drillId} ${fields.name}`, fields);
  return { drillId, configurationId, mixId };
}

async function keepCalibration(store: Store, row: TableRow, report: TableReport): Promise<void> {
  const { calibrationId, plan, startedAt } = row;
  if (calibrationId === null || (await store.edits(calibrationId)).length > 0) return;
  const fields = tableCalibration(plan, await placesFor(store, row, report));
  report.items += await keep(store, 'calibration', calibrationId, fields, startedAt);
}

async function addRun(store: Store, row: TableRow, hand: NonNullable<TableRow['hand']>): Promise<void> {
  const { id, startedAt, demo, plan, fields } = row;
  const edit: Edit = {
    ...{ id: derivedId(startedAt, 'edit', id), kind: 'run', itemId: id },
    ...{ changes: { ...fields }, by: '', place: '', at: startedAt },
  };
  const { caught, figures } = hand;
  await store.addFinished({
    run: { id, startedAt, demo, plan, stand: noStand },
    ...{ source: 'hand', hand: caught, journal: [], edits: [edit] },
    end: { endedAt: startedAt, outcome: 'complete', figures, trace: [], formulaVersion, entries: 0 },
  });
}

/** Whether the run on record is the one in the table, as far as the table says. */
function isSame(ours: StoredRun, { startedAt, plan, hand }: TableRow): boolean {
  const same = [
    ours.startedAt === startedAt,
    ours.plan.drill.name === plan.drill.name,
    ours.plan.seed.name === plan.seed.name,
    (ours.source === 'hand') === (hand !== null),
  ];
  const caught =
    hand === null ||
    (ours.hand?.turns === hand.caught.turns &&
      Math.abs(ours.hand.grams - hand.caught.grams) <= 1e-6 * ours.hand.grams);
  return caught && same.every(Boolean);
}

const leftOut = (count: number): string =>
  `${count === 1 ? 'One run of the stand is' : `${count} runs of the stand are`} not on record here and could not come in: a table holds no readings. Import the JSON of them.`;

/** Takes in a table: what is new is added, what is there stays. All of it is checked first. @throws FieldError with a sentence and the line. */
export async function importTable(store: Store, text: string): Promise<TableReport> {
  const report: TableReport = { items: 0, runs: 0, edits: 0, known: 0, conflicts: [], skipped: [] };
  const rows = rowsIn(text);
  let standRuns = 0;
  for (const row of rows) {
    const ours = await store.runs.find(row.id);
    if (ours !== null) {
      if (isSame(ours, row)) report.known++;
      else
        report.conflicts.push(
          `The run of ${row.startedAt} is on record here with other content, which was kept.`,
        );
      continue;
    }
    await inTurn(store, () => keepCalibration(store, row, report));
    if (row.hand === null) standRuns++;
    else {
      await addRun(store, row, row.hand);
      report.runs++;
    }
  }
  if (standRuns > 0) report.skipped.push(leftOut(standRuns));
  return report;
}
