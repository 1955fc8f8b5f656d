/** Things known by their names: looked up, and made where they are missing. */

const last = new WeakMap<object, Promise<unknown>>();

/** Runs `task` once all that came here before on the same store is over, well or not: of two who look up one name at once, both would make it. */
export function inTurn<T>(store: object, task: () => Promise<T>): Promise<T> {
  const before = last.get(store) ?? Promise.resolve();
  const mine = before.then(task, task);
  last.set(
    store,
    mine.catch(() => {}),
  );
  return mine;
}

interface NamedShelf<T> {
  list(query: { text: string; after: string | null }): Promise<{ items: T[]; next: string | null }>;
}

/** The items of this very name on a shelf, the newest first, however many there are whose names are like it. */
export async function* allNamed<T extends { fields: { name: string } }>(
  shelf: NamedShelf<T>,
  name: string,
): AsyncGenerator<T> {
  for (let after: string | null = null; ; ) {
    const { items, next } = await shelf.list({ text: name, after });
    yield* items.filter(({ fields }) => fields.name === name);
    if (next === null) return;
    after = next;
  }
}

/** The newest of them; null where there is none. */
export async function newestNamed<T extends { fields: { name: string } }>(
  shelf: NamedShelf<T>,
  name: string,
): Promise<T | null> {
  for await (const item of allNamed(shelf, name)) return item;
  return null;
}
