/** A number for reading: about four digits, at least those that matter on a drill. */
export function figure(value: number): string {
  const size = Math.abs(value);
  return value.toFixed(size >= 1000 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3);
}

/** A number for a field: all digits that mean anything, none that come of binary fractions, and never an exponent. */
export function exact(value: number): string {
  const text = String(Number(value.toPrecision(8)));
  return text.includes('e') ? value.toFixed(12).replace(/\.?0+$/, '') : text;
}

/** A limit in four digits, rounded to the allowed side. */
export function limit(value: number, side: 'low' | 'high'): string {
  if (value === 0) return '0';
  const step = 10 ** (Math.floor(Math.log10(Math.abs(value))) - 3);
  const steps = Number((value / step).toPrecision(12));
  return exact((side === 'low' ? Math.ceil(steps) : Math.floor(steps)) * step);
}

/** Grams for reading from afar: a tenth, or whole ones above a kilogram; no minus sign before a zero. */
export function grams(value: number): string {
  const text = value.toFixed(Math.abs(value) >= 1000 ? 0 : 1);
  return text === '-0.0' ? '0.0' : text;
}

/** Turns for reading from afar: one decimal. */
export const turns = (value: number): string => value.toFixed(1);

/** Turns as planned: whole ones without a decimal. */
export const wholeTurns = (value: number): string => (Number.isInteger(value) ? String(value) : turns(value));

/** A share as per cent with one decimal, or two where that would say nothing. */
export const percent = (share: number): string => (share * 100).toFixed(share !== 0 && share < 0.001 ? 2 : 1);

/** A chance in whole per cent, but never called sure. */
export const chancePercent = (chance: number): string =>
  chance > 0.99 ? '> 99' : chance < 0.01 ? '< 1' : String(Math.round(chance * 100));

/** The whole date in the reader's own habit, for paper; the text itself where it is no date. */
export function date(iso: string): string {
  const day = new Date(iso);
  if (Number.isNaN(day.getTime())) return iso;
  return day.toLocaleDateString(undefined, { day: 'numeric', month: 'long', year: 'numeric' });
}

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
