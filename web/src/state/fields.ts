import { Plan } from '../../../server/http/messages.ts';
import type { Dimension, System } from './units.ts';

/** The fields of the plan form: where each stands in the plan, its dimension, the unit it shows, and the limits of the plan's schema. */
export const fieldIds = [
  'drillName',
  'setting',
  'rowSpacing',
  'circumference',
  'slip',
  'rowsCaught',
  'rowCount',
  'scaleLow',
  'scaleHigh',
  'scaleStep',
  'scaleMarks',
  'configuration',
  'otherConfigurations',
  'shaftRatio',
  'seedName',
  'parts',
  'thousandSeedWeight',
  'bulkDensity',
  'repeatability',
  'targetUnit',
  'targetRate',
  'establishment',
  'tolerance',
  'confidence',
  'turns',
  'mode',
  'plannedSpeed',
  'rowSpacingDoubt',
  'circumferenceDoubt',
  'slipDoubt',
  'closedAt',
  'leverPlay',
  'rowSpacingFrom',
  'circumferenceFrom',
] as const;
export type FieldId = (typeof fieldIds)[number];

interface Place {
  /** JSON pointer into the plan; also what a refusal of the server names. */
  pointer: string;
}
export interface TextField extends Place {
  kind: 'text';
  least: number;
  most: number;
}
/** What the seed is made of: the fields of all its parts, as `setup/seed.ts` reads them. */
export interface PartsField extends Place {
  kind: 'parts';
}
/** What a figure came from, as a helper made it; its draft is JSON. */
export interface WorkingField extends Place {
  kind: 'working';
}
export interface ChoiceField extends Place {
  kind: 'choice';
}
/** Names, written with commas between them. */
export interface ListField extends Place {
  kind: 'list';
  /** Longest name, and most names. */
  most: number;
  mostNames: number;
}
export interface NumberField extends Place {
  kind: 'number';
  dimension: Dimension;
  unit: Record<System, string>;
  /** SI limits, both allowed. */
  least: number;
  most: number;
  /** SI value that the field gives as an example. */
  example: number;
  optional: boolean;
  whole: boolean;
}
export type Field = TextField | ChoiceField | ListField | NumberField | PartsField | WorkingField;
/** What stands in a plan at a field. */
export type Value = string | number | string[] | object | null;

interface Limits {
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  maxItems?: number;
  items?: Limits;
  minLength?: number;
  maxLength?: number;
  properties?: Record<string, Limits>;
  anyOf?: Limits[];
}

/** What the plan's schema says at a pointer. */
function schemaAt(pointer: string): Limits {
  const steps = pointer.slice(1).split('/');
  const found = steps.reduce<Limits | undefined>(
    (limits, step) => (limits?.anyOf?.[0] ?? limits)?.properties?.[step],
    Plan as Limits,
  );
  if (found === undefined) throw new Error(`The plan has no ${pointer}`);
  return found;
}

/** The limits set at a pointer; of a value that may be null, those of the other branch. */
function limitsAt(pointer: string): Limits {
  const found = schemaAt(pointer);
  return found.anyOf?.[0] ?? found;
}

function text(pointer: string): TextField {
  const { minLength = 0, maxLength = 80 } = limitsAt(pointer);
  return { kind: 'text', pointer, least: minLength, most: maxLength };
}

function list(pointer: string): ListField {
  const { maxItems = 20, items } = limitsAt(pointer);
  return { kind: 'list', pointer, most: items?.maxLength ?? 80, mostNames: maxItems };
}

interface Numbers {
  pointer: string;
  dimension: Dimension;
  /** One unit for both systems, or metric and US. */
  unit: string | [metric: string, us: string];
  example: number;
  optional?: boolean;
  whole?: boolean;
}

function number({
  pointer,
  dimension,
  unit,
  example,
  optional = false,
  whole = false,
}: Numbers): NumberField {
  const { minimum, exclusiveMinimum, maximum: most = Number.MAX_VALUE } = limitsAt(pointer);
  // Where the least value itself is not allowed, one that no scale goes below.
  const least = minimum ?? (exclusiveMinimum === undefined ? 0 : exclusiveMinimum + 0.001);
  const [metric, us] = typeof unit === 'string' ? [unit, unit] : unit;
  return { kind: 'number', pointer, dimension, unit: { metric, us }, least, most, example, optional, whole };
}

const length = (pointer: string, metric: string, example: number): NumberField =>
  number({ pointer, dimension: 'length', unit: [metric, 'in'], example });
const share = (pointer: string, example: number, optional = false): NumberField =>
  number({ pointer, dimension: 'share', unit: '%', example, optional });
/** A place on the drill's own setting scale, or a distance on it. */
const mark = (pointer: string, example: number): NumberField =>
  number({ pointer, dimension: 'mark', unit: '', example, optional: true });

