import { unitSize } from '../../domain/units.ts';
import type { PaperFacts, PaperWish } from './types.ts';

/** Figures as they stand on paper, in the reader's units and with the reader's decimal sign. */

const rateUnits = {
  metric: { name: 'kg/ha', size: unitSize.kilogramPerHectare },
  us: { name: 'lb/ac', size: unitSize.poundPerAcre },
} as const;

/** Decimals of a figure of this size: about four digits, at least those that matter on a drill. */
const decimalsOf = (size: number): number => (size >= 1000 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3);

export interface PaperNumbers {
  rateUnit: string;
  /** A rate in g/m² in the reader's unit, without and with its name. */
  rate(gramsPerSquareMetre: number): string;
  rateWithUnit(gramsPerSquareMetre: number): string;
  /** A number with all digits that mean anything, as it was typed in. */
  exact(value: number): string;
  /** A mark of the setting scale as it is written there: its letter, or its number without the digits that binary fractions left. */
  mark(setting: number): string;
  /** A stretch of the setting scale: in tenths of a mark, or where marks carry letters from the one below to the one above. */
  stretch(low: number, high: number): string;
  /** A share as per cent, without the sign. */
  percent(share: number): string;
  /** A chance in whole per cent, never called sure, nor more than it is. */
  chance(share: number): string;
  grams(value: number): string;
  turns(value: number): string;
  /** A length with its unit: short ones in cm or inches, longer ones in m or inches. */
  length(metres: number): string;
  date(iso: string): string;
}

/** `scale`: for the marks that carry letters. */
export function paperNumbers(
  { language, system }: Pick<PaperWish, 'language' | 'system'>,
  scale: PaperFacts['view']['scale'] = null,
): PaperNumbers {
  const fixed = (value: number, decimals: number) =>
    new Intl.NumberFormat(language, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      useGrouping: false,
    }).format(value);
  const exact = (value: number) =>
    new Intl.NumberFormat(language, { maximumSignificantDigits: 6, useGrouping: false }).format(value);
  const { name: rateUnit, size } = rateUnits[system];
  /** The letter at the mark that `round` makes of a place on the scale; the last one where that lies beyond the ends. */
  const letterBy = (round: (marks: number) => number, setting: number): string | undefined => {
    const { marks } = scale ?? {};
    if (scale === null || marks === undefined) return undefined;
    const at = round((setting - scale.low) / scale.step);
    return marks[Math.min(marks.length - 1, Math.max(0, at))];
  };
  const rate = (si: number) => fixed(si / size, decimalsOf(Math.abs(si / size)));
  return {
    rateUnit,
    rate,
    rateWithUnit: (si) => `${rate(si)} ${rateUnit}`,
    exact,
    mark: (setting) => letterBy(Math.round, setting) ?? exact(Number(setting.toFixed(4))),
    stretch: (low, high) => {
      const [from, to] = [letterBy(Math.floor, low), letterBy(Math.ceil, high)];
      if (from === undefined || to === undefined) return `${fixed(low, 1)} – ${fixed(high, 1)}`;
      return from === to ? from : `${from} – ${to}`;
    },
    percent: (share) => fixed(share * 100, share !== 0 && share < 0.001 ? 2 : 1),
    chance: (share) =>
      share > 0.99
        ? `> ${exact(99)}`
        : share < 0.01
          ? `< ${exact(1)}`
          : fixed(Math.floor(share * 100 + 1e-9), 0),
    grams: (value) => fixed(Object.is(value, -0) ? 0 : value, Math.abs(value) >= 1000 ? 0 : 1),
    turns: (value) => (Number.isInteger(value) ? exact(value) : fixed(value, 1)),
    length: (metres) => {
      if (system === 'us') return `${exact(Number((metres / unitSize.inch).toPrecision(6)))} in`;
      return metres < 1 ? `${exact(Number((metres * 100).toPrecision(6)))} cm` : `${exact(metres)} m`;
    },
    date: (iso) => new Intl.DateTimeFormat(language, { dateStyle: 'long' }).format(new Date(iso)),
  };
}
