import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  inversePrediction,
  varianceOfReadings,
  type Whereabouts,
} from '../../server/domain/inverse-prediction.ts';
import { studentProbability, studentQuantile } from '../../server/domain/statistics.ts';
import { lineAt, straightLine } from '../../server/domain/straight-line.ts';
import { between, refused } from './lots.ts';
import { noiseFrom } from './noise.ts';

const holds = (set: Whereabouts, x: number): boolean =>
  set.kind === 'interval'
    ? set.low <= x && x <= set.high
    : set.kind === 'two-sides'
      ? x <= set.below || x >= set.above
      : set.kind === 'anywhere';

/** Small whole numbers, so that flat, steep and perfect lines all occur. */
const lines = fc
  .array(fc.record({ x: fc.integer({ min: -5, max: 5 }), y: fc.integer({ min: -3, max: 3 }) }), {
    minLength: 3,
    maxLength: 8,
  })
  .filter((list) => new Set(list.map(({ x }) => x)).size >= 2)
  .map((list) =>
    straightLine(
      list.map(({ x }) => x),
      list.map(({ y }) => y),
    ),
  );

describe('where a line reaches a height', () => {
  it('is just where the height lies within the line’s interval: the definition, at every kind of line', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(lines, fc.integer({ min: -6, max: 6 }), between(0, 2), (line, y, variance) => {
        const { whereabouts } = inversePrediction(line, y, variance);
        kinds.add(whereabouts.kind);
        const t = studentQuantile(0.975, line.slopeDoubt.degreesOfFreedom);
        for (let x = -30; x <= 30; x += 0.37) {
          const { value, standard } = lineAt(line, x);
          const room = t * Math.hypot(Math.sqrt(variance), standard) - Math.abs(y - value);
          if (Math.abs(room) > 1e-6) expect(holds(whereabouts, x)).toBe(room > 0);
        }
      }),
      { numRuns: 600 },
    );
    expect([...kinds].sort()).toEqual(expect.arrayContaining(['anywhere', 'interval', 'two-sides']));
  });

  it('never ends in something that is no number', () => {
    fc.assert(
      fc.property(
        lines,
        between(-1e3, 1e3),
        between(0, 1e3),
        between(0.01, 0.999),
        (line, y, v, confidence) => {
          const { whereabouts, x, doubt, slopeDoubtSquared } = inversePrediction(line, y, v, confidence);
          const ends = Object.values(whereabouts).filter((value) => typeof value === 'number');
          for (const figure of [...ends, x ?? 0, doubt.standard, slopeDoubtSquared]) {
            expect(figure).not.toBeNaN();
          }
          if (x !== null) expect(holds(whereabouts, x)).toBe(true);
        },
      ),
    );
  });

  it('a clear slope gives an interval around the single value, wider with more confidence', () => {
    const line = straightLine([0, 1, 2, 3, 4], [0, 2.1, 3.9, 6.1, 7.9]);
    const ends = (confidence: number) => {
      const { whereabouts } = inversePrediction(line, 5, 0, confidence);
      return whereabouts.kind === 'interval' ? [whereabouts.low, whereabouts.high] : [];
    };
    const [low, high] = ends(0.8);
    const [lower, higher] = ends(0.99);
    const { x } = inversePrediction(line, 5);
    const order = [lower, low, x, high, higher];
    expect(order.toSorted((a, b) => a! - b!)).toEqual(order);
    expect(new Set(order).size).toBe(5);
  });

  it('a level line: everywhere at its own height, nowhere at another, no single value at either', () => {
    const level = straightLine([0, 1, 2], [5, 5, 5]);
    expect(inversePrediction(level, 5)).toMatchObject({ x: null, whereabouts: { kind: 'anywhere' } });
    expect(inversePrediction(level, 6)).toMatchObject({ x: null, whereabouts: { kind: 'nowhere' } });
    expect(inversePrediction(level, 6, 1).whereabouts.kind).toBe('anywhere');
    expect(inversePrediction(level, 6).doubt.standard).toBe(Number.POSITIVE_INFINITY);
  });

  it('a perfect line leaves no doubt', () => {
    const perfect = straightLine([0, 1, 2], [1, 3, 5]);
    expect(inversePrediction(perfect, 4)).toMatchObject({
      x: 1.5,
      doubt: { standard: 0 },
      whereabouts: { kind: 'interval', low: 1.5, high: 1.5 },
    });
    expect(inversePrediction(perfect, 3).whereabouts).toEqual({ kind: 'interval', low: 1, high: 1 });
  });

  it('a slope lost in noise leaves two sides or excludes nothing', () => {
    const line = straightLine([0, 1, 2, 3], [0, 3, -3, 1]);
    expect(inversePrediction(line, 0).slopeDoubtSquared).toBeGreaterThan(1);
    expect(inversePrediction(line, 0).whereabouts.kind).toBe('anywhere');
    expect(inversePrediction(line, 40).whereabouts.kind).toBe('two-sides');
  });

  it('where the slope is all but lost, the far end keeps its digits on either side', () => {
    const x = [0, 1, 2, 3, 4, 5];
    const y = [1, 3, 2, 4, 6, 5];
    const up = straightLine(x, y);
    const down = straightLine(
      x.map((each) => -each),
      y,
    );
    // Confidence at which the slope's half-width is the slope less a thousand-millionth.
    const t = (up.slope / up.slopeDoubt.standard) * (1 - 1e-9);
    const confidence = 2 * studentProbability(t, up.slopeDoubt.degreesOfFreedom) - 1;
    const right = inversePrediction(up, 5, 0.1, confidence).whereabouts;
    const left = inversePrediction(down, 5, 0.1, confidence).whereabouts;
    const [high, low] = [right.kind === 'interval' && right.high, left.kind === 'interval' && left.low];
    expect(high).toBeGreaterThan(1e6);
    expect(Math.abs((low as number) / (high as number) + 1)).toBeLessThan(1e-13);
  });

  it('at the very border one end lies at infinity, on the side of the wanted height', () => {
    const line = straightLine([0, 1, 2], [0, 1, 3]);
    const t = studentQuantile(0.5 + 0.95 / 2, Number.POSITIVE_INFINITY);
    // A size whose division by t rounds so that the product comes back.
    const size = [1, 2, 3, 5, 7, 9, 11, 13, 15, 17].find((each) => t * (each / t) === each)!;
    const border = (slope: number): Parameters<typeof inversePrediction>[0] => {
      const standard = Math.abs(slope) / t;
      return {
        ...line,
        slope,
        slopeDoubt: { standard, degreesOfFreedom: Number.POSITIVE_INFINITY },
        heightDoubt: { standard: 0.1, degreesOfFreedom: Number.POSITIVE_INFINITY },
      };
    };
    for (const slope of [size, -size]) {
      for (const y of [line.height + 2 * size, line.height - 2 * size]) {
        const { whereabouts, x } = inversePrediction(border(slope), y);
        expect(whereabouts.kind).toBe('two-sides');
        expect(Object.values(whereabouts)).toContain(
          x! > line.centre ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY,
        );
        expect(holds(whereabouts, x!)).toBe(true);
        expect(holds(whereabouts, line.centre)).toBe(false);
      }
      expect(inversePrediction(border(slope), line.height).whereabouts.kind).toBe('anywhere');
    }
  });

  it('holds the true x in 95 of 100, over 20 000 draws with a poor slope', () => {
    const noise = noiseFrom(17);
    const x = [0, 1, 2, 3, 4];
    let held = 0;
    for (let draw = 0; draw < 20_000; draw += 1) {
      const line = straightLine(
        x,
        x.map((each) => 1 + each + noise()),
      );
      const y = 1 + 2.7 + noise() / Math.sqrt(2);
      held += holds(inversePrediction(line, y, varianceOfReadings(line, 2)).whereabouts, 2.7) ? 1 : 0;
    }
    expect(held / 20_000).toBeGreaterThan(0.945);
    expect(held / 20_000).toBeLessThan(0.955);
  });

  it('refuses what it cannot answer', () => {
    const line = straightLine([0, 1, 2], [1, 3, 6]);
    refused(() => inversePrediction(line, Number.NaN), 'not-a-number', 'y');
    refused(() => inversePrediction(line, 1, -1), 'out-of-range', 'variance');
    refused(() => inversePrediction(line, 1, 0, 1), 'out-of-range', 'confidence');
    refused(() => varianceOfReadings(line, 0), 'out-of-range', 'readings');
  });
});
