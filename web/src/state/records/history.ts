import type { FieldChange } from '../../../../server/http/records-messages.ts';
import { exact, percent, when } from '../format.ts';
import { say } from '../say.ts';
import { toldWords } from '../told.ts';

/** A change of the records in words. */

type FieldName = keyof typeof say.records.fields;

const isNamed = (field: string): field is FieldName => Object.hasOwn(say.records.fields, field);

export const fieldName = (field: string): string => (isNamed(field) ? say.records.fields[field] : field);

const shares = new Set(['slip', 'slipDoubt', 'tolerance', 'confidence', 'rowsDoubt', 'repeatability']);
const isMoment = (value: string): boolean => /^\d{4}-\d{2}-\d{2}T/.test(value);

interface SetAside {
  why: string;
  by: string;
}

const isSetAside = (value: unknown): value is SetAside =>
  typeof value === 'object' && value !== null && 'why' in value && 'by' in value;

/** A value as it stands in the history. */
export function valueWords(field: string, value: unknown): string {
  if (value === null || value === undefined || value === '') return say.records.nothingThere;
  if (typeof value === 'number') {
    if (shares.has(field)) return say.records.percent({ figure: percent(value) });
    return field.endsWith('Metres') ? `${exact(value)} m` : exact(value);
  }
  if (typeof value === 'string') return isMoment(value) ? `${when(value)}` : value;
  if (isSetAside(value))
    return say.records.setAsideBy({ why: toldWords(value.why), by: toldWords(value.by) });
  return JSON.stringify(value).slice(0, 200);
}

export const whoWords = ({ by, place }: Pick<FieldChange, 'by' | 'place'>): string =>
  by === '' ? place : say.records.whoWhere({ who: toldWords(by), where: place });

/** Days that something deleted can still be brought back. */
const keptDays = 30;
const dayMillis = 24 * 3600_000;

export const daysLeft = (deletedAt: string, now: number): number =>
  Math.max(0, Math.ceil(keptDays - (now - Date.parse(deletedAt)) / dayMillis));
