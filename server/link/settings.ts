import type { CellScale, Identity } from './readings.ts';

/** The board's settings: what keys there are, what each may be, and what they mean for a run. */

const cellNumbers = [1, 2, 3, 4, 5, 6] as const;
type CellNumber = (typeof cellNumbers)[number];

export type SettingKey =
  | 'name'
  | 'ppt'
  | 'debounce'
  | 'cells'
  | 'direction'
  | 'warn'
  | `slope${CellNumber}`
  | `zero${CellNumber}`;

/** Least and greatest value of every setting that is a whole number. */
const ranges: Readonly<Record<Exclude<SettingKey, 'name'>, readonly [number, number]>> = {
  ppt: [1, 2000],
  debounce: [20, 20000],
  cells: [1, 6],
  direction: [0, 2],
  warn: [0, 65535],
  ...(Object.fromEntries(cellNumbers.map((n) => [`slope${n}`, [-2e9, 2e9]])) as Record<
    `slope${CellNumber}`,
    [number, number]
  >),
  ...(Object.fromEntries(cellNumbers.map((n) => [`zero${n}`, [-8388608, 8388607]])) as Record<
    `zero${CellNumber}`,
    [number, number]
  >),
};

export const settingKeys: readonly SettingKey[] = ['name', ...(Object.keys(ranges) as SettingKey[])];

export function isSettingKey(key: string): key is SettingKey {
  return key === 'name' || Object.hasOwn(ranges, key);
}

/** 1 to 16 of A-Z a-z 0-9 _ - */
export const standName = /^[A-Za-z0-9_-]{1,16}$/;

/** A whole number written the one shortest way: no plus, no leading zero, no minus before zero. */
export const wholeNumber = /^(0|-?[1-9][0-9]{0,9})$/;

/** True when `value`, as text, is what the board would take for `key`. */
export function settingFits(key: SettingKey, value: string): boolean {
  if (key === 'name') return standName.test(value);
  if (!wholeNumber.test(value)) return false;
  const [least, greatest] = ranges[key];
  const number = Number(value);
  return number >= least && number <= greatest && !(number === 0 && key.startsWith('slope'));
}

/** What a run must know of the stand it is made on. */
export interface StandFacts {
  name: string;
  firmware: string;
  boot: number;
  pulsesPerTurn: number;
  /** One straight line a fitted cell, in the order of a reading's counts. */
  cells: CellScale[];
}

/** The facts in an identity and the settings read after it, or null while a fitted cell's line has not been read. */
export function standFacts(identity: Identity, settings: ReadonlyMap<SettingKey, string>): StandFacts | null {
  const cells: CellScale[] = [];
  for (const n of cellNumbers.slice(0, identity.cells)) {
    const nanogramsPerCount = settings.get(`slope${n}`);
    const zeroCount = settings.get(`zero${n}`);
    if (nanogramsPerCount === undefined || zeroCount === undefined) return null;
    cells.push({ gramsPerCount: Number(nanogramsPerCount) / 1e9, zeroCount: Number(zeroCount) });
  }
  const { name, firmware, boot, pulsesPerTurn } = identity;
  return { name, firmware, boot, pulsesPerTurn, cells };
}
