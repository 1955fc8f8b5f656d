import type { FieldCheckBody } from '../../../../server/http/field-messages.ts';
import { exact } from '../format.ts';
import { carried, type Fault, type QuantityField, readEntry, readSeveral } from '../quantity.ts';
import type { System } from '../units.ts';

/** A field check as typed. Pure; SI with grams comes out. */

export const areaKinds = ['measured', 'driven', 'rows'] as const;
export type AreaKind = (typeof areaKinds)[number];

const quantity = (
  dimension: QuantityField['dimension'],
  [metric, us]: readonly [string, string],
  [least, most, example]: readonly [number, number, number],
): QuantityField => ({ dimension, unit: { metric, us }, least, most, example, whole: false });

const seed = ['kg', 'lb'] as const;
const area = ['ha', 'ac'] as const;
const way = ['m', 'ft'] as const;

export const fieldFields = {
  setting: quantity('mark', ['', ''], [0, 10_000, 30]),
  filled: quantity('mass', seed, [0, 1e9, 200_000]),
  left: quantity('mass', seed, [0, 1e9, 20_000]),
  sure: quantity('mass', seed, [0, 1e9, 500]),
  area: quantity('area', area, [1, 1e9, 20_000]),
  areaDoubt: quantity('area', area, [0, 1e9, 100]),
  distance: quantity('length', way, [0.1, 1e6, 1000]),
  distanceDoubt: quantity('length', way, [0, 1e6, 2]),
  width: quantity('length', way, [0.02, 100, 3]),
  widthDoubt: quantity('length', way, [0, 100, 0.02]),
  rows: { ...quantity('count', ['', ''], [1, 400, 12]), whole: true },
} as const satisfies Record<string, QuantityField>;
export type FieldFieldId = keyof typeof fieldFields;
export const fieldFieldIds = Object.keys(fieldFields) as FieldFieldId[];

export type FieldCheckDrafts = Record<FieldFieldId | 'name', string> & {
  onStandScale: boolean;
  areaKind: AreaKind;
};
export type FieldFaults = Partial<Record<FieldFieldId | 'name', Fault>>;

/** The fields that a way of knowing the area needs. */
export const areaFields: Record<AreaKind, readonly FieldFieldId[]> = {
  measured: ['area', 'areaDoubt'],
  driven: ['distance', 'distanceDoubt', 'width', 'widthDoubt'],
  rows: ['distance', 'distanceDoubt', 'rows'],
};

/** Doubts may stay empty, and are none then; for a left-over that means that the hopper ran empty. */
const mayBeEmpty: ReadonlySet<string> = new Set(['areaDoubt', 'distanceDoubt', 'widthDoubt', 'sure', 'left']);

const mostFillings = 40;
const mostName = 80;

/** Nothing typed yet, but what the calibration knows. */
export function emptyDrafts(settings: readonly number[], rowCount: number | null): FieldCheckDrafts {
  const blank = Object.fromEntries(fieldFieldIds.map((id) => [id, '']));
  return {
    ...(blank as Record<FieldFieldId, string>),
    name: '',
    setting: settings.length === 0 ? '' : exact(settings.at(-1)!),
    rows: rowCount === null ? '' : String(rowCount),
    onStandScale: false,
    areaKind: 'measured',
  };
}

function areaOf(kind: AreaKind, of: (id: FieldFieldId) => number): FieldCheckBody['area'] {
  if (kind === 'measured') return { kind, area: of('area'), doubt: of('areaDoubt') };
  const driven = { distance: of('distance'), distanceDoubt: of('distanceDoubt') };
  return kind === 'rows'
    ? { kind, ...driven, rows: of('rows') }
    : { kind, ...driven, width: of('width'), widthDoubt: of('widthDoubt') };
}

/** The body of a field check, or what is wrong with which field. */
export function readFieldCheck(
  drafts: FieldCheckDrafts,
  system: System,
): { body: FieldCheckBody | null; faults: FieldFaults } {
  const faults: FieldFaults = {};
  const name = drafts.name.trim();
  if (name === '') faults.name = { kind: 'empty' };
  else if (name.length > mostName) faults.name = { kind: 'too-long', most: mostName };
  const filled = readSeveral(fieldFields.filled, drafts.filled, system, mostFillings);
  if (!filled.ok) faults.filled = filled.fault;
  const values: Partial<Record<FieldFieldId, number>> = {};
  for (const id of ['setting', 'left', 'sure', ...areaFields[drafts.areaKind]] as const) {
    const read = readEntry(fieldFields[id], drafts[id], system, mayBeEmpty.has(id));
    if (read.ok) values[id] = (read.value as number | null) ?? 0;
    else faults[id] = read.fault;
  }
  if (Object.keys(faults).length > 0 || !filled.ok) return { body: null, faults };
  const of = (id: FieldFieldId): number => values[id]!;
  return {
    body: {
      name,
      setting: of('setting'),
      filledGrams: filled.values,
      leftGrams: of('left'),
      usedDoubtGrams: of('sure'),
      onStandScale: drafts.onStandScale,
      area: areaOf(drafts.areaKind, of),
    },
    faults,
  };
}

/** Where in the form a fault of the server's belongs. */
export function fieldOfPointer(pointer: string): FieldFieldId | 'name' | null {
  const places: Record<string, FieldFieldId | 'name'> = {
    '/name': 'name',
    '/setting': 'setting',
    '/filledGrams': 'filled',
    '/leftGrams': 'left',
    '/usedDoubtGrams': 'sure',
    '/area/area': 'area',
    '/area/doubt': 'areaDoubt',
    '/area/distance': 'distance',
    '/area/distanceDoubt': 'distanceDoubt',
    '/area/width': 'width',
    '/area/widthDoubt': 'widthDoubt',
    '/area/rows': 'rows',
  };
  return places[pointer] ?? null;
}

/** Carries what can be read into the other system of units. */
export function convertFieldCheck(drafts: FieldCheckDrafts, from: System, to: System): FieldCheckDrafts {
  const next = { ...drafts };
  for (const id of fieldFieldIds) {
    const several = id === 'filled' && /\d[\s;]+\d/.test(drafts.filled.trim());
    if (!several) next[id] = carried(fieldFields[id], drafts[id], from, to);
  }
  return next;
}
