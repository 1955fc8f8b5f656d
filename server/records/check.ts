import type { TSchema } from 'typebox';
import { Compile, type Validator } from 'typebox/compile';
import { FieldError } from './errors.ts';
import { type Fields, fieldsOf, type Kind, namesOf } from './model.ts';

/** Checks of what comes in, with a sentence for the first thing that does not fit. */

/** Characters that no store and no file can carry unchanged: halves of a pair, and NUL. */
const unsound = /\p{Surrogate}|\0/u;

const isSound = (value: unknown): boolean =>
  typeof value === 'string'
    ? !unsound.test(value)
    : typeof value !== 'object' || value === null || Object.values(value).every(isSound);

const validators = new WeakMap<TSchema, Validator>();

/** Compiled once: a file may hold a million values. */
function validatorOf(schema: TSchema): Validator {
  const known = validators.get(schema) ?? Compile(schema);
  validators.set(schema, known);
  return known;
}

/** `value` itself where it fits. `what` names the whole in the sentence. @throws FieldError. */
export function checkedBy<T>(schema: TSchema, value: unknown, what: string): T {
  const validator = validatorOf(schema);
  if (validator.Check(value)) {
    if (isSound(value)) return value as T;
    throw new FieldError('', `A text in ${what} holds characters that are none.`);
  }
  const [first] = validator.Errors(value);
  const field = first?.instancePath ?? '';
  const place = field === '' ? what : `${field.slice(1).replaceAll('/', ' ')} in ${what}`;
  throw new FieldError(
    field,
    `Something does not fit: ${place} ${first?.message ?? 'is not as it should be'}.`,
  );
}

/** The relations between fields that a schema cannot say. */
const relations: { [K in Kind]?: (fields: Fields<K>) => void } = {
  configuration({ scaleLow, scaleHigh, scaleStep }) {
    if (!(scaleHigh > scaleLow)) {
      throw new FieldError('/scaleHigh', 'The setting scale must end above where it begins.');
    }
    if (scaleStep !== null && scaleStep > scaleHigh - scaleLow) {
      throw new FieldError('/scaleStep', 'The step of the setting scale is longer than the scale.');
    }
  },
  lot({ germination, hard, dormant }) {
    if (germination + hard + dormant > 1 + 1e-9) {
      throw new FieldError(
        '/germination',
        'Germination, hard and dormant seed come to more than 100 %: the tag may count hard seed in already, then set hard to 0.',
      );
    }
  },
};

/**
 * All fields of an item, each fit by itself. Two people who each change one field rightly may make a whole of which a relation does not hold: that is
 * on record as they made it, and whoever next types into it is told. @throws FieldError.
 */
export function shapedFields<K extends Kind>(kind: K, fields: unknown): Fields<K> {
  return checkedBy<Fields<K>>(fieldsOf[kind], fields, `the ${namesOf[kind]}`);
}

/** All fields of an item as they are typed in: each fit by itself, and all together. @throws FieldError. */
export function checkedFields<K extends Kind>(kind: K, fields: unknown): Fields<K> {
  const whole = shapedFields(kind, fields);
  (relations[kind] as ((fields: Fields<K>) => void) | undefined)?.(whole);
  return whole;
}
