/** Keeps and restores the plain state of an object, for taking an emulated board back to an earlier moment. */

type Fields = Record<string, unknown>;

/**
 * Remembers the numbers, flags, strings, typed arrays and lists that `object` owns; the function returned writes them back.
 * Other objects that it refers to are left alone.
 * @param except names of fields that never change or are kept elsewhere.
 */
export function keepFields(object: object, except: readonly string[] = []): () => void {
  const fields = object as Fields;
  const restores: (() => void)[] = [];
  for (const name of Object.keys(fields)) {
    if (except.includes(name)) continue;
    const value = fields[name];
    if (value instanceof Uint8Array || value instanceof Uint16Array) {
      const copy = value.slice();
      restores.push(() => value.set(copy));
    } else if (Array.isArray(value)) {
      const copy = value.slice();
      restores.push(() => value.splice(0, value.length, ...copy));
    } else if (value === null || typeof value !== 'object') {
      if (typeof value !== 'function') restores.push(() => setField(fields, name, value));
    }
  }
  return () => {
    for (const restore of restores) restore();
  };
}

function setField(fields: Fields, name: string, value: unknown): void {
  fields[name] = value;
}
