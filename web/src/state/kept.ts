/** Small things kept in the browser. A browser that keeps nothing (private windows, full disk) only forgets them. */
export function recall(store: () => Storage, key: string): string | null {
  try {
    return store().getItem(`catchbench.${key}`);
  } catch {
    return null;
  }
}

export function keep(store: () => Storage, key: string, value: string): void {
  try {
    store().setItem(`catchbench.${key}`, value);
  } catch {
    // Nothing depends on it.
  }
}
