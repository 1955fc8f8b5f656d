import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { addRun } from '../records/import.ts';
import { editsOfItem } from '../records/import-check.ts';
import type { Store } from '../records/types.ts';
import type { WeekMessage } from './thread.ts';
import type { VisitRecords } from './visit.ts';
import { demoWeek, weekEdition } from './week.ts';

/** Puts the invented week on record beside the demo's own runs, while the demo is in use already. */

const editionKey = 'demo-week';
/** The built program has the making beside it as a file of its own; run from source there is none. */
const threadFile = fileURLToPath(new URL('demo-week.js', import.meta.url));

/** One part of the week; what is on record already stays as it is. */
async function keep(store: Store, { items, runs }: VisitRecords): Promise<void> {
  for (const item of items) if (item.kind !== 'run') await store.merge(editsOfItem(item));
  const labels = new Map(items.map((item) => [item.id, item]));
  for (const run of runs) {
    if ((await store.edits(run.id)).length > 0) continue;
    await addRun(store, run, editsOfItem(labels.get(run.id)!));
  }
}

/** The parts as the thread makes them. */
async function* fromThread(signal: AbortSignal): AsyncGenerator<VisitRecords> {
  const worker = new Worker(threadFile);
  worker.unref();
  const stop = () => void worker.terminate();
  signal.addEventListener('abort', stop);
  const waiting: WeekMessage[] = [];
  let wake = () => {};
  worker.on('message', (message: WeekMessage) => {
    waiting.push(message);
    wake();
  });
  const failed = new Promise<never>((_, reject) => {
    worker.once('error', reject);
    worker.once('exit', () => reject(new Error('The making of the demo’s week has ended early.')));
  });
  failed.catch(() => {}); // told where it is waited for
  try {
    for (;;) {
      const message = waiting.shift();
      if (message === undefined) {
        const next = new Promise<void>((resolve) => {
          wake = resolve;
        });
        await Promise.race([next, failed]);
      } else if ('over' in message) return;
      else yield message.part;
    }
  } finally {
    signal.removeEventListener('abort', stop);
    await worker.terminate();
  }
}

async function* fromHere(): AsyncGenerator<VisitRecords> {
  for (const part of demoWeek()) {
    yield part;
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/**
 * Loads the week where this edition of it is not there yet. Resolves once it is on record, or the signal has ended it; a week cut short is completed
 * at the next start. `changed` is called after each part.
 */
export async function loadDemoWeek(
  store: Store,
  signal: AbortSignal,
  changed: () => void = () => {},
): Promise<void> {
  if ((await store.setting(editionKey)) === weekEdition) return;
  try {
    for await (const part of existsSync(threadFile) ? fromThread(signal) : fromHere()) {
      if (signal.aborted) return;
      await keep(store, part);
      changed();
    }
    await store.keepSetting(editionKey, weekEdition);
  } catch (error) {
    if (!signal.aborted) throw error;
  }
}
