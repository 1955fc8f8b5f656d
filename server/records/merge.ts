import { shapedFields } from './check.ts';
import type { Database } from './database.ts';
import { type Edit, fold } from './edits.ts';
import { FieldError } from './errors.ts';
import { editsOf, type ItemStore } from './item-store.ts';

/**
 * Takes in edits made elsewhere, item by item, each item whole or not at all. Whatever the order and however often they come, the end is the
 * same. Returns how many were new. @throws FieldError for edits that do not make an item of their kind.
 */
export async function mergeEdits(
  database: Database,
  items: ItemStore,
  edits: readonly Edit[],
): Promise<number> {
  const byItem = new Map<string, Edit[]>();
  for (const edit of edits) byItem.set(edit.itemId, [...(byItem.get(edit.itemId) ?? []), edit]);
  let fresh = 0;
  for (const group of byItem.values()) {
    fresh += await database.write(async (query) => {
      const { itemId, kind } = group[0]!;
      const known = await editsOf(query, itemId);
      const all = [...known, ...group];
      if (all.some((edit) => edit.kind !== kind)) {
        throw new FieldError('/kind', 'One item cannot be of two kinds.');
      }
      if (kind === 'run' && known.length === 0) return 0;
      shapedFields(kind, fold(all).fields);
      return items.apply(query, group, '');
    });
  }
  return fresh;
}
