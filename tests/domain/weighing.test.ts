import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addToWindow,
  differenceDoubt,
  emptyWindow,
  gramsFromCounts,
  isGoodCount,
  isKnocked,
  isSettled,
  noiseOver,
  type Weighing,
  weigh,
} from '../../server/domain/weighing.ts';
import { mean, noiseFrom, spread } from './noise.ts';

/** Readings 80 times a second of the load that `load` gives at each second. */
function windowOf(seconds: number, load: (second: number) => number) {
  let window = emptyWindow;
  for (let reading = 0; reading < seconds * 80; reading += 1) {
    window = addToWindow(window, reading * 12_500, load(reading / 80));
  }
  return window;
}

const weighed = (seconds: number, load: (second: number) => number): Weighing =>
  weigh(windowOf(seconds, load))!;

describe('counts to grams', () => {
  const count = fc.integer({ min: -8_388_607, max: 8_388_606 });
  const cells = fc.array(
    fc.record({ count, origin: count, slope: fc.double({ min: -0.1, max: 0.1, noNaN: true }) }),
    {
      minLength: 1,
      maxLength: 6,
    },
  );

  it('is zero at the origin, adds the cells up, and does not mind their order', () => {
    fc.assert(
      fc.property(cells, (list) => {
        const lines = list.map((cell) => ({ gramsPerCount: cell.slope }));
        const origin = list.map((cell) => cell.origin);
        expect(gramsFromCounts(origin, origin, lines)).toBeCloseTo(0, 12);
        const counts = list.map((cell) => cell.count);
        const all = gramsFromCounts(counts, origin, lines)!;
        const each = list.map(
          (cell) => gramsFromCounts([cell.count], [cell.origin], [{ gramsPerCount: cell.slope }])!,
        );
        expect(all).toBeCloseTo(
          each.reduce((a, b) => a + b, 0),
          6,
        );
        const back = gramsFromCounts(counts.toReversed(), origin.toReversed(), lines.toReversed())!;
        expect(back).toBeCloseTo(all, 6);
      }),
    );
  });

  it('knows no weight when a cell is silent, beyond its range, or missing', () => {
    const line = { gramsPerCount: 0.001 };
    expect(gramsFromCounts([5, null], [0, 0], [line, line])).toBeNull();
    expect(gramsFromCounts([5, 8_388_607], [0, 0], [line, line])).toBeNull();
    expect(gramsFromCounts([5, -8_388_608], [0, 0], [line, line])).toBeNull();
    expect(gramsFromCounts([5], [0, 0], [line, line])).toBeNull();
    expect([null, undefined, 0.5, Number.NaN].map(isGoodCount)).toEqual([false, false, false, false]);
  });
});

describe('a weighing', () => {
  it('takes a second', () => {
    expect(weigh(windowOf(1, () => 4))).toBeNull();
    expect(weigh(windowOf(1.2, () => 4))?.grams).toBeCloseTo(4, 12);
  });

  it('keeps a few seconds and no more', () => {
    expect(windowOf(60, () => 1).batches.length).toBe(windowOf(10, () => 1).batches.length);
    expect(weighed(60, (second) => (second < 50 ? 100 : 7)).grams).toBeCloseTo(7, 12);
  });

  it('states the standard error of white noise', () => {
    const results = Array.from({ length: 300 }, (_, seed) => {
      const noise = noiseFrom(seed + 1);
      return weighed(3.3, () => 50 + 0.2 * noise());
    });
    const errors = results.map((result) => (result.grams - 50) / result.doubt.standard);
    expect(Math.abs(mean(errors))).toBeLessThan(0.15);
    // The largest of three block sizes errs to the safe side by a little.
    expect(spread(errors)).toBeGreaterThan(0.7);
    expect(spread(errors)).toBeLessThan(1.15);
  });

  it('sees through noise that hangs together: a walk makes the doubt larger than white noise of that size would', () => {
    const white = noiseFrom(3);
    const walk = noiseFrom(4);
    let at = 0;
    const calm = weighed(3.3, () => 0.2 * white());
    const wandering = weighed(3.3, () => {
      at += 0.02 * walk();
      return at;
    });
    expect(wandering.doubt.standard).toBeGreaterThan(2 * calm.doubt.standard);
  });

  it('finds a drift and its own doubt of it', () => {
    const noise = noiseFrom(9);
    const { drift, span } = weighed(3.3, (second) => 0.5 * second + 0.05 * noise());
    expect(span).toBeCloseTo(3.1, 6);
    expect(Math.abs(drift.grams - 0.5 * span)).toBeLessThan(4 * drift.standardError);
    expect(drift.standardError).toBeLessThan(0.05);
  });

  it('moves with the load and scales with it', () => {
    const load = (seed: number) => {
      const noise = noiseFrom(seed);
      return () => 3 + noise();
    };
    const one = weighed(2, load(5));
    const raw = load(5);
    const shifted = weighed(2, () => 10 + 2 * raw());
    expect(shifted.grams).toBeCloseTo(10 + 2 * one.grams, 10);
    expect(shifted.doubt.standard).toBeCloseTo(2 * one.doubt.standard, 10);
  });

  it('foretells the noise of a mean over another time', () => {
    const noise = noiseFrom(11);
    const weighing = weighed(3.3, () => 0.2 * noise());
    expect(noiseOver(weighing, 0.4)).toBeCloseTo(noiseOver(weighing, 0.1) / 2, 12);
    expect(noiseOver(weighing, 0.1) / (0.2 / Math.sqrt(8))).toBeGreaterThan(0.6);
    expect(noiseOver(weighing, 0.1) / (0.2 / Math.sqrt(8))).toBeLessThan(1.8);
  });
});

