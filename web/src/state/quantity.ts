import type { NumberField, Value } from './fields.ts';
import { decimalMark, exact, limit } from './format.ts';
import { readNumber } from './number.ts';
import type { PartFaults } from './setup/seed.ts';
import { findUnit, fromSi, type System, toSi } from './units.ts';

/** Reading what was typed where a number with a unit goes. Pure; SI comes out. */

/** What is wrong with a field; the words come from the texts. */
export type Fault =
  | { kind: 'empty' }
  | { kind: 'too-long'; most: number }
  | { kind: 'nonsense'; typed: string; example: string }
  | { kind: 'unit'; unit: string; example: string }
  | { kind: 'two-readings'; one: string; other: string }
  | { kind: 'range'; low: string; high: string }
  | { kind: 'whole' }
  | { kind: 'too-many'; most: number }
  /** Some fields of the setting scale are filled in, but not the three that it needs. */
  | { kind: 'scale-incomplete' }
  | { kind: 'below-low' }
  | { kind: 'step-too-wide' }
  | { kind: 'closed-too-high' }
  /** Named marks, fewer than two of them. */
  | { kind: 'too-few-marks' }
  /** The setting is none of the named marks. */
  | { kind: 'no-such-mark'; marks: string }
  /** More rows are caught than the drill has. */
  | { kind: 'more-than-rows'; rows: number }
  /** Something is wrong with what the seed is made of: with fields of its parts, or with all of them together. */
  | { kind: 'parts'; faults: PartFaults[] }
  | { kind: 'shares'; percent: string }
  | { kind: 'too-thick'; percent: string }
  | { kind: 'tag'; percent: string }
  | { kind: 'nothing-alive' }
  /** A target that needs something which is not known. */
  | { kind: 'needs-seed' }
  | { kind: 'needs-density' }
  | { kind: 'needs-establishment' };

/** What reading a quantity needs to know of its field. */
export type QuantityField = Omit<NumberField, 'kind' | 'pointer' | 'optional'>;

export type Read = { ok: true; value: Value } | { ok: false; fault: Fault };

export const faulty = (found: Fault): Read => ({ ok: false, fault: found });

/** A number with its unit, or what is wrong with it. */
export function readQuantity(field: QuantityField, text: string, system: System): Read {
  const { dimension } = field;
  const own = field.unit[system];
  const example = sayBriefly(field, system);
  const typed = readNumber(text, decimalMark());
  if (typed === null) return faulty({ kind: 'nonsense', typed: text, example });
  const unit = typed.unit === '' ? own : findUnit(dimension, typed.unit)?.label;
  if (unit === undefined) return faulty({ kind: 'unit', unit: typed.unit, example });
  const readings = [typed.value, ...(typed.grouped === null ? [] : [typed.grouped])];
  const fits = readings.flatMap((reading) => within(field, toSi(reading, dimension, unit)) ?? []);
  const [value] = fits;
  if (value === undefined) return faulty({ kind: 'range', ...limits(field, own) });
  if (fits.length > 1)
    return faulty({ kind: 'two-readings', one: exact(readings[0]!), other: exact(readings[1]!) });
  if (field.whole && !Number.isInteger(value)) return faulty({ kind: 'whole' });
  return { ok: true, value };
}

/** The same for a text that may be empty: no value then, where that is allowed. */
export function readEntry(field: QuantityField, typed: string, system: System, optional = false): Read {
  const text = typed.trim();
  if (text !== '') return readQuantity(field, text, system);
  return optional ? { ok: true, value: null } : faulty({ kind: 'empty' });
}

/** A value as one would type it into the field. */
export const shownQuantity = ({ dimension, unit }: QuantityField, si: number, system: System): string =>
  exact(fromSi(si, dimension, unit[system]));

/** A text carried from one system of units to the other; what cannot be read stays as it was typed. */
export function carried(field: QuantityField, typed: string, from: System, to: System): string {
  const read = readEntry(field, typed, from);
  return read.ok ? shownQuantity(field, read.value as number, to) : typed;
}

/**
 * Several readings in one field, apart by spaces, semicolons or new lines (a comma is a decimal sign); a unit may stand behind each, or once
 * at the end for all. The first that cannot be read is told.
 */
export function readSeveral(
  field: QuantityField,
  typed: string,
  system: System,
  most: number,
): { ok: true; values: number[] } | { ok: false; fault: Fault } {
  const texts = apart(typed);
  if (texts.length === 0) return { ok: false, fault: { kind: 'empty' } };
  if (texts.length > most) return { ok: false, fault: { kind: 'too-many', most } };
  const unitAtEnd = /[^\d\s.,¼½¾⅛⅜⅝⅞/+-].*$/.exec(texts.at(-1)!)?.[0] ?? '';
  const values: number[] = [];
  for (const text of texts) {
    const bare = /[\d¼½¾⅛⅜⅝⅞.,]$/.test(text);
    const read = readQuantity(field, bare ? `${text} ${unitAtEnd}` : text, system);
    if (!read.ok) return { ok: false, fault: read.fault };
    values.push(read.value as number);
  }
  return { ok: true, values };
}

/** `2.10 2.11 m`, `7 1/2 in; 8 in`: each number with what belongs to it. */
function apart(typed: string): string[] {
  const lines = typed.split(/[;\n|]+/);
  const pieces = lines.flatMap(
    (line) => line.trim().match(/[+-]?[\d.,¼½¾⅛⅜⅝⅞]+(?: \d+\/\d+)?(?:\s*[^\s\d;.,+-][^\d;\s]*)?|\S+/g) ?? [],
  );
  return pieces.filter((piece) => piece !== '' && piece !== ',');
}

/** The limits in a unit, as one would write them. */
function limits({ least, most, dimension }: QuantityField, unit: string): { low: string; high: string } {
  const say = (si: number, side: 'low' | 'high') =>
    `${limit(fromSi(si, dimension, unit), side)} ${unit}`.trim();
  return { low: say(least, 'low'), high: say(most, 'high') };
}

/** An example with the few digits that one would type. */
function sayBriefly({ example, dimension, unit }: QuantityField, system: System): string {
  const value = Number(fromSi(example, dimension, unit[system]).toPrecision(2));
  return `${exact(value)} ${unit[system]}`.trim();
}

/**
 * The value within the limits, or null. A limit written in another unit may be off in the last of its digits (0.78740157 in for
 * 2 cm): that counts as the limit.
 */
function within({ least, most }: QuantityField, si: number): number | null {
  const slack = 1e-7;
  if (!(si >= least - Math.abs(least) * slack && si <= most + Math.abs(most) * slack)) return null;
  return Math.min(most, Math.max(least, si));
}
