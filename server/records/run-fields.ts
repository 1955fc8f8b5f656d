import type { Fields } from './model.ts';

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
