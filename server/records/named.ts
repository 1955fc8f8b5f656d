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

/** The newest item of this very name on a shelf, however many there are whose names are like it; null where there is none. */
export async function newestNamed<T extends { fields: { name: string } }>(
  shelf: {
    list(query: { text: string; after: string | null }): Promise<{ items: T[]; next: string | null }>;
  },
  name: string,
): Promise<T | null> {
  for (let after: string | null = null; ; ) {
    const { items, next } = await shelf.list({ text: name, after });
    const found = items.find(({ fields }) => fields.name === name);
    if (found !== undefined) return found;
    if (next === null) return null;
    after = next;
  }
}
