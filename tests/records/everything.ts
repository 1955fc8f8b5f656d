import { exportJson } from '../../server/records/export.ts';
import type { Store } from '../../server/records/types.ts';

/**
 * All that is on record, as text to be compared. Lists are in the order of making, which two stands may see differently; what is in them is the
 * same.
 */
export async function everything(store: Store): Promise<string> {
  let text = '';
  for await (const piece of exportJson(store, 'everything', '2026-04-01T00:00:00.000Z')) text += piece;
  const { items, runs } = JSON.parse(text) as Record<'items' | 'runs', unknown[]>;
  return [...items, ...runs]
    .map((each) => JSON.stringify(each))
    .toSorted()
    .join('\n');
}
