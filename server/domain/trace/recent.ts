import type { Batch } from './batch.ts';
import type { Evidence, EvidenceSeries } from './finding.ts';

/** The newest seconds as the scale showed them, kept for pictures. */

const mostBatches = 64;

export interface Recent {
  seconds: number;
  turns: number;
  grams: readonly (number | null)[];
}

/** The newest seconds with one more batch. */
export function withRecent(recent: readonly Recent[], batch: Batch): readonly Recent[] {
  const { seconds, turns, grams } = batch;
  return [...recent.slice(1 - mostBatches), { seconds, turns, grams }];
}

/** A straight line of the picture: from one place to another. */
export interface Line {
  role: 'expected' | 'limit';
  from: { x: number; y: number };
  to: { x: number; y: number };
}

const seriesOf = ({ role, from, to }: Line): EvidenceSeries => ({
  role,
  x: [from.x, to.x],
  y: [from.y, to.y],
});

/** Grams on a cell over the newest seconds, or on all together (`cell` null), with lines beside them. */
export function recentPicture(
  recent: readonly Recent[],
  x: 'turns' | 'seconds',
  cell: number | null,
  lines: readonly Line[] = [],
): Evidence {
  const seen: EvidenceSeries = { role: 'seen', x: [], y: [] };
  for (const batch of recent) {
    const grams = cell === null ? sumOf(batch.grams) : batch.grams[cell];
    if (grams !== null && grams !== undefined) {
      seen.x.push(batch[x]);
      seen.y.push(grams);
    }
  }
  return { x, y: 'grams', series: [seen, ...lines.map(seriesOf)] };
}

/** Sum of all cells, or null when one of them does not tell. */
export function sumOf(values: readonly (number | null)[]): number | null {
  let sum = 0;
  for (const value of values) {
    if (value === null) {
      return null;
    }
    sum += value;
  }
  return sum;
}
