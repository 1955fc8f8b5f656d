import type { Fields } from './model.ts';
import type { RunEnd } from './types.ts';

/** The number in a setting as people write it, with a point or a comma; null where it is none. */
export function settingNumberIn(text: string): number | null {
  const plain = text.trim().replace(',', '.');
  return /^[+-]?\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

/** What can be changed of a run, as it is when the run begins. */
export function firstRunFields(settingText: string, given: Partial<Fields<'run'>> = {}): Fields<'run'> {
  return {
    calibrationId: null,
    settingNumber: settingNumberIn(settingText),
    settingText,
    setAside: null,
    note: '',
    ...given,
  };
}

/** What a run is found by besides its own fields: the names in its plan. */
export const runLabel = (drillName: string, seedName: string): string => `${drillName} ${seedName}`;

/** Longer reasons the record does not take. */
const longestWhy = 400;

/** What sets a run aside at its very end: its own trace says that its rate is not to be trusted. People may bring it back. Null where it is sound. */
export function setAsideByTrace({ figures, endedAt }: RunEnd): Fields<'run'>['setAside'] {
  const spoilt = figures.findings.find(({ spoils }) => spoils);
  return spoilt === undefined
    ? null
    : { why: spoilt.sentence.slice(0, longestWhy), by: 'the trace', at: endedAt };
}