describe('settled', () => {
  const wish = { standardError: 0.02, drift: 0.001 };
  const settled = (seconds: number, load: (second: number) => number, wanted = wish) => {
    const window = windowOf(seconds, load);
    return isSettled(window, weigh(window)!, wanted);
  };

  it('a still bag is settled as soon as it is known well enough', () => {
    const noise = noiseFrom(21);
    expect(settled(1.2, () => 80 + 0.05 * noise())).toBe(true);
  });

  it('a noisier scale is waited for, until the window is full', () => {
    const early = noiseFrom(22);
    const late = noiseFrom(22);
    const wanted = { standardError: 0.005, drift: 0.001 };
    expect(settled(1.2, () => 80 + 0.2 * early(), wanted)).toBe(false);
    expect(settled(3.4, () => 80 + 0.2 * late(), wanted)).toBe(true);
  });

  it('is not settled while seed trickles', () => {
    const noise = noiseFrom(23);
    expect(settled(2, (second) => 80 + 0.4 * second + 0.02 * noise())).toBe(false);
  });

  it('is not settled while the bag swings out', () => {
    expect(settled(1.2, (second) => 80 + 3 * Math.exp(-1.5 * second))).toBe(false);
  });

  it('is not settled while a slow swing stands still at its end', () => {
    const noise = noiseFrom(24);
    const end = Math.PI / 2 / 1.1;
    for (const seconds of [1.2, 2, 3.3]) {
      const swing = (second: number) => 8 * Math.sin(1.1 * (second - seconds / 2 + end)) + 0.02 * noise();
      expect(settled(seconds, swing)).toBe(false);
    }
  });

  it('calls white noise settled nearly always: false alarms are those of two two-sided 5 % tests', () => {
    let calm = 0;
    for (let seed = 1; seed <= 400; seed += 1) {
      const noise = noiseFrom(seed);
      calm += settled(3.4, () => 0.1 * noise(), { standardError: 1, drift: 0 }) ? 1 : 0;
    }
    expect(calm / 400).toBeGreaterThan(0.85);
    expect(calm / 400).toBeLessThan(0.95);
  });
});

describe('a knock', () => {
  const wish = { standardError: 0.02, drift: 0.001 };

  it('is seen at once, and noise is not taken for one', () => {
    const noise = noiseFrom(41);
    const still = () => 80 + 0.1 * noise();
    const weighing = weighed(3.3, still);
    let window = windowOf(3.3, still);
    let micros = 3_300_000;
    for (let reading = 0; reading < 4000; reading += 1) {
      micros += 12_500;
      window = addToWindow(window, micros, still());
      expect(isKnocked(window, weighing, wish)).toBe(false);
    }
    for (let reading = 0; reading < 17; reading += 1) {
      micros += 12_500;
      window = addToWindow(window, micros, still() + 3);
    }
    expect(isKnocked(window, weighing, wish)).toBe(true);
    expect(isKnocked(window, weighing, { ...wish, standardError: 5 })).toBe(false);
  });
});

describe('two weighings', () => {
  it('differ by both doubts and by what the zero may have wandered', () => {
    const noise = noiseFrom(31);
    const before = weighed(2, () => 0.1 * noise());
    const after = { ...before, seconds: before.seconds + 120 };
    const both = Math.SQRT2 * before.doubt.standard;
    expect(differenceDoubt(before, after, 0).standard).toBeCloseTo(both, 12);
    expect(differenceDoubt(before, after, 0.05).standard).toBeCloseTo(Math.hypot(both, 0.1), 12);
  });
});
