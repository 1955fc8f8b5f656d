import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ChartPoint } from '../../server/records/types.ts';
import { greatestTrace, Trace } from '../../server/run/session-trace.ts';

function traceOf(count: number): { trace: Trace; kept: ChartPoint[] } {
  const trace = new Trace();
  const kept: ChartPoint[] = [];
  for (let index = 0; index < count; index++) {
    const point: ChartPoint = [index, index / 2, index * 3];
    if (trace.offer(point)) kept.push(point);
  }
  return { trace, kept };
}

describe('the chart of a run', () => {
  it('keeps every point of a short run', () => {
    const { trace, kept } = traceOf(greatestTrace);
    expect(trace.points()).toEqual(kept);
    expect(kept).toHaveLength(greatestTrace);
  });

  it('stays bounded, evenly spaced, and begins with the first point, however long a run is', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), (count) => {
        const points = traceOf(count).trace.points();
        expect(points.length).toBeLessThanOrEqual(greatestTrace);
        expect(points.length).toBeGreaterThanOrEqual(Math.min(count, greatestTrace / 2));
        const spacing = (points[1]?.[0] ?? 0) - points[0]![0];
        expect(points.every(([seconds], index) => seconds === index * spacing)).toBe(true);
        expect(count - 1 - points.at(-1)![0]).toBeLessThan(Math.max(1, spacing));
      }),
      { numRuns: 50 },
    );
  });

  it('tells a page that was there from the start everything that a newcomer gets', () => {
    const { trace, kept } = traceOf(10_000);
    const told = new Set(kept);
    expect(trace.points().every((point) => told.has(point))).toBe(true);
  });
});
