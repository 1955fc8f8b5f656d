/** Tables as RFC 4180 has them: lines end in CR LF, a field with comma, quote or line end is quoted, a quote in it doubled. */

export type Cell = string | number | boolean | null;

/** A spreadsheet takes text that begins so for a formula and may act on it (OWASP, CSV injection). */
const formulaStart = /^[=+\-@\t\r\n|%]/;

function cellText(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell !== 'string') return String(cell);
  // A leading apostrophe makes it text there; people see what they wrote.
  const safe = formulaStart.test(cell.trimStart()) || formulaStart.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** One line of a table, its end included. Numbers are written to their last digit, with a point. */
export const csvLine = (cells: readonly Cell[]): string => `${cells.map(cellText).join(',')}\r\n`;

/** Reads a whole table. @throws RangeError where a quote has no end or stands where none may. */
export function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  const field = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|\n|$)/y;
  while (field.lastIndex < text.length) {
    const match = field.exec(text);
    if (match === null) throw new RangeError('A quote in this table has no end, or stands where none may.');
    row.push(match[1] === undefined ? match[2]! : match[1].replaceAll('""', '"'));
    if (match[3] === ',' && field.lastIndex < text.length) continue;
    if (match[3] === ',') row.push('');
    rows.push(row);
    row = [];
  }
  return rows;
}
