import type { Dice } from '../link/dice.ts';

/** Values made from the service's own description of its routes, mostly of the right shape, now and then bent. */

export interface Schema {
  type?: string;
  enum?: unknown[];
  const?: unknown;
  anyOf?: Schema[];
  properties?: Record<string, Schema>;
  required?: string[];
  items?: Schema | Schema[];
  pattern?: string;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  minLength?: number;
  maxLength?: number;
  minItems?: number;
  maxItems?: number;
}

export const pick = <T>(dice: Dice, list: readonly T[]): T => list[dice.below(list.length)]!;
const oneIn = (dice: Dice, chance: number): boolean => dice.below(chance) === 0;

/** Texts that have upset programs before. */
const awkward = [
  '',
  ' ',
  '0',
  '-1',
  'null',
  'NaN',
  '1e999',
  '__proto__',
  'constructor',
  'toString',
  '../../etc/passwd',
  '%00',
  '\u0000',
  '\ud800',
  '\u202e\u200b',
  '=1+1',
  "'; DROP TABLE run; --",
  '"',
  '%',
  '*',
  '<script>',
  '{{7*7}}',
  '2026-02-31T25:61:61Z',
  '00000000-0000-0000-0000-000000000000',
  'é̂'.repeat(20),
  'x'.repeat(300),
] as const;

const bent: ((dice: Dice) => unknown)[] = [
  () => null,
  () => true,
  () => -0,
  () => 1e308,
  () => -1e-320,
  () => Number.MAX_SAFE_INTEGER + 2,
  () => [],
  () => ({}),
  () => [[[[[[[[]]]]]]]],
  (dice) => pick(dice, awkward),
  (dice) => Array.from({ length: dice.below(60) }, () => dice.below(9)),
  (dice) => JSON.parse(`{"${pick(dice, ['__proto__', 'constructor', 'length', 'x'])}":{"prototype":1}}`),
  (dice) => 'x'.repeat(dice.below(3000)),
];

/** A text that fits one of the patterns in use, or none. */
function patterned(dice: Dice, pattern: string): string {
  const digits = (count: number) => Array.from({ length: count }, () => dice.below(10)).join('');
  if (pattern.includes('[0-9a-f-]{36}'))
    return `${digits(8)}-${digits(4)}-7${digits(3)}-8${digits(3)}-${digits(12)}`;
  if (pattern.includes('.db')) return `20${digits(2)}-01-01T00-00-00-${digits(3)}Z.db`;
  if (pattern.includes('\\d{4}-\\d{2}')) return `20${digits(2)}-${digits(2)}-${digits(2)}`;
  return digits(1 + dice.below(6));
}

function textFor(dice: Dice, { pattern, minLength = 0, maxLength = 40 }: Schema): string {
  if (pattern !== undefined && !oneIn(dice, 5)) return patterned(dice, pattern);
  if (oneIn(dice, 4)) return pick(dice, awkward);
  const length = pick(dice, [minLength, maxLength, dice.below(20), maxLength + 1]);
  return Array.from({ length: Math.min(length, 500) }, () => pick(dice, [...'abcXYZ 0123456789-,.ü'])).join(
    '',
  );
}

function numberFor(dice: Dice, { type, minimum, maximum, exclusiveMinimum }: Schema): number {
  const low = minimum ?? exclusiveMinimum ?? -1000;
  const high = maximum ?? 1000;
  const value = pick(dice, [
    low,
    high,
    low - 1,
    high * (1 + 1e-9),
    low + ((high - low) * dice.below(1001)) / 1000,
  ]);
  return type === 'integer' && !oneIn(dice, 10) ? Math.round(value) : value;
}

function groupFor(dice: Dice, { properties = {}, required = [] }: Schema): Record<string, unknown> {
  const group: Record<string, unknown> = {};
  for (const [name, schema] of Object.entries(properties)) {
    const wanted = required.includes(name) ? !oneIn(dice, 40) : oneIn(dice, 2);
    if (wanted) group[name] = valueFor(dice, schema);
  }
  if (oneIn(dice, 40)) group[pick(dice, awkward)] = pick(dice, bent)(dice);
  return group;
}

function listFor(dice: Dice, { items, minItems = 0, maxItems = 8 }: Schema): unknown[] {
  if (Array.isArray(items)) return items.map((item) => valueFor(dice, item));
  const length = pick(dice, [minItems, Math.min(maxItems, 200), dice.below(6)]);
  return Array.from({ length }, () => valueFor(dice, items ?? {}));
}

/** A value for this schema; one in twenty is something else altogether. */
export function valueFor(dice: Dice, schema: Schema): unknown {
  if (oneIn(dice, 20)) return pick(dice, bent)(dice);
  if (schema.const !== undefined) return schema.const;
  if (schema.enum !== undefined) return oneIn(dice, 10) ? pick(dice, awkward) : pick(dice, schema.enum);
  if (schema.anyOf !== undefined) return valueFor(dice, pick(dice, schema.anyOf));
  switch (schema.type) {
    case 'object':
      return groupFor(dice, schema);
    case 'array':
      return listFor(dice, schema);
    case 'number':
    case 'integer':
      return numberFor(dice, schema);
    case 'boolean':
      return oneIn(dice, 2);
    case 'null':
      return null;
    default:
      return textFor(dice, schema);
  }
}

/** Some of the bytes changed, left out, said twice, or new. */
export function damaged(dice: Dice, bytes: Buffer): Buffer {
  const at = dice.below(bytes.length + 1);
  const length = 1 + dice.below(20);
  switch (dice.below(5)) {
    case 0: {
      const copy = Buffer.from(bytes);
      for (let hit = 1 + dice.below(8); hit > 0 && copy.length > 0; hit--) {
        copy[dice.below(copy.length)]! ^= 1 << dice.below(8);
      }
      return copy;
    }
    case 1:
      return bytes.subarray(0, at);
    case 2:
      return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + length)]);
    case 3:
      return Buffer.concat([bytes.subarray(0, at), bytes.subarray(Math.max(0, at - length))]);
    default:
      return Buffer.concat([bytes.subarray(0, at), dice.bytes(length), bytes.subarray(at)]);
  }
}
