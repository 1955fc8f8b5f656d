import { Ajv, type ValidateFunction } from 'ajv';
import type { TSchema } from 'typebox';

const validators = new WeakMap<TSchema, ValidateFunction>();

function validatorOf(schema: TSchema): ValidateFunction {
  const known = validators.get(schema);
  if (known !== undefined) return known;
  // A named schema that stands in two places of another is the same name twice to the checker.
  const nameless = JSON.parse(JSON.stringify(schema, (key, part) => (key === '$id' ? undefined : part)));
  const made = new Ajv({ allErrors: true, strict: false }).compile(nameless);
  validators.set(schema, made);
  return made;
}

/** What is wrong with `value` by this schema, for people; empty when nothing is. */
export function complaintsOf(schema: TSchema, value: unknown): string[] {
  const validate = validatorOf(schema);
  validate(value);
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}
