import type { Plan } from '../../../server/http/messages.ts';
import { type Field, type FieldId, fieldIds, fields, type ListField, valueAt, withValue } from './fields.ts';
import { exact } from './format.ts';
import { type Fault, faulty, type Read, readQuantity } from './quantity.ts';
import { completeScale } from './scale.ts';
import { chosenUnit, completed } from './setup/complete.ts';
import { convertSeed, draftsOf, readSeedText, seedText } from './setup/seed.ts';
import { isPlain } from './setup/target.ts';
import { fromSi, type System } from './units.ts';

/** What was typed, field by field. A field that is not here shows the plan and follows it. */
export type Drafts = Partial<Record<FieldId, string>>;

export type { Fault, QuantityField, Read } from './quantity.ts';
export { readQuantity } from './quantity.ts';

export type Faults = Partial<Record<FieldId, Fault>>;

/** Fields that mean something only together with others: `setup/complete.ts` reads them. */
const together: readonly FieldId[] = ['parts', 'targetUnit', 'targetRate', 'establishment'];

/** The text that a field shows for a plan. */
export function shownText(id: FieldId, plan: Plan, system: System): string {
  const field = fields[id];
  if (field.kind === 'parts') return seedText(draftsOf(plan.seed, system));
  const { stated } = plan.target;
  if (id === 'targetRate' && stated?.figure !== undefined) return exact(stated.figure);
  const value = valueAt(plan, field.pointer);
  if (value === null) return '';
  if (field.kind === 'working') return JSON.stringify(value);
  if (Array.isArray(value)) return value.join(', ');
  if (field.kind !== 'number' || typeof value !== 'number') return String(value);
  return exact(fromSi(value, field.dimension, field.unit[system]));
}

/** Reads what was typed into a field: a value for the plan (SI), or what is wrong with it. */
export function readField(id: FieldId, typed: string, system: System): Read {
  const field: Field = fields[id];
  const text = typed.trim();
  if (field.kind === 'choice' || field.kind === 'parts') return { ok: true, value: text };
  if (field.kind === 'working') return { ok: true, value: readWorking(text) };
  if (field.kind === 'text') {
    if (text.length < field.least) return faulty({ kind: 'empty' });
    return text.length > field.most
      ? faulty({ kind: 'too-long', most: field.most })
      : { ok: true, value: text };
  }
  if (field.kind === 'list') return readList(field, text);
  if (text === '') return field.optional ? { ok: true, value: null } : faulty({ kind: 'empty' });
  return readQuantity(field, text, system);
}

function readWorking(text: string): object | null {
  try {
    return JSON.parse(text) as object | null;
  } catch {
    return null;
  }
}

function readList({ most, mostNames }: ListField, text: string): Read {
  const names = text.split(/[,;]/).map((name) => name.trim());
  const value = [...new Set(names.filter((name) => name !== ''))];
  if (value.some((name) => name.length > most)) return faulty({ kind: 'too-long', most });
  return value.length > mostNames ? faulty({ kind: 'too-many', most: mostNames }) : { ok: true, value };
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
    if (typed === undefined || together.includes(id)) continue;
    const read = readField(id, typed, system);
    if (read.ok) plan = withValue(plan, fields[id].pointer, read.value);
    else faults[id] = read.fault;
  }
  const scaled = completeScale(base, plan, faults);
  const all = { plan: scaled.plan, faults: { ...faults, ...scaled.faults } };
  const whole = completed(all, base, drafts, system);
  const changed = Object.keys(whole.faults).length > 0 || JSON.stringify(whole.plan) !== JSON.stringify(base);
  return { ...whole, changed };
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
    if (keepsText(id, base, drafts, from)) {
      converted[id] = typed;
      continue;
    }
    if (id === 'parts') {
      const seed = readSeedText(typed);
      converted[id] = seed === null ? typed : seedText(convertSeed(seed, from, to));
      continue;
    }
    const read = readField(id, typed, from);
    converted[id] = read.ok ? shownText(id, withValue(base, fields[id].pointer, read.value), to) : typed;
  }
  return converted;
}

/** Texts that no change of units touches: choices, workings in SI, and a target stated in a unit of its own. */
function keepsText(id: FieldId, base: Plan, drafts: Drafts, system: System): boolean {
  const { kind } = fields[id];
  if (id === 'targetRate') return !isPlain(chosenUnit(base, drafts, system));
  return kind === 'choice' || kind === 'working';
}
