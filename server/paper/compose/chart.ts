import type { ChartRow } from './decided.ts';
import type { PaperNumbers } from './numbers.ts';
import type { PaperTable, PaperWords, RowLook } from './types.ts';

/** Rows of a setting chart. */

const knownKeys = { measured: 'measured', inferred: 'inferred', 'out of range': 'beyond' } as const;
const signs = { measured: '●', inferred: '○', 'out of range': '–' } as const;

const lookOf = (row: ChartRow, sought: number | null): RowLook =>
  row.setting === sought ? 'sought' : row.known === 'out of range' ? 'faint' : 'plain';

const span = (low: string, high: string): string => `${low} – ${high}`;

/** With a column of words that say how each is known. */
export function chartTable(
  rows: readonly ChartRow[],
  sought: number | null,
  words: PaperWords,
  numbers: PaperNumbers,
): PaperTable {
  return {
    columns: [words.mark, words.rate({ unit: numbers.rateUnit }), words.interval, words.known],
    rows: rows.map((row) => {
      const known = words.knownWords[knownKeys[row.known]];
      return {
        look: lookOf(row, sought),
        cells: [
          numbers.mark(row.setting),
          numbers.rate(row.rate.value),
          span(numbers.rate(Math.max(0, row.rate.low)), numbers.rate(row.rate.high)),
          row.setting === sought ? `${known}, ${words.chosen}` : known,
        ],
      };
    }),
  };
}

/** Narrow, with a sign for how each is known: several stand side by side. */
export function narrowChart(
  rows: readonly ChartRow[],
  sought: number | null,
  words: PaperWords,
  numbers: PaperNumbers,
): PaperTable {
  return {
    columns: [words.mark, numbers.rateUnit, words.intervalShort],
    rows: rows.map((row) => ({
      look: lookOf(row, sought),
      cells: [
        `${row.setting === sought ? '► ' : ''}${numbers.mark(row.setting)}`,
        `${numbers.rate(row.rate.value)} ${signs[row.known]}`,
        `${numbers.rate(Math.max(0, row.rate.low))}–${numbers.rate(row.rate.high)}`,
      ],
    })),
  };
}