export const fields: Record<FieldId, Field> = {
  drillName: text('/drill/name'),
  parts: { kind: 'parts', pointer: '/seed/parts' },
  setting: text('/drill/setting'),
  rowSpacing: length('/drill/rowSpacingMetres', 'cm', 0.19),
  circumference: length('/drill/circumferenceMetres', 'm', 2.1),
  slip: share('/drill/slip', 0.02),
  rowsCaught: number({ pointer: '/rowsCaught', dimension: 'count', unit: '', example: 1, whole: true }),
  rowCount: number({
    pointer: '/drill/rowCount',
    dimension: 'count',
    unit: '',
    example: 12,
    optional: true,
    whole: true,
  }),
  scaleLow: mark('/drill/scale/low', 0),
  scaleHigh: mark('/drill/scale/high', 80),
  scaleStep: mark('/drill/scale/step', 1),
  scaleMarks: list('/drill/scale/marks'),
  configuration: text('/drill/scale/configuration'),
  otherConfigurations: list('/drill/scale/otherConfigurations'),
  shaftRatio: number({
    pointer: '/drill/shaftRatio',
    dimension: 'ratio',
    unit: '',
    example: 1,
    optional: true,
  }),
  seedName: text('/seed/name'),
  thousandSeedWeight: number({
    pointer: '/seed/seedMassGrams',
    dimension: 'thousand-seed',
    unit: 'g',
    example: 0.04,
  }),
  bulkDensity: number({
    pointer: '/seed/bulkDensityKilogramsPerCubicMetre',
    dimension: 'density',
    unit: ['kg/hL', 'lb/bu'],
    example: 700,
    optional: true,
  }),
  repeatability: share('/seed/repeatability', 0.01),
  targetRate: number({
    pointer: '/target/gramsPerSquareMetre',
    dimension: 'rate',
    unit: ['kg/ha', 'lb/ac'],
    example: 8,
  }),
  targetUnit: { kind: 'choice', pointer: '/target/stated/unit' },
  establishment: share('/target/stated/establishment', 0.7, true),
  tolerance: share('/target/tolerance', 0.05),
  confidence: share('/target/confidence', 0.9, true),
  turns: number({ pointer: '/turns', dimension: 'turns', unit: 'turns', example: 25 }),
  mode: { kind: 'choice', pointer: '/mode' },
  plannedSpeed: number({
    pointer: '/plannedSpeedMetresPerSecond',
    dimension: 'speed',
    unit: ['km/h', 'mph'],
    example: 2,
    optional: true,
  }),
  rowSpacingDoubt: length('/drill/rowSpacingDoubtMetres', 'mm', 0.002),
  circumferenceDoubt: length('/drill/circumferenceDoubtMetres', 'mm', 0.01),
  slipDoubt: share('/drill/slipDoubt', 0.01),
  rowSpacingFrom: { kind: 'working', pointer: '/drill/rowSpacingFrom' },
  circumferenceFrom: { kind: 'working', pointer: '/drill/circumferenceFrom' },
  closedAt: mark('/drill/scale/closedAt', 0),
  leverPlay: mark('/drill/scale/leverPlay', 0.2),
};

/** Kinds of fields that hold more than one value. */
const holders: readonly Field['kind'][] = ['list', 'parts', 'working'];

/** The field at a JSON pointer, or of the list that it points into; null when the form has none there. */
export const fieldAt = (pointer: string): FieldId | null =>
  fieldIds.find((id) => fields[id].pointer === pointer) ??
  fieldIds.find((id) => holders.includes(fields[id].kind) && pointer.startsWith(`${fields[id].pointer}/`)) ??
  null;

/** The plan's value at a pointer of one of the fields; null too where the plan leaves out the group that it stands in. */
export function valueAt(plan: Plan, pointer: string): Value {
  const steps = pointer.slice(1).split('/');
  const found = steps.reduce<unknown>(
    (value, step) => (value as Record<string, unknown> | null)?.[step],
    plan,
  );
  return (found ?? null) as Value;
}

/** Whether the plan's schema allows null at a pointer; elsewhere nothing at all stands for no value. */
const mayBeNull = (pointer: string): boolean => schemaAt(pointer).anyOf !== undefined;

/**
 * The plan with another value at a pointer of one of the fields. A group that the plan leaves out is begun; no value, where there was
 * none, changes nothing.
 */
export function withValue(plan: Plan, pointer: string, value: Value): Plan {
  if (value === null && valueAt(plan, pointer) === null) return plan;
  const copy = structuredClone(plan);
  const steps = pointer.slice(1).split('/');
  const last = steps.pop()!;
  let holder = copy as unknown as Record<string, unknown>;
  for (const step of steps) {
    holder[step] ??= {};
    holder = holder[step] as Record<string, unknown>;
  }
  if (value === null && !mayBeNull(pointer)) delete holder[last];
  else holder[last] = value;
  return copy;
}
