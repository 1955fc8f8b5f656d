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

function number(
  pointer: string,
  dimension: Dimension,
  metric: string,
  us = metric,
  { optional = false, whole = false } = {},
): NumberField {
  const { minimum = 0, maximum = Number.MAX_VALUE } = limitsAt(pointer);
  return {
    kind: 'number',
    pointer,
    dimension,
    unit: { metric, us },
    least: minimum,
    most: maximum,
    optional,
    whole,
  };
}

export const fields: Record<FieldId, Field> = {
  drillName: text('/drill/name'),
  setting: text('/drill/setting'),
  rowSpacing: number('/drill/rowSpacingMetres', 'length', 'cm', 'in'),
  circumference: number('/drill/circumferenceMetres', 'length', 'm', 'in'),
  slip: number('/drill/slip', 'share', '%'),
  rowsCaught: number('/rowsCaught', 'count', '', '', { whole: true }),
  seedName: text('/seed/name'),
  thousandSeedWeight: number('/seed/seedMassGrams', 'thousand-seed', 'g'),
  repeatability: number('/seed/repeatability', 'share', '%'),
  targetRate: number('/target/gramsPerSquareMetre', 'rate', 'kg/ha', 'lb/ac'),
  tolerance: number('/target/tolerance', 'share', '%'),
  turns: number('/turns', 'turns', 'turns'),
  mode: { kind: 'choice', pointer: '/mode' },
  plannedSpeed: number('/plannedSpeedMetresPerSecond', 'speed', 'km/h', 'mph', { optional: true }),
  rowSpacingDoubt: number('/drill/rowSpacingDoubtMetres', 'length', 'mm', 'in'),
  circumferenceDoubt: number('/drill/circumferenceDoubtMetres', 'length', 'mm', 'in'),
  slipDoubt: number('/drill/slipDoubt', 'share', '%'),
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
