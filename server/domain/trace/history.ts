import type { EvidenceSeries } from './finding.ts';
import type { SlopePoint } from './slope-change.ts';

/** The whole run in at most 64 points of turns and grams, evenly over the turns: as it grows, every second point goes. */

const mostPoints = 64;
const firstStride = 0.5;

export interface HistoryPoint {
  seconds: number;
  turns: number;
  /** Per cell, what hands put on it taken away; null while the cell does not tell. */
  grams: readonly (number | null)[];
  /** Per cell, variance of single readings about then, grams². */
  scatter: readonly number[];
}

export interface History {
  points: readonly HistoryPoint[];
  stride: number;
}

export const noHistory: History = { points: [], stride: firstStride };

/** True when a point at `turns` is due. */
export function isDue({ points, stride }: History, turns: number): boolean {
  const last = points[points.length - 1];
  return last === undefined || turns - last.turns >= stride;
}

/** The history with one more point, thinned when it is full. */
export function withPoint({ points, stride }: History, point: HistoryPoint): History {
  const all = [...points, point];
  return all.length <= mostPoints
    ? { points: all, stride }
    : { points: all.filter((_, i) => i % 2 === 0), stride: 2 * stride };
}

/** Points of one cell, or of the sum of several. Those at which one of them did not tell are left out. */
export function pointsOf(points: readonly HistoryPoint[], cells: readonly number[]): SlopePoint[] {
  const chosen: SlopePoint[] = [];
  for (const { turns, grams } of points) {
    let sum = 0;
    for (const cell of cells) {
      sum += grams[cell] ?? Number.NaN;
    }
    if (!Number.isNaN(sum)) {
      chosen.push({ turns, grams: sum });
    }
  }
  return chosen;
}

/** Grams per turn from point to point, for a picture. */
export function slopesSeen(points: readonly SlopePoint[]): EvidenceSeries {
  const seen: EvidenceSeries = { role: 'seen', x: [], y: [] };
  for (let i = 1; i < points.length; i++) {
    const [from, to] = [points[i - 1]!, points[i]!];
    seen.x.push((from.turns + to.turns) / 2);
    seen.y.push((to.grams - from.grams) / (to.turns - from.turns));
  }
  return seen;
}
