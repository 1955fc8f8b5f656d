/** What people call the fields of what comes in, by JSON pointer, with the unit that the field is in. */
const fieldWords: Record<string, [words: string, unit?: string]> = {
  '/drill': ['The part about the drill'],
  '/drill/name': ['The name of the drill'],
  '/drill/setting': ['The setting'],
  '/drill/rowSpacingMetres': ['The row spacing', 'm'],
  '/drill/rowSpacingDoubtMetres': ['The doubt of the row spacing', 'm'],
  '/drill/circumferenceMetres': ['The wheel circumference', 'm'],
  '/drill/circumferenceDoubtMetres': ['The doubt of the wheel circumference', 'm'],
  '/drill/slip': ['The slip, as a fraction,'],
  '/drill/slipDoubt': ['The doubt of the slip, as a fraction,'],
  '/rowsCaught': ['The number of rows caught'],
  '/seed': ['The part about the seed'],
  '/seed/name': ['The name of the seed'],
  '/seed/seedMassGrams': ['The mass of one seed', 'g'],
  '/seed/repeatability': ['The repeatability, as a fraction,'],
  '/target': ['The part about the target'],
  '/target/gramsPerSquareMetre': ['The target rate', 'g/m²'],
  '/target/tolerance': ['The tolerance, as a fraction,'],
  '/turns': ['The number of turns'],
  '/mode': ['The way of turning'],
  '/plannedSpeedMetresPerSecond': ['The planned ground speed', 'm/s'],
  '/path': ['The port'],
  '/limit': ['The number of rows asked for'],
  '/from': ['The position to begin at'],
  '/before': ['The run to begin before'],
};

/** One complaint of the schema checker (Ajv), with the value at fault. */
export interface Complaint {
  instancePath: string;
  keyword: string;
  params: Record<string, unknown>;
  data?: unknown;
  parentSchema?: Record<string, unknown>;
}

const greatestQuote = 40;

function given(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (typeof value === 'object') return Array.isArray(value) ? 'a list' : 'a group of values';
  const text = String(value);
  return `the text "${text.length > greatestQuote ? `${text.slice(0, greatestQuote)}...` : text}"`;
}

function wordsFor(pointer: string): { words: string; unit: string } {
  const [words, unit] = fieldWords[pointer] ?? [pointer === '' ? 'The request' : `The field ${pointer}`];
  return { words, unit: unit === undefined ? '' : ` ${unit}` };
}

/** The range that a number must lie in, as the schema has it. */
function rangeSentence({ instancePath, parentSchema, data }: Complaint): string {
  const { words, unit } = wordsFor(instancePath);
  const { minimum, maximum } = parentSchema ?? {};
  return `${words} must be between ${minimum} and ${maximum}${unit}; you gave ${given(data)}.`;
}

const typeWords: Record<string, string> = {
  number: 'a number',
  integer: 'a whole number',
  string: 'a text',
  object: 'a group of values',
  array: 'a list',
};

function typeSentence({ instancePath, params, data }: Complaint): string {
  const wanted = typeWords[String(params.type)] ?? 'something else';
  return `${wordsFor(instancePath).words} must be ${wanted}; you gave ${given(data)}.`;
}

function lengthSentence({ instancePath, keyword, params, data }: Complaint): string {
  const { words } = wordsFor(instancePath);
  if (keyword === 'minLength') return `${words} must not be empty.`;
  return `${words} must have at most ${params.limit} characters; you gave ${String(data).length}.`;
}

function choiceSentence({ instancePath, params, data }: Complaint): string {
  const choices = (params.allowedValues as unknown[]).map((choice) => `"${choice}"`);
  return `${wordsFor(instancePath).words} must be ${choices.join(' or ')}; you gave ${given(data)}.`;
}

/**
 * What is wrong with the input, as one sentence, and the JSON pointer of the field at fault. Of the complaints, at least one, the first says most:
 * where a value may also be null, the checker goes on to complain that it is not.
 */
export function sentenceFor(complaints: readonly Complaint[]): { message: string; field: string } {
  const complaint = complaints[0]!;
  const { instancePath, keyword, params } = complaint;
  switch (keyword) {
    case 'required': {
      const field = `${instancePath}/${params.missingProperty}`;
      return { message: `${wordsFor(field).words} is missing.`, field };
    }
    case 'additionalProperties': {
      const name = String(params.additionalProperty).slice(0, greatestQuote);
      const message = `There is a field too many: "${name}" means nothing here.`;
      return { message, field: `${instancePath}/${name}` };
    }
    case 'minimum':
    case 'maximum':
      return { message: rangeSentence(complaint), field: instancePath };
    case 'type':
      return { message: typeSentence(complaint), field: instancePath };
    case 'minLength':
    case 'maxLength':
      return { message: lengthSentence(complaint), field: instancePath };
    case 'enum':
      return { message: choiceSentence(complaint), field: instancePath };
    default:
      return { message: `${wordsFor(instancePath).words} is not in the right form.`, field: instancePath };
  }
}
