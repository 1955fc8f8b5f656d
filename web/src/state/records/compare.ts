import type { CalibrationView } from '../../../../server/http/calibration-messages.ts';
import { type ChartRow, decided } from '../../../../server/paper/compose/decided.ts';

/** Two calibrations held against each other. */

export interface Dot {
  x: number;
  y: number;
}

/** Rate against setting of one of them: the line and its 95 % band, where it is measured or inferred. */
export interface ComparedCurve {
  line: Dot[];
  low: Dot[];
  high: Dot[];
  /** Runs that count. */
  runs: Dot[];
}

export interface Ends {
  min: number;
  max: number;
}

export interface ComparedRow {
  setting: number;
  first: ChartRow | null;
  second: ChartRow | null;
  /** Second less first as a share of the first; null where one is missing. */
  change: number | null;
}

const knownRows = ({ advice }: CalibrationView): ChartRow[] =>
  (advice?.chart ?? []).filter(({ known }) => known !== 'out of range');

export function comparedCurve(view: CalibrationView): ComparedCurve {
  const rows = knownRows(view);
  return {
    line: rows.map(({ setting, rate }) => ({ x: setting, y: rate.value })),
    low: rows.map(({ setting, rate }) => ({ x: setting, y: Math.max(0, rate.low) })),
    high: rows.map(({ setting, rate }) => ({ x: setting, y: rate.high })),
    runs: view.runs.flatMap(({ setting, rate, counts }) =>
      counts && setting !== null && rate !== null ? [{ x: setting, y: rate.value }] : [],
    ),
  };
}

/** What the picture of both has to hold; null where neither has anything. */
export function comparedEnds(curves: readonly ComparedCurve[]): { x: Ends; y: Ends } | null {
  const dots = curves.flatMap(({ low, high, runs }) => [...low, ...high, ...runs]);
  if (dots.length === 0) return null;
  const ends = (values: number[]): Ends => {
    const [min, max] = [Math.min(...values), Math.max(...values)];
    const room = max > min ? 0.05 * (max - min) : Math.max(1, Math.abs(max) * 0.1);
    return { min: min - room, max: max + room };
  };
  return { x: ends(dots.map(({ x }) => x)), y: ends(dots.map(({ y }) => y)) };
}

/** Round numbers inside the ends, some five of them: 1, 2 or 5 times a power of ten apart. */
export function ticksIn({ min, max }: Ends): number[] {
  const rough = (max - min) / 5;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((one) => one * power).find((one) => one >= rough) ?? rough;
  const from = Math.ceil(min / step);
  return Array.from({ length: Math.floor(max / step) - from + 1 }, (_, index) => (from + index) * step);
}

/** Rows of the table, at most: about the settings that the two came to. */
const mostRows = 15;

/** The rates at the marks that either chart knows, about the settings that the two came to. */
export function comparedRows(first: CalibrationView, second: CalibrationView): ComparedRow[] {
  const [ours, theirs] = [knownRows(first), knownRows(second)].map(
    (rows) => new Map(rows.map((row) => [Number(row.setting.toFixed(6)), row])),
  ) as [Map<number, ChartRow>, Map<number, ChartRow>];
  const marks = [...new Set([...ours.keys(), ...theirs.keys()])].toSorted((a, b) => a - b);
  const about = [first, second].flatMap((view) => decided(view)?.setting ?? []);
  const middle = about.length === 0 ? marks.length / 2 : marks.findIndex((mark) => mark >= mean(about));
  const from = Math.max(0, Math.min(Math.round(middle - mostRows / 2), marks.length - mostRows));
  return marks.slice(from, from + mostRows).map((setting) => {
    const [a, b] = [ours.get(setting) ?? null, theirs.get(setting) ?? null];
    const change = a === null || b === null ? null : b.rate.value / a.rate.value - 1;
    return { setting, first: a, second: b, change };
  });
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
