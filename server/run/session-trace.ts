import type { ChartPoint } from '../records/types.ts';

/** Points kept of one run's chart. */
export const greatestTrace = 1200;

/**
 * The chart of one run, thinned while it grows: when it is full every second point goes, and from then on every second new one. So it stays
 * bounded however long a run is, and evenly spaced.
 */
export class Trace {
  #points: ChartPoint[] = [];
  #stride = 1;
  #offered = 0;

  /** Offers the next point; true when it was kept. */
  offer(point: ChartPoint): boolean {
    if (this.#offered++ % this.#stride !== 0) return false;
    if (this.#points.length >= greatestTrace) this.#halve();
    this.#points.push(point);
    return true;
  }

  points(): ChartPoint[] {
    return [...this.#points];
  }

  #halve(): void {
    this.#points = this.#points.filter((_, index) => index % 2 === 0);
    this.#stride *= 2;
  }
}
