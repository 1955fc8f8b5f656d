/** Fields of a line, each written in one way only: what is not written that way is null, and the line is refused. */

/** A whole number from 0 to `greatest`, without sign or leading zeros. */
export function unsigned(text: string | undefined, greatest: number): number | null {
  if (text === undefined || text.length === 0 || text.length > 10) return null;
  let value = 0;
  for (let i = 0; i < text.length; i++) {
    const digit = text.charCodeAt(i) - 0x30;
    if (digit < 0 || digit > 9) return null;
    value = value * 10 + digit;
  }
  if (text.length > 1 && text.charCodeAt(0) === 0x30) return null;
  return value <= greatest ? value : null;
}

const minus = 0x2d;

/** A signed 24-bit converter value, -8388608 to 8388607; undefined when it is not one. */
export function count(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (text.charCodeAt(0) !== minus) return unsigned(text, 8388607) ?? undefined;
  const size = unsigned(text.slice(1), 8388608);
  return size === null || size === 0 ? undefined : -size;
}

/** The word itself when it is in the list. */
export function inList<T extends string>(list: readonly T[], word: string | undefined): T | null {
  const index = (list as readonly (string | undefined)[]).indexOf(word);
  return index < 0 ? null : list[index]!;
}

/** What follows `key=`; null when the field is another. */
export function named(key: string, field: string | undefined): string | null {
  return field?.startsWith(`${key}=`) ? field.slice(key.length + 1) : null;
}

/** A whole number from `least` to `greatest` in a field `key=number`. */
export function namedNumber(
  key: string,
  field: string | undefined,
  least: number,
  greatest: number,
): number | null {
  const value = unsigned(named(key, field) ?? undefined, greatest);
  return value === null || value < least ? null : value;
}
