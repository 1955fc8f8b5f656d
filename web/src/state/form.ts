import type { Plan } from '../../../server/http/messages.ts';
import {
  type Field,
  type FieldId,
  fieldIds,
  fields,
  type ListField,
  type NumberField,
  type Value,
  valueAt,
  withValue,
} from './fields.ts';
import { exact, limit } from './format.ts';
import { readNumber } from './number.ts';
import { completeScale } from './scale.ts';
import { findUnit, fromSi, type System, toSi } from './units.ts';

/** What was typed, field by field. A field that is not here shows the plan and follows it. */
export type Drafts = Partial<Record<FieldId, string>>;

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
  | { kind: 'closed-too-high' };

/** What reading a quantity needs to know of its field. */
export type QuantityField = Omit<NumberField, 'kind' | 'pointer' | 'optional'>;

export type Faults = Partial<Record<FieldId, Fault>>;
export type Read = { ok: true; value: Value } | { ok: false; fault: Fault };

const fault = (found: Fault): Read => ({ ok: false, fault: found });

/** The text that a field shows for a plan. */
export function shownText(id: FieldId, plan: Plan, system: System): string {
  const field = fields[id];
  const value = valueAt(plan, field.pointer);
  if (value === null) return '';
  if (Array.isArray(value)) return value.join(', ');
  if (field.kind !== 'number' || typeof value === 'string') return String(value);
  return exact(fromSi(value, field.dimension, field.unit[system]));
}

/** Reads what was typed into a field: a value for the plan (SI), or what is wrong with it. */
export function readField(id: FieldId, typed: string, system: System): Read {
  const field: Field = fields[id];
  const text = typed.trim();
  if (field.kind === 'choice') return { ok: true, value: text };
  if (field.kind === 'text') {
    if (text.length < field.least) return fault({ kind: 'empty' });
    return text.length > field.most
      ? fault({ kind: 'too-long', most: field.most })
      : { ok: true, value: text };
  }
  if (field.kind === 'list') return readList(field, text);
  if (text === '') return field.optional ? { ok: true, value: null } : fault({ kind: 'empty' });
  return readQuantity(field, text, system);
}

function readList({ most, mostNames }: ListField, text: string): Read {
  const names = text.split(/[,;]/).map((name) => name.trim());
  const value = [...new Set(names.filter((name) => name !== ''))];
  if (value.some((name) => name.length > most)) return fault({ kind: 'too-long', most });
  return value.length > mostNames ? fault({ kind: 'too-many', most: mostNames }) : { ok: true, value };
}

/** A number with its unit, or what is wrong with it. */
export function readQuantity(field: QuantityField, text: string, system: System): Read {
  const { dimension } = field;
  const own = field.unit[system];
  const example = sayBriefly(field, system);
  const typed = readNumber(text);
  if (typed === null) return fault({ kind: 'nonsense', typed: text, example });
  const unit = typed.unit === '' ? own : findUnit(dimension, typed.unit)?.label;
  if (unit === undefined) return fault({ kind: 'unit', unit: typed.unit, example });
  const readings = [typed.value, ...(typed.grouped === null ? [] : [typed.grouped])];
  const fits = readings.flatMap((reading) => within(field, toSi(reading, dimension, unit)) ?? []);
  const [value] = fits;
  if (value === undefined) return fault({ kind: 'range', ...limits(field, own) });
  if (fits.length > 1)
    return fault({ kind: 'two-readings', one: exact(readings[0]!), other: exact(readings[1]!) });
  if (field.whole && !Number.isInteger(value)) return fault({ kind: 'whole' });
  return { ok: true, value };
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
  return `${value} ${unit[system]}`.trim();
}

/**
 * The value within the limits, or null. A limit written in another unit may be off in the last of its digits (0.78740157 in for
 * 2 cm): that counts as the limit.
 */
function within({ least, most }: QuantityField, si: number): number | null {
  const slack = 1e-7;
  if (si < least - Math.abs(least) * slack || si > most + Math.abs(most) * slack) return null;
  return Math.min(most, Math.max(least, si));
}

/** The whole form: the plan it makes (faulty fields keep the base's value), its faults, and whether anything differs from the base. */
export function readForm(
  base: Plan,
  drafts: Drafts,
  system: System,
): { plan: Plan; faults: Faults; changed: boolean } {
  let plan = base;
  const faults: Faults = {};
  for (const id of fieldIds) {
    const typed = drafts[id];
    if (typed === undefined) continue;
    const read = readField(id, typed, system);
    if (read.ok) plan = withValue(plan, fields[id].pointer, read.value);
    else faults[id] = read.fault;
  }
  const whole = completeScale(base, plan, faults);
  plan = whole.plan;
  Object.assign(faults, whole.faults);
  const changed = Object.keys(faults).length > 0 || JSON.stringify(plan) !== JSON.stringify(base);
  return { plan, faults, changed };
}

/** Drafts with one field typed into; a field that shows the plan's own text again is no draft. */
export function type(drafts: Drafts, id: FieldId, typed: string, base: Plan, system: System): Drafts {
  const { [id]: _, ...others } = drafts;
  return typed === shownText(id, base, system) ? others : { ...others, [id]: typed };
}

/** Drafts carried from one system of units to the other: what can be read is converted, what cannot stays as it was typed. */
export function convertDrafts(drafts: Drafts, base: Plan, from: System, to: System): Drafts {
  const converted: Drafts = {};
  for (const id of fieldIds) {
    const typed = drafts[id];
    if (typed === undefined) continue;
    const read = readField(id, typed, from);
    converted[id] = read.ok ? shownText(id, withValue(base, fields[id].pointer, read.value), to) : typed;
  }
  return converted;
}
