import type { Figures } from '../../../server/http/messages.ts';

/** One finding of a run's trace, as the messages carry it. */
export type Finding = NonNullable<Figures['findings']>[number];

type Evidence = Finding['evidence'];
type Role = Evidence['series'][number]['role'];

/** The box that a small picture is drawn in, in its own units: room for the line of what was seen and for the figures beside it. */
export const plotBox = { width: 240, height: 110, left: 44, right: 8, top: 8, bottom: 20 } as const;

export interface PlotLine {
  role: Role;
  /** Path of the line; a single point, or none, has no line. */
  path: string;
  dots: [x: number, y: number][];
}
export interface Plot {
  lines: PlotLine[];
  x: [number, number];
  y: [number, number];
}

const spread = (values: readonly number[]): [number, number] => {
  const known = values.filter(Number.isFinite);
  if (known.length === 0) return [0, 1];
  const [low, high] = [Math.min(...known), Math.max(...known)];
  return low === high ? [low - (Math.abs(low) || 1) / 2, high + (Math.abs(high) || 1) / 2] : [low, high];
};

/** Most dots drawn of a series that has a line too. */
const mostDots = 24;

/** The small picture of a finding's evidence: lines and dots inside the box, and the ends of its axes. Never throws; what is no number is left out. */
export function evidencePlot({ series }: Evidence): Plot {
  const x = spread(series.flatMap((one) => one.x));
  const y = spread(series.flatMap((one) => one.y));
  const { width, height, left, right, top, bottom } = plotBox;
  const across = (value: number) => left + ((value - x[0]) / (x[1] - x[0])) * (width - left - right);
  const up = (value: number) => height - bottom - ((value - y[0]) / (y[1] - y[0])) * (height - top - bottom);
  const lines = series.map(({ role, x: xs, y: ys }): PlotLine => {
    const points = xs
      .map((value, index): [number, number] => [across(value), up(ys[index] ?? Number.NaN)])
      .filter(([a, b]) => Number.isFinite(a) && Number.isFinite(b))
      .map(([a, b]): [number, number] => [Number(a.toFixed(1)), Number(b.toFixed(1))]);
    const path = points.length < 2 ? '' : `M${points.map((point) => point.join(' ')).join('L')}`;
    return { role, path, dots: role === 'seen' && (points.length <= mostDots || path === '') ? points : [] };
  });
  return { lines, x, y };
}
