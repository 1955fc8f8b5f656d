import { v7 } from 'uuid';
import { packProven } from './block.ts';
import { packChart } from './chart.ts';
import type { Edit } from './edits.ts';
import type { SqlDatabase } from './engine.ts';
import { editRow, itemRow } from './items.ts';
import { firstRunFields, runLabel } from './run-fields.ts';
import type { OldJournalRow } from './tables.ts';
import type { JournalEntry } from './types.ts';

/** Entries of one block. */
const blockEntries = 2048;

interface OldRun {
  id: string;
  started_at: string;
  plan: string;
  trace: string | null;
}

/** Format 1 kept every journal entry in a row of its own, and of a run nothing that could be changed. */
export function packOldJournal(database: SqlDatabase): void {
  const runs = database.prepare('SELECT id, started_at, plan, trace FROM runs ORDER BY id').all() as OldRun[];
  for (const run of runs) {
    packJournalOf(database, run.id);
    if (run.trace !== null) {
      const chart = packChart(JSON.parse(run.trace));
      database.prepare('UPDATE runs SET chart = ?, compact = 1 WHERE id = ?').run(chart, run.id);
    }
    giveItem(database, run);
  }
}

function packJournalOf(database: SqlDatabase, runId: string): void {
  const next = database.prepare(
    'SELECT * FROM journal WHERE run_id = ? AND position >= ? ORDER BY position LIMIT ?',
  );
  const insert = database.prepare('INSERT INTO blocks (run_id, first, entries, body) VALUES (?, ?, ?, ?)');
  for (let position = 0; ; ) {
    const rows = next.all(runId, position, blockEntries) as OldJournalRow[];
    if (rows.length === 0) return;
    const first = rows[0]!.position;
    // A block holds neighbours only.
    const neighbours = rows.filter((row, index) => row.position === first + index);
    const entries = neighbours.map(({ position, host_millis, kind, text }): JournalEntry => {
      return { position, hostMillis: host_millis, kind, text };
    });
    insert.run(runId, first, entries.length, packProven(entries));
    position = first + entries.length;
  }
}

function giveItem(database: SqlDatabase, { id, started_at, plan }: OldRun): void {
  const { drill, seed } = JSON.parse(plan);
  const edit: Edit = {
    id: v7({ msecs: Date.parse(started_at) }),
    kind: 'run',
    itemId: id,
    changes: firstRunFields(drill.setting),
    by: '',
    place: '',
    at: started_at,
  };
  insertRow(database, 'edits', { ...editRow(edit) });
  // Columns that came later are not there yet.
  const { stand_id: _, ...row } = itemRow([edit], runLabel(drill.name, seed.name));
  insertRow(database, 'items', row);
}

function insertRow(database: SqlDatabase, table: string, row: Record<string, unknown>): void {
  const columns = Object.keys(row);
  const places = columns.map(() => '?').join(', ');
  database
    .prepare(`INSERT INTO ${table} (${columns.join(', ')}) VALUES (${places})`)
    .run(...(Object.values(row) as (string | null)[]));
}
