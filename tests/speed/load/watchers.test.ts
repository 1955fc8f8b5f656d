import { describe, expect, it } from 'vitest';
import { waitsFor, waitsOf } from './watchers.ts';

describe('how long readings wait to be shown', () => {
  it('counts each to the first message that shows it or a later one', () => {
    const readings = [10, 10.0125, 10.025, 10.0375].map((seconds, n) => [seconds, 1000 + 12.5 * n] as const);
    const shown = [
      [9.9875, 1001],
      [10.0125, 1020],
      [10.0375, 1060],
    ] as const;
    expect(waitsFor(readings, shown)).toEqual([20, 7.5, 35, 22.5]);
  });

  it('takes the board’s whole microseconds and the page’s figure for the same', () => {
    expect(waitsFor([[10.000001, 1000]], [[10, 1030]])).toEqual([30]);
    expect(waitsFor([[10.0125, 1000]], [[10, 1030]])).toEqual([Number.POSITIVE_INFINITY]);
  });

  it('leaves none out: one that is never shown waits without end', () => {
    const waits = waitsFor(
      [
        [1, 0],
        [2, 1000],
      ],
      [[1, 50]],
    );
    expect(waits).toEqual([50, Number.POSITIVE_INFINITY]);
    expect(waitsOf(waits).p99Millis).toBe(Number.POSITIVE_INFINITY);
  });
});
