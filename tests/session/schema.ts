import { Ajv } from 'ajv';
import type { TSchema } from 'typebox';

/** What is wrong with `value` by this schema, for people; empty when nothing is. */
export function complaintsOf(schema: TSchema, value: unknown): string[] {
  const ajv = new Ajv({ allErrors: true, strict: false });
  // A named schema that stands in two places of another is the same name twice to the checker.
  const nameless = JSON.parse(JSON.stringify(schema, (key, part) => (key === '$id' ? undefined : part)));
  ajv.validate(nameless, value);
  return (ajv.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}
