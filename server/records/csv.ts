import { CsvError, type Options, parse } from 'csv-parse/sync';
import { FieldError } from './errors.ts';

/** Tables as RFC 4180 has them: lines end in CR LF, a field with comma, quote or line end is quoted, a quote in it doubled. */

export type Cell = string | number | boolean | null;

/**
 * A spreadsheet takes text that begins so for a formula and may act on it. Source: OWASP, CSV Injection (owasp.org/www-community/attacks/CSV_Injection).
 * Those beginnings are = + - @, tab and CR; the others are what older spreadsheets took for one, and the full-width forms of the first four.
 */
const formulaStart = /^\s*[=+\-@|%\uff1d\uff0b\uff0d\uff20]|^[\t\r\n]/;
/** A setting such as -3 or +1.5 is no formula, and would be spoilt by an apostrophe. */
const plainNumber = /^[+-]?\d+(?:[.,]\d+)?$/;
/** Text that would be taken for escaped, were it left as it is. */
const escapedAlready = /^'+(?:\s*[=+\-@|%\uff1d\uff0b\uff0d\uff20]|[\t\r\n])/;

/** A leading apostrophe makes a formula into text; people see what they wrote. */
const defused = (text: string): string =>
  (formulaStart.test(text) && !plainNumber.test(text)) || escapedAlready.test(text) ? `'${text}` : text;

/** A cell's text as it was before it was defused. */
export const asWritten = (cell: string): string => (escapedAlready.test(cell) ? cell.slice(1) : cell);

function cellText(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell !== 'string') return String(cell);
  const safe = defused(cell);
  return /[",;\t\r\n]/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** One line of a table, its end included. Numbers are written to their last digit, with a point. */
export const csvLine = (cells: readonly Cell[]): string => `${cells.map(cellText).join(',')}\r\n`;

/** A table as it was read: cells as they stand there. */
export interface Table {
  rows: string[][];
  /** True where fields are parted by semicolons, as spreadsheets do it where numbers have a comma. */
  decimalComma: boolean;
}

/** Longer lines and more of them are no table of ours. */
const longestRow = 200_000;
const mostRows = 200_000;

/** What parts the fields: whichever of these there is most of in the heading. */
function delimiterOf(text: string): string {
  const heading = text
    .slice(0, longestRow)
    .split(/\r?\n/, 1)[0]!
    .replaceAll(/"[^"]*(?:"|$)/g, '');
  const count = (sign: string) => heading.split(sign).length;
  return [',', ';', '\t'].reduce((one, other) => (count(other) > count(one) ? other : one));
}

const sentences: Partial<Record<CsvError['code'], string>> = {
  CSV_QUOTE_NOT_CLOSED:
    'A quote in this table has no end: it was cut short, or something was written into it.',
  CSV_MAX_RECORD_SIZE: 'A line of this table is longer than any of ours.',
};

/** Reads a whole table. @throws FieldError where it is none, with the line. */
export function readCsv(text: string): Table {
  const delimiter = delimiterOf(text);
  const options: Options = {
    ...{ bom: true, delimiter, record_delimiter: ['\r\n', '\n'], relax_column_count: true },
    ...{ skip_empty_lines: true, max_record_size: longestRow, to: mostRows + 1 },
  };
  try {
    const rows = parse(text, options) as string[][];
    if (rows.length > mostRows)
      throw new FieldError('', 'This table is too long to be imported in one piece.');
    return { rows, decimalComma: delimiter === ';' };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const why = sentences[error.code] ?? 'A quote in this table stands where none may.';
    throw new FieldError('', `${why} (Line ${error.lines ?? '?'}.)`);
  }
}
