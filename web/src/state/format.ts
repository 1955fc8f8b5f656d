/** A number for reading: about four digits, at least those that matter on a drill. */
export function figure(value: number): string {
  const size = Math.abs(value);
  return value.toFixed(size >= 1000 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3);
}

/** A number for a field: all digits that mean anything, none that come of binary fractions. */
export const exact = (value: number): string => String(Number(value.toPrecision(8)));

/** Turns for reading from afar: one decimal. */
export const turns = (value: number): string => value.toFixed(1);

/** Turns as planned: whole ones without a decimal. */
export const wholeTurns = (value: number): string => (Number.isInteger(value) ? String(value) : turns(value));

/** A share as per cent with one decimal, or two where that would say nothing. */
export const percent = (share: number): string => (share * 100).toFixed(share !== 0 && share < 0.001 ? 2 : 1);

/** Day and time of day in the reader's own habit; the text itself where it is no date. */
export function when(iso: string): string {
  const date = new Date(iso);
  if (Number.isNaN(date.getTime())) return iso;
  return date.toLocaleString(undefined, {
    day: 'numeric',
    month: 'short',
    hour: '2-digit',
    minute: '2-digit',
  });
}
