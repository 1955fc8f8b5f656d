import type { Fields } from './model.ts';
import { inTurn, newestNamed } from './named.ts';
import type { Item, Store } from './types.ts';

/** Stands on record, known by the name that their boards give. */

/** What a board says of itself. */
export type StandIdentity = Partial<
  Pick<Fields<'stand'>, 'firmware' | 'pulsesPerTurn' | 'cells' | 'settings'>
>;

type Stands = Pick<Store, 'stands'>;

/** The stand of this very name, the newest where there are several (two shops may call theirs the same); null where there is none. */
export const standNamed = ({ stands }: Stands, name: string): Promise<Item<'stand'> | null> =>
  newestNamed(stands, name);

/** The stand of this name, put on record where it is new, with what its board says now. Its note stays as it is. */
export function keepStand(
  store: Stands,
  name: string,
  identity: StandIdentity = {},
  by = '',
): Promise<Item<'stand'>> {
  return inTurn(store, async () => {
    const known = await standNamed(store, name);
    if (known !== null) return store.stands.update(known.id, identity, by);
    const unknown = { firmware: '', pulsesPerTurn: null, cells: null, settings: {} };
    return store.stands.create({ name, ...unknown, ...identity, note: '' }, by);
  });
}

/** The newest scale check of each cell of a stand that passed, by cell; what a run's doubt of the slope may rest on. */
export async function scaleChecksOf(
  { scaleChecks }: Pick<Store, 'scaleChecks'>,
  standId: string,
): Promise<Map<number, Item<'scale-check'>>> {
  const newest = new Map<number, Item<'scale-check'>>();
  const { items } = await scaleChecks.list({ standId, limit: 500 });
  for (const item of items) {
    const { cell, passed } = item.fields;
    if (passed && !newest.has(cell)) newest.set(cell, item);
  }
  return newest;
}
