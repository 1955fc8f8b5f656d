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
  'seedName',
  'thousandSeedWeight',
  'repeatability',
  'targetRate',
  'tolerance',
  'turns',
  'mode',
  'plannedSpeed',
  'rowSpacingDoubt',
  'circumferenceDoubt',
  'slipDoubt',
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
export interface ChoiceField extends Place {
  kind: 'choice';
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
export type Field = TextField | ChoiceField | NumberField;

interface Limits {
  minimum?: number;
  maximum?: number;
  minLength?: number;
  maxLength?: number;
  properties?: Record<string, Limits>;
  anyOf?: Limits[];
}

/** The limits that the plan's schema sets at a pointer; of a value that may be null, those of the other branch. */
function limitsAt(pointer: string): Limits {
  const steps = pointer.slice(1).split('/');
  const found = steps.reduce<Limits | undefined>(
    (limits, step) => limits?.properties?.[step],
    Plan as Limits,
  );
  if (found === undefined) throw new Error(`The plan has no ${pointer}`);
  return found.anyOf?.[0] ?? found;
}

function text(pointer: string): TextField {
  const { minLength = 0, maxLength = 80 } = limitsAt(pointer);
  return { kind: 'text', pointer, least: minLength, most: maxLength };
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
  const { minimum: least = 0, maximum: most = Number.MAX_VALUE } = limitsAt(pointer);
  const [metric, us] = typeof unit === 'string' ? [unit, unit] : unit;
  return { kind: 'number', pointer, dimension, unit: { metric, us }, least, most, example, optional, whole };
}

const length = (pointer: string, metric: string, example: number): NumberField =>
  number({ pointer, dimension: 'length', unit: [metric, 'in'], example });
const share = (pointer: string, example: number): NumberField =>
  number({ pointer, dimension: 'share', unit: '%', example });

export const fields: Record<FieldId, Field> = {
  drillName: text('/drill/name'),
  setting: text('/drill/setting'),
  rowSpacing: length('/drill/rowSpacingMetres', 'cm', 0.19),
  circumference: length('/drill/circumferenceMetres', 'm', 2.1),
  slip: share('/drill/slip', 0.02),
  rowsCaught: number({ pointer: '/rowsCaught', dimension: 'count', unit: '', example: 1, whole: true }),
  seedName: text('/seed/name'),
  thousandSeedWeight: number({
    pointer: '/seed/seedMassGrams',
    dimension: 'thousand-seed',
    unit: 'g',
    example: 0.04,
  }),
  repeatability: share('/seed/repeatability', 0.01),
  targetRate: number({
    pointer: '/target/gramsPerSquareMetre',
    dimension: 'rate',
    unit: ['kg/ha', 'lb/ac'],
    example: 8,
  }),
  tolerance: share('/target/tolerance', 0.05),
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
};

/** The field at a JSON pointer, or null when the form has none there. */
export const fieldAt = (pointer: string): FieldId | null =>
  fieldIds.find((id) => fields[id].pointer === pointer) ?? null;

/** The plan's value at a pointer of one of the fields. */
export function valueAt(plan: Plan, pointer: string): string | number | null {
  const steps = pointer.slice(1).split('/');
  return steps.reduce<unknown>((value, step) => (value as Record<string, unknown>)[step], plan) as
    | string
    | number
    | null;
}

/** The plan with another value at a pointer of one of the fields. */
export function withValue(plan: Plan, pointer: string, value: string | number | null): Plan {
  const copy = structuredClone(plan);
  const steps = pointer.slice(1).split('/');
  const last = steps.pop()!;
  const holder = steps.reduce<Record<string, unknown>>(
    (at, step) => at[step] as Record<string, unknown>,
    copy,
  );
  holder[last] = value;
  return copy;
}
