import { exact, figure, fixed } from '../state/format.ts';
import { markName, marksAround } from '../state/next-act.ts';
import { live, system } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';

/** A rate in the unit chosen, without and with the unit's name. */
export const rateNumber = (gramsPerSquareMetre: number): string =>
  figure(fromSi(gramsPerSquareMetre, 'rate', shown[system.value].rate));
export const rateWords = (gramsPerSquareMetre: number): string =>
  `${rateNumber(gramsPerSquareMetre)} ${shown[system.value].rate}`;

/** A setting as one would read it off the scale in hand: its name, or its number without digits that binary fractions left. */
export const markWords = (setting: number): string =>
  markName(live.value.plan?.drill.scale, setting) ?? exact(Number(setting.toFixed(4)));

/** A stretch of the scale in hand: its ends by name, or in tenths of a mark. */
export const stretchWords = (low: number, high: number): [from: string, to: string] =>
  marksAround(live.value.plan?.drill.scale, low, high) ?? [fixed(low, 1), fixed(high, 1)];
