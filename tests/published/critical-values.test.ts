import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chiSquareProbability, chiSquareQuantile } from '../../server/domain/chi-square.ts';
import { grubbsCritical } from '../../server/domain/grubbs.ts';
import { poissonInterval } from '../../server/domain/poisson.ts';
import { normalQuantile, studentProbability, studentQuantile } from '../../server/domain/statistics.ts';

/**
 * Every row of tests/published/data/critical-values.json, which names the source of each figure and how it was seen. `computed` there is
 * the same quantity by mpmath at 30 digits, to 12 figures.
 */
interface Printed {
  value: string;
  source: string;
}
interface Cell {
  computed: number;
  printed?: string | Printed[];
}
interface Limits {
  lower: string;
  upper: string;
  source: string;
}
type Row<Key extends string> = Record<Key, number> & Record<string, Cell>;

const tables = JSON.parse(readFileSync(new URL('data/critical-values.json', import.meta.url), 'utf8')) as {
  studentT: { rows: Row<'degreesOfFreedom'>[]; sixFigure: Record<string, string>[] };
  chiSquare: { rows: Row<'degreesOfFreedom'>[] };
  normal: { rows: { probability: string; computed: number; printed?: string }[] };
  grubbs: { rows: { n: number; oneSided: Record<string, Cell>; twoSided: Record<string, Cell> }[] };
  poissonExact95: {
    rows: { count: number; lower: Cell; upper: Cell; printed?: Limits[] }[];
    otherLevels: ({ level: number; count: number } & Limits)[];
  };
};

/** Our figure, rounded or cut off to as many digits as were printed, is what was printed. */
function asPrinted(ours: number, printed: string): void {
  const digits = printed.includes('.') ? printed.length - printed.indexOf('.') - 1 : 0;
  const units = (ours - Number(printed)) * 10 ** digits;
  expect(units, `${ours}, printed ${printed}`).toBeGreaterThanOrEqual(-0.5000001);
  expect(units, `${ours}, printed ${printed}`).toBeLessThan(1);
}

function close(ours: number, exact: number, relative: number): void {
  expect(Math.abs(ours - exact), `${ours}, exact ${exact}`).toBeLessThanOrEqual(relative * Math.abs(exact));
}

const columns = (row: object): [number, Cell][] =>
  Object.entries(row).flatMap(([key, cell]) => (/^0\.\d+$/.test(key) ? [[Number(key), cell as Cell]] : []));

const printedIn = (cell: Cell): string[] =>
  typeof cell.printed === 'string' ? [cell.printed] : (cell.printed ?? []).map((each) => each.value);

let seen = 0;

describe('tables of critical values', () => {
  it('Student’s t: 33 rows of the NIST handbook, and back again', () => {
    expect(tables.studentT.rows).toHaveLength(33);
    for (const row of tables.studentT.rows) {
      for (const [probability, cell] of columns(row)) {
        const t = studentQuantile(probability, row.degreesOfFreedom);
        close(t, cell.computed, 1e-11);
        close(studentProbability(cell.computed, row.degreesOfFreedom), probability, 1e-11);
        for (const printed of printedIn(cell)) {
          asPrinted(t, printed);
          seen += 1;
        }
      }
    }
    expect(seen).toBe(99);
  });

  it('Student’s t to six figures, ten rows', () => {
    expect(tables.studentT.sixFigure).toHaveLength(10);
    for (const row of tables.studentT.sixFigure) {
      asPrinted(studentQuantile(0.975, Number(row.degreesOfFreedom)), row['0.975']!);
      asPrinted(studentQuantile(0.995, Number(row.degreesOfFreedom)), row['0.995']!);
    }
  });

  it('chi-square: 41 rows, both tails, and back again', () => {
    expect(tables.chiSquare.rows).toHaveLength(41);
    let printedValues = 0;
    for (const row of tables.chiSquare.rows) {
      for (const [probability, cell] of columns(row)) {
        const value = chiSquareQuantile(probability, row.degreesOfFreedom);
        close(value, cell.computed, 1e-10);
        close(chiSquareProbability(cell.computed, row.degreesOfFreedom), probability, 1e-10);
        for (const printed of printedIn(cell)) {
          asPrinted(value, printed);
          printedValues += 1;
        }
      }
    }
    expect(printedValues).toBeGreaterThan(100);
  });

  it('the normal deviate', () => {
    expect(tables.normal.rows).toHaveLength(8);
    for (const { probability, computed, printed } of tables.normal.rows) {
      const z = normalQuantile(Number(probability));
      close(z, computed, 1e-12);
      close(studentQuantile(Number(probability), Number.POSITIVE_INFINITY), computed, 1e-12);
      if (printed !== undefined) asPrinted(z, printed);
    }
  });

  // Two-decimal tables cut off here and round there, so a unit of the last digit is allowed; the table to three decimals likewise.
  it('Grubbs: 28 rows, one- and two-sided', () => {
    expect(tables.grubbs.rows).toHaveLength(28);
    let printedValues = 0;
    for (const { n, oneSided, twoSided } of tables.grubbs.rows) {
      for (const [side, cells] of [
        ['high', oneSided],
        ['either', twoSided],
      ] as const) {
        for (const [significance, cell] of columns(cells)) {
          const critical = grubbsCritical(n, significance, side);
          close(critical, cell.computed, 1e-9);
          for (const printed of printedIn(cell)) {
            const digits = printed.includes('.') ? printed.length - printed.indexOf('.') - 1 : 0;
            const step = side === 'either' ? 0.001 : Math.max(0.01, 10 ** -digits * 0.1);
            expect(Math.abs(critical - Number(printed))).toBeLessThanOrEqual(step);
            printedValues += 1;
          }
        }
      }
    }
    expect(printedValues).toBeGreaterThan(80);
  });

  // LibreTexts, Analytical Chemistry, Appendix 07. READ: it prints 2.202 for n = 7 at 5 % and 2.755 for n = 15 at 1 %, both misprints: the
  // neighbours of the one rise evenly, the other repeats the row above it.
  it('Grubbs: two misprints in a table stay recognized as such', () => {
    expect(grubbsCritical(7, 0.05)).toBeCloseTo(2.02, 3);
    expect(grubbsCritical(15, 0.01)).toBeCloseTo(2.806, 3);
    expect(grubbsCritical(14, 0.01)).toBeCloseTo(2.755, 3);
  });

  it('exact Poisson limits of the counts 0 to 30, and at other levels', () => {
    const { rows, otherLevels } = tables.poissonExact95;
    expect(rows.map((row) => row.count)).toEqual(Array.from({ length: 31 }, (_, count) => count));
    expect(otherLevels).toHaveLength(9);
    for (const { count, lower, upper, printed } of rows) {
      const limits = poissonInterval(count);
      close(limits.low, lower.computed, 1e-10);
      close(limits.high, upper.computed, 1e-10);
      for (const each of printed ?? []) {
        asPrinted(limits.low, each.lower);
        asPrinted(limits.high, each.upper);
      }
    }
    for (const { level, count, lower, upper } of otherLevels) {
      asPrinted(poissonInterval(count, level).low, lower);
      asPrinted(poissonInterval(count, level).high, upper);
    }
  });

  // R survival::cipoisson documentation; a worked example of a statistics package. READ-2.
  it('other exact limits in print', () => {
    asPrinted(poissonInterval(4).low, '1.089865');
    asPrinted(poissonInterval(14).low / 400, '0.019135');
    asPrinted(poissonInterval(14).high / 400, '0.058724');
  });
});
