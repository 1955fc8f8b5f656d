import { type Language, language } from './language.ts';

/** Numbers and dates as the language of the page writes them. In a component they follow the language. */

const formats = new Map<string, Intl.NumberFormat>();

/** Always this many decimals, no marks between thousands (a comma there could be taken for a decimal comma), no minus sign before a zero. */
export function fixed(value: number, decimals: number): string {
  const key = `${language.value} ${decimals}`;
  let format = formats.get(key);
  if (format === undefined) {
    format = new Intl.NumberFormat(language.value, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      useGrouping: false,
      signDisplay: 'negative',
    });
    formats.set(key, format);
  }
  return format.format(value);
}

const marks = new Map<Language, '.' | ','>();

/** The mark before decimals. */
export function decimalMark(): '.' | ',' {
  let mark = marks.get(language.value);
  if (mark === undefined) {
    mark = new Intl.NumberFormat(language.value).format(0.5).includes(',') ? ',' : '.';
    marks.set(language.value, mark);
  }
  return mark;
}

/** A number for reading: about four digits, at least those that matter on a drill. */
export function figure(value: number): string {
  const size = Math.abs(value);
  return fixed(value, size >= 1000 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3);
}

/** A number with a decimal point, for the server: all digits that mean anything, none that come of binary fractions, and never an exponent. */
export function plain(value: number): string {
  const text = String(Number(value.toPrecision(8)));
  return text.includes('e') ? value.toFixed(12).replace(/\.?0+$/, '') : text;
}

/** The same for reading and for a field: with the mark of the language. */
export const exact = (value: number): string => plain(value).replace('.', decimalMark());

/** A limit in four digits, rounded to the allowed side. */
export function limit(value: number, side: 'low' | 'high'): string {
  if (value === 0) return '0';
  const step = 10 ** (Math.floor(Math.log10(Math.abs(value))) - 3);
  const steps = Number((value / step).toPrecision(12));
  return exact((side === 'low' ? Math.ceil(steps) : Math.floor(steps)) * step);
}

/** Grams for reading from afar: a tenth, or whole ones above a kilogram. */
export const grams = (value: number): string => fixed(value, Math.abs(value) >= 1000 ? 0 : 1);

/** Turns for reading from afar: one decimal. */
export const turns = (value: number): string => fixed(value, 1);

/** Turns as planned: whole ones without a decimal. */
export const wholeTurns = (value: number): string => (Number.isInteger(value) ? String(value) : turns(value));

/** A share as per cent with one decimal, or two where that would say nothing. */
export const percent = (share: number): string =>
  fixed(share * 100, share !== 0 && Math.abs(share) < 0.001 ? 2 : 1);

/** A chance in whole per cent, but never called sure. */
export const chancePercent = (chance: number): string =>
  chance > 0.99 ? '> 99' : chance < 0.01 ? '< 1' : String(Math.floor(chance * 100 + 1e-9));

/** The day as written in full, for paper; the text itself where it is no date. */
export const date = (iso: string): string => written(iso, { day: 'numeric', month: 'long', year: 'numeric' });

/** Day and time of day; the text itself where it is no date. */
export const when = (iso: string): string =>
  written(iso, { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

function written(iso: string, options: Intl.DateTimeFormatOptions): string {
  const day = new Date(iso);
  return Number.isNaN(day.getTime()) ? iso : day.toLocaleString(dateTag(), options);
}

/** The browser's own variety of the language (en-GB, de-AT), for its habit with dates; else the language itself. */
function dateTag(): string {
  const tags = typeof navigator === 'undefined' ? [] : (navigator.languages ?? []);
  return tags.find((tag) => tag.split('-')[0] === language.value) ?? language.value;
}
