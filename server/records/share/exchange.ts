import { exportedRun } from '../export.ts';
import type { ExportedRun } from '../export-schema.ts';
import { addRun } from '../import.ts';
import type { Outbox } from '../outbox.ts';
import type { Store } from '../types.ts';
import type { SharedRun, ShareStore } from './share-store.ts';

/** One round of give and take between a stand and the share. Whatever it is cut off in, the next round makes good. */

/** Things of one delivery. Runs are long: few together. */
const deliveryThings = 20;
const newsThings = 100;

const cursorKey = 'share';

interface Cursor {
  /** The share's own id: another database begins from the start. */
  id: string;
  number: number;
  /** What stands there; left out by editions that did not look. */
  last?: string;
}

/** How far the share was read, and by which of our databases. */
interface Reading {
  cursor: Cursor;
  generation: number;
}

export interface Exchanged {
  given: number;
  taken: number;
}

async function readSoFar(store: Store, outbox: Outbox, share: ShareStore): Promise<Reading> {
  const { id, newest } = await share.open();
  const { generation } = outbox;
  const known = (await store.setting(cursorKey)) as Cursor | null;
  // Another share, or the same brought back from an old copy, which others may have added to since: it lacks what it once was given.
  if (known !== null && known.id === id && known.number <= newest && (await isStill(share, known)))
    return { cursor: known, generation };
  if (known !== null) await outbox.refill();
  const cursor = { id, number: 0 };
  await outbox.keepPlace(cursorKey, cursor, generation);
  return { cursor, generation };
}

async function isStill(share: ShareStore, { number, last }: Cursor): Promise<boolean> {
  return last === undefined || (await share.thingAt(number)) === last;
}

async function sharedRun(store: Store, id: string): Promise<SharedRun | null> {
  const run = await store.runs.find(id);
  const exported = run && (await exportedRun(store, run));
  if (exported === null) return null; // thrown away for good meanwhile
  const { journal, ...rest } = exported;
  const entries = journal.map(([hostMillis, kind, text], position) => {
    return { position, hostMillis, kind: kind as 'line', text };
  });
  return { run: rest, journal: entries };
}

/** Hands in what waits, in its order. Returns how many things. */
async function give(store: Store, outbox: Outbox, share: ShareStore): Promise<number> {
  let given = 0;
  for (;;) {
    const batch = await outbox.next(deliveryThings);
    if (batch === null) return given;
    const runs: SharedRun[] = [];
    for (const id of batch.runIds) {
      const run = await sharedRun(store, id);
      if (run !== null) runs.push(run);
    }
    await share.deliver({ edits: batch.edits, runs });
    if (!(await outbox.done(batch))) return given;
    given += batch.edits.length + runs.length;
  }
}

async function takeRun(store: Store, outbox: Outbox, share: ShareStore, id: string): Promise<number> {
  if ((await store.runs.find(id)) !== null) return 0;
  const shared = await share.run(id);
  const edits = await share.editsOf([id]);
  if (shared === null || edits.length === 0) return 0;
  const journal = shared.journal.map(({ hostMillis, kind, text }): ExportedRun['journal'][number] => [
    hostMillis,
    kind,
    text,
  ]);
  // Whoever may write to the share is one of us; `records verify` computes it again when there is time for that.
  await addRun(store, { ...shared.run, journal }, edits);
  await outbox.notNeeded([id, ...edits.map((edit) => edit.id)]);
  return 1;
}

/** Takes in what others handed in. Returns how many things were new here. */
async function take(
  store: Store,
  outbox: Outbox,
  share: ShareStore,
  { cursor: from, generation }: Reading,
): Promise<number> {
  let taken = 0;
  for (let cursor = from; ; ) {
    const news = await share.news(cursor.number, newsThings);
    if (news.cursor === cursor.number) return taken;
    const edits = await share.editsOf(news.itemIds);
    taken += await store.merge(edits);
    await outbox.notNeeded(edits.map(({ id }) => id));
    for (const id of news.runIds) taken += await takeRun(store, outbox, share, id);
    cursor = { id: cursor.id, number: news.cursor, ...(news.last === null ? {} : { last: news.last }) };
    if (!(await outbox.keepPlace(cursorKey, cursor, generation))) return taken;
  }
}

/** Gives what waits and takes what is new; ends early where a backup is restored meanwhile. Rejects where the share cannot be reached, or a record in it is not to be believed. */
export async function exchange(store: Store, outbox: Outbox, share: ShareStore): Promise<Exchanged> {
  const reading = await readSoFar(store, outbox, share);
  const given = await give(store, outbox, share);
  return { given, taken: await take(store, outbox, share, reading) };
}
