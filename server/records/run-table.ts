import { unitSize } from '../domain/units.ts';
import { asWritten, readCsv } from './csv.ts';
import { FieldError } from './errors.ts';
import { tableEdition } from './export-csv.ts';

/** A table of runs as it comes in: found by its headings, whatever their order; quantities in SI or in a unit that the heading names. */

/** Sizes of the units that a heading may name, in the SI unit of the first. */
const units = {
  mass: { g: 1, kg: 1000, oz: unitSize.ounce, lb: unitSize.pound },
  length: {
    m: 1,
    cm: unitSize.centimetre,
    mm: unitSize.millimetre,
    in: unitSize.inch,
    ft: unitSize.foot,
  },
  rate: { 'g/m2': 1, 'kg/ha': unitSize.kilogramPerHectare, 'lb/ac': unitSize.poundPerAcre },
} as const satisfies Record<string, Record<string, number>>;

/** The same quantity in two units may differ by so much: a spreadsheet rounds what it keeps. */
const sameShare = 1e-6;

const plainNumber = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;

/** One line of the table. Everything it gives is checked; what does not fit is refused with its line and its heading. */
export class RunLine {
  /** As people count lines, the heading being the first. */
  readonly line: number;
  readonly #cells: ReadonlyMap<string, string>;
  readonly #decimalComma: boolean;

  constructor(line: number, cells: ReadonlyMap<string, string>, decimalComma: boolean) {
    this.line = line;
    this.#cells = cells;
    this.#decimalComma = decimalComma;
  }

  /** @throws FieldError always. */
  refuse(heading: string, what: string): never {
    throw new FieldError(
      `/${this.line}/${heading}`,
      `In line ${this.line} of the table, ${heading} ${what}.`,
    );
  }

  /** Empty where there is no such column. */
  text(heading: string): string {
    return this.#cells.get(heading) ?? '';
  }

  /** Null where the cell is empty. */
  number(heading: string): number | null {
    const cell = this.text(heading).trim();
    if (cell === '') return null;
    const plain = this.#decimalComma ? cell.replace(',', '.') : cell;
    const value = plainNumber.test(plain) ? Number(plain) : Number.NaN;
    return Number.isFinite(value) ? value : this.refuse(heading, 'is no number');
  }

  needed(heading: string): number {
    return this.number(heading) ?? this.refuse(heading, 'is missing');
  }

  /** A quantity in its SI unit, from whichever columns there are; null where all are empty. Those there are must agree. */
  quantity(name: string, kind: keyof typeof units): number | null {
    let found: number | null = null;
    for (const [unit, size] of Object.entries(units[kind])) {
      const given = this.number(`${name} (${unit})`);
      if (given === null) continue;
      const value = given * size;
      if (found === null) found = value;
      else if (Math.abs(found - value) > sameShare * Math.abs(found)) {
        this.refuse(name, 'stands there in two units that differ: correct both, or leave one empty');
      }
    }
    return found;
  }

  neededQuantity(name: string, kind: keyof typeof units): number {
    return this.quantity(name, kind) ?? this.refuse(name, 'is missing');
  }
}

/** Columns without which a table is none of runs. */
const foremost = ['started (UTC)', 'drill', 'mix', 'source', 'run'];

function checkHeadings(headings: readonly string[]): void {
  const missing = foremost.filter((heading) => !headings.includes(heading));
  if (missing.length > 0) {
    throw new FieldError(
      '',
      `This is no table of runs by Catchbench: it has no column ${missing.join(', ')}.`,
    );
  }
  const twice = headings.find((heading, index) => heading !== '' && headings.indexOf(heading) !== index);
  if (twice !== undefined) throw new FieldError('', `The column ${twice} stands twice in the table.`);
}

function checkEdition(line: RunLine): void {
  const edition = line.number('edition of the table') ?? tableEdition;
  if (edition > tableEdition) {
    throw new FieldError(
      '',
      `This table was written by a newer Catchbench (edition ${edition}, this one reads ${tableEdition}). Import it there.`,
    );
  }
}

/** The lines of a table of runs. @throws FieldError where it is none. */
export function runLines(text: string): RunLine[] {
  if (/[\0\ufffd]/.test(text)) {
    throw new FieldError('', 'This table is not written in UTF-8. Save it as "CSV UTF-8" and try again.');
  }
  const { rows, decimalComma } = readCsv(text);
  const headings = (rows[0] ?? []).map((cell) => cell.trim());
  checkHeadings(headings);
  return rows.slice(1).map((row, index) => {
    const cells = new Map(headings.map((heading, column) => [heading, asWritten(row[column] ?? '')]));
    const line = new RunLine(index + 2, cells, decimalComma);
    if (row.length > headings.length) line.refuse('the end', 'has more fields than there are headings');
    checkEdition(line);
    return line;
  });
}
