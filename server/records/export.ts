import { fold } from './edits.ts';
import { type ExportedItem, type ExportedRun, exportVersion, formatName } from './export-schema.ts';
import { referencesIn } from './items.ts';
import { type Kind, kinds } from './model.ts';
import type { FindQuery, JournalEntry, Page, Store, StoredRun } from './types.ts';

/** What to take out: one run, one calibration, or everything; each with all that it names. */
export type ExportScope = { run: string } | { calibration: string } | 'everything';

const atOnce = 200;
const entriesAtOnce = 10_000;

const listers: Record<Kind, (store: Store, query: FindQuery) => Promise<Page<{ id: string }>>> = {
  drill: (store, query) => store.drills.list(query),
  configuration: (store, query) => store.configurations.list(query),
  lot: (store, query) => store.lots.list(query),
  mix: (store, query) => store.mixes.list(query),
  calibration: (store, query) => store.calibrations.list(query),
  run: (store, query) => store.runs.list(query),
  stand: (store, query) => store.stands.list(query),
  'stand-check': (store, query) => store.standChecks.list(query),
  'scale-check': (store, query) => store.scaleChecks.list(query),
  'field-check': (store, query) => store.fieldChecks.list(query),
  note: (store, query) => store.notes.list(query),
};

/** Ids of all items of a kind that fit, newest first. */
export async function* idsOf(store: Store, kind: Kind, query: FindQuery = {}): AsyncGenerator<string> {
  for (let after: string | null = null; ; ) {
    const page: Page<{ id: string }> = await listers[kind](store, { ...query, limit: atOnce, after });
    for (const { id } of page.items) yield id;
    after = page.next;
    if (after === null) return;
  }
}

async function* everything(store: Store): AsyncGenerator<string> {
  for (const kind of kinds) {
    for (const deleted of [false, true]) yield* idsOf(store, kind, { deleted });
  }
}

/** A calibration: itself, its runs and field checks. */
async function* calibrationIds(store: Store, calibrationId: string): AsyncGenerator<string> {
  yield calibrationId;
  for (const deleted of [false, true]) {
    yield* idsOf(store, 'run', { calibrationId, deleted });
    yield* idsOf(store, 'field-check', { calibrationId, deleted });
  }
}

function startIds(store: Store, scope: ExportScope): AsyncGenerator<string> | string[] {
  if (scope === 'everything') return everything(store);
  return 'run' in scope ? [scope.run] : calibrationIds(store, scope.calibration);
}

/** Ids that the parts of a mix name. */
function lotIds(fields: Record<string, unknown>): string[] {
  const parts = Array.isArray(fields.parts) ? (fields.parts as { lotId?: unknown }[]) : [];
  return parts.flatMap(({ lotId }) => (typeof lotId === 'string' ? [lotId] : []));
}

/** The scope's items, each after those it names, each once; and in the end what people wrote about them. */
async function* itemsIn(store: Store, scope: ExportScope): AsyncGenerator<ExportedItem> {
  const done = new Set<string>();
  async function* withNamed(id: string): AsyncGenerator<ExportedItem> {
    if (done.has(id)) return;
    done.add(id);
    const edits = await store.edits(id);
    if (edits.length === 0) return;
    const { kind } = edits[0]!;
    const folded = fold(edits);
    const named = referencesIn(kind, folded.fields).map((reference) => reference.id);
    for (const other of [...named, ...lotIds(folded.fields)]) yield* withNamed(other);
    const plain = edits.map(({ id, changes, by, place, at }) => ({ id, changes, by, place, at }));
    yield { id, kind, ...folded, edits: plain };
  }
  for await (const id of startIds(store, scope)) yield* withNamed(id);
  if (scope === 'everything') return;
  for (const id of [...done]) {
    for await (const note of idsOf(store, 'note', { aboutId: id })) yield* withNamed(note);
  }
}

/** All entries of a run's journal. */
export async function* entriesOf(store: Store, runId: string): AsyncGenerator<JournalEntry> {
  for (let at = 0; ; ) {
    const entries = await store.journal(runId, at, entriesAtOnce);
    yield* entries;
    at += entries.length;
    if (entries.length === 0) return;
  }
}

/** A run that is over, with its journal; null for one that is not. */
export async function exportedRun(store: Store, run: StoredRun): Promise<ExportedRun | null> {
  if (run.endedAt === null || run.figures === null) return null;
  const journal: ExportedRun['journal'] = [];
  for await (const { hostMillis, kind, text } of entriesOf(store, run.id))
    journal.push([hostMillis, kind, text]);
  const { id, startedAt, endedAt, demo, source, plan, stand, hand, outcome, figures, trace } = run;
  return {
    ...{ id, startedAt, endedAt, demo, source, plan, stand, hand, outcome: outcome! },
    ...{ figures: { ...figures }, trace: trace ?? [], formulaVersion: run.formulaVersion!, journal },
  };
}

/** The export as JSON text in pieces, each item and run on a line; runs that are not over are left out, with the notes about them. */
export async function* exportJson(
  store: Store,
  scope: ExportScope,
  now = new Date().toISOString(),
): AsyncGenerator<string> {
  const runIds: string[] = [];
  const leftOut = new Set<unknown>();
  const head = JSON.stringify({ format: formatName, version: exportVersion, exportedAt: now });
  yield `${head.slice(0, -1)},\n"items":[`;
  let comma = '\n';
  for await (const item of itemsIn(store, scope)) {
    if (item.kind === 'run') {
      if ((await store.runs.find(item.id))?.endedAt == null) {
        leftOut.add(item.id);
        continue;
      }
      runIds.push(item.id);
    }
    // Nothing in the file may be about what is not in it: nobody could take it in.
    if (item.kind === 'note' && leftOut.has(item.fields.aboutId)) continue;
    yield comma + JSON.stringify(item);
    comma = ',\n';
  }
  yield '\n],\n"runs":[';
  comma = '\n';
  for (const id of runIds) {
    const run = await store.runs.find(id);
    const exported = run && (await exportedRun(store, run));
    if (exported === null) continue;
    yield comma + JSON.stringify(exported);
    comma = ',\n';
  }
  yield '\n]}\n';
}
