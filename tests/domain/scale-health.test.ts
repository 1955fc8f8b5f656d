import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addToHealth, emptyHealth, type HealthRecord } from '../../server/domain/scale-health.ts';
import {
  driftOfWeighing,
  type HealthWish,
  judgeHealth,
  scaleHealth,
  standingOf,
  zeroStability,
} from '../../server/domain/scale-health-report.ts';
import { halfWidth } from '../../server/domain/statistics.ts';
import { addToWindow, emptyWindow, type Weighing, weigh } from '../../server/domain/weighing.ts';
import { zeroReturn } from '../../server/domain/zero-return.ts';
import { refused } from './lots.ts';
import { noiseFrom } from './noise.ts';

const gramsPerCount = 1 / 420;

/** A stretch of readings, 80 a second; `load` gives grams at a second, null for none. */
function stretch(seconds: number, load: (second: number, reading: number) => number | null): HealthRecord {
  let record = emptyHealth;
  for (let reading = 0; reading < 80 * seconds; reading += 1) {
    const shown = load(reading / 80, reading);
    const count = shown === null ? null : Math.round(80_000 + shown / gramsPerCount);
    record = addToHealth(record, 5_000_000 + reading * 12_500, count);
  }
  return record;
}

const health = (seconds: number, load: (second: number, reading: number) => number | null) =>
  scaleHealth(stretch(seconds, load), gramsPerCount);
const wish: HealthWish = { readingsPerSecond: 80, noise: 0.2, gramsPerMinute: 0.2 };
const codes = (seconds: number, load: (second: number, reading: number) => number | null) =>
  judgeHealth(health(seconds, load), wish).map(({ code }) => code);
const steady = (seed = 1, size = 0.1) => {
  const noise = noiseFrom(seed);
  return () => size * noise();
};

describe('the figures of a stretch', () => {
  it('readings a second, noise, range, distinct values of a sound scale', () => {
    const found = health(60, steady());
    expect(found.readingsPerSecond).toBeCloseTo(80, 9);
    expect(found.seconds).toBeCloseTo(60 - 1 / 80, 9);
    expect(found.noise).toBeGreaterThan(0.097);
    expect(found.noise).toBeLessThan(0.103);
    expect(found.range).toBeGreaterThan(0.6);
    expect(found.distinctShare).toBeGreaterThan(0.3);
    expect([found.missingShare, found.clippedShare]).toEqual([0, 0]);
    expect(judgeHealth(found, wish)).toEqual([]);
  });

  it('noise leaves drift and slow swing out', () => {
    const noise = noiseFrom(2);
    const found = health(30, (second) => 20 * Math.sin(second / 3) + 3 * second + 0.1 * noise());
    expect(found.noise).toBeLessThan(0.13);
  });

  it('drift, with a doubt that holds it: about 95 % of 500 scales with white noise', () => {
    let held = 0;
    for (let seed = 1; seed <= 500; seed += 1) {
      const noise = noiseFrom(seed);
      let record = emptyHealth;
      for (let reading = 0; reading < 400; reading += 1) {
        const count = Math.round((0.5 * reading) / 20 / 60 / gramsPerCount + 40 * noise());
        record = addToHealth(record, reading * 50_000, count);
      }
      const { drift } = scaleHealth(record, gramsPerCount);
      held += Math.abs(drift!.gramsPerMinute - 0.5) <= halfWidth(drift!.doubt, 0.95) ? 1 : 0;
    }
    expect(held / 500).toBeGreaterThan(0.93);
    expect(held / 500).toBeLessThan(0.98);
  });

  it('and in nine of ten at least where noise hangs together over a second', () => {
    let held = 0;
    for (let seed = 1; seed <= 200; seed += 1) {
      const noise = noiseFrom(seed);
      let record = emptyHealth;
      let at = 0;
      for (let reading = 0; reading < 800; reading += 1) {
        at = 0.95 * at + noise();
        record = addToHealth(record, reading * 50_000, Math.round(100 * at));
      }
      const { drift } = scaleHealth(record, 1);
      held += Math.abs(drift!.gramsPerMinute) <= halfWidth(drift!.doubt, 0.95) ? 1 : 0;
    }
    expect(held / 200).toBeGreaterThan(0.9);
  });

  it('noise is taken from readings that follow each other, not across a hole', () => {
    const calm = steady();
    const holes = health(30, (_, reading) => (reading % 2 === 0 ? calm() : null));
    expect(holes.noise).toBeNull();
    const few = health(30, (_, reading) => (reading % 4 === 0 ? null : calm()));
    expect(few.noise).toBeGreaterThan(0.095);
    expect(few.noise).toBeLessThan(0.105);
  });

  it('a zero that walks is in more doubt than white noise of that size', () => {
    const noise = noiseFrom(5);
    let at = 0;
    const walk = health(30, () => {
      at += 0.02 * noise();
      return at;
    });
    const white = health(30, steady(6, 0.02 * Math.SQRT2));
    expect(walk.drift!.doubt.standard).toBeGreaterThan(20 * white.drift!.doubt.standard);
    expect(walk.drift!.doubt.degreesOfFreedom).toBeLessThan(white.drift!.doubt.degreesOfFreedom);
  });

  it('follows the slope’s size and sign, and the origin does not matter', () => {
    const noise = noiseFrom(7);
    const counts = Array.from({ length: 800 }, (_, i) => Math.round(3 * i + 50 * noise()));
    const of = (shift: number, slope: number) =>
      scaleHealth(
        counts.reduce((record, count, i) => addToHealth(record, i * 12_500, count + shift), emptyHealth),
        slope,
      );
    const one = of(0, 0.01);
    const other = of(-6_000_000, -0.02);
    expect(other.noise).toBeCloseTo(2 * one.noise!, 12);
    expect(other.range).toBeCloseTo(2 * one.range!, 12);
    expect(other.drift!.gramsPerMinute).toBeCloseTo(-2 * one.drift!.gramsPerMinute, 9);
    expect(other.drift!.doubt.standard).toBeCloseTo(2 * one.drift!.doubt.standard, 9);
    expect(other.distinctShare).toBe(one.distinctShare);
  });

  it('stays the same size over an hour, and still knows the drift', () => {
    const noise = noiseFrom(8);
    let record = emptyHealth;
    for (let reading = 0; reading < 36_000; reading += 1) {
      const count = Math.round(1000 * noise() + reading / 10);
      record = addToHealth(record, reading * 100_000, count);
    }
    expect(record.blocks.length).toBeLessThanOrEqual(64);
    expect(record.distinct.length).toBeLessThanOrEqual(256);
    expect(record.blocks.length).toBeGreaterThanOrEqual(30);
    expect(new Set(record.blocks.map(({ readings }) => readings)).size).toBeLessThanOrEqual(2);
    const { drift } = scaleHealth(record, 1);
    expect(Math.abs(drift!.gramsPerMinute - 60)).toBeLessThan(4 * drift!.doubt.standard);
    expect(drift!.doubt.standard).toBeLessThan(1);
  });

  it('no stretch, however odd, gives a figure that is no number', () => {
    const reading = fc.tuple(
      fc.integer({ min: 0, max: 3_000_000 }),
      fc.oneof(fc.constant(null), fc.integer({ min: -8_388_608, max: 8_388_607 })),
    );
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 120 }), (list) => {
        let micros = 0;
        let record = emptyHealth;
        for (const [gap, count] of list) {
          micros += gap;
          record = addToHealth(record, micros, count);
        }
        const found = scaleHealth(record, gramsPerCount);
        const drift = found.drift === null ? [] : [found.drift.gramsPerMinute, found.drift.doubt.standard];
        for (const figure of [...Object.values(found), ...drift]) {
          if (typeof figure === 'number') expect(figure).not.toBeNaN();
        }
        expect(found.readings).toBe(list.length);
        expect(judgeHealth(found, wish).length).toBeGreaterThan(0);
      }),
    );
  });
});

describe('what is wrong, in a sentence', () => {
  it('nothing came, or too little', () => {
    expect(judgeHealth(scaleHealth(emptyHealth, 1), wish)).toEqual([
      { code: 'silent', sentence: 'No reading came: check cable, port and supply.' },
    ]);
    expect(codes(1, steady())).toEqual(['too-short']);
  });

  it('a dead converter, a coarse one', () => {
    expect(codes(30, () => 4)).toEqual(['stuck']);
    const noise = noiseFrom(3);
    expect(codes(30, () => Math.round(noise() / 2) / 10)).toEqual(['coarse']);
  });

  it('readings without a value, at the end of the range, too few, interrupted', () => {
    const calm = steady();
    expect(codes(30, (_, reading) => (reading % 20 === 0 ? null : calm()))).toEqual(['missing']);
    const loud = steady(9);
    const clipped = stretch(30, loud);
    const found = scaleHealth(addToHealth(clipped, 35_000_000, 8_388_607), gramsPerCount);
    expect(judgeHealth(found, wish).map(({ code }) => code)).toEqual(['clipped']);
    expect(judgeHealth(health(30, steady(4)), { ...wish, readingsPerSecond: 100 })[0]!.sentence).toMatch(
      /^80 readings a second instead of 100/,
    );
    const late = addToHealth(stretch(30, steady(5)), 36_500_000, 80_000);
    expect(judgeHealth(scaleHealth(late, gramsPerCount), wish).map(({ code }) => code)).toEqual(
      expect.arrayContaining(['gap']),
    );
  });

  it('noise, drift, and a drift that cannot be told yet', () => {
    expect(codes(60, steady(6, 0.3))).toContain('noisy');
    const noise = noiseFrom(10);
    expect(codes(60, (second) => second / 60 + 0.05 * noise())).toEqual(['drifting']);
    expect(judgeHealth(health(10, steady(11, 0.19)), { ...wish, gramsPerMinute: 0.01 })).toEqual([
      {
        code: 'drift-unclear',
        sentence: 'Whether the load drifts cannot be told yet: leave it still and watch for longer.',
      },
    ]);
  });

  it('a sound scale is called sound nearly always', () => {
    let sound = 0;
    for (let seed = 1; seed <= 100; seed += 1) sound += codes(20, steady(seed)).length === 0 ? 1 : 0;
    expect(sound).toBeGreaterThanOrEqual(98);
  });

  it('refuses a slope or a wish that is none', () => {
    refused(() => scaleHealth(emptyHealth, 0), 'out-of-range', 'gramsPerCount');
    refused(() => scaleHealth(emptyHealth, Number.NaN), 'not-a-number', 'gramsPerCount');
    for (const field of ['readingsPerSecond', 'noise', 'gramsPerMinute']) {
      refused(() => judgeHealth(health(10, steady()), { ...wish, [field]: 0 }), 'out-of-range', field);
    }
  });
});

describe('the zero', () => {
  /** A weighing of some seconds, from `start`. */
  const weighed = (start: number, load: (second: number) => number): Weighing => {
    let window = emptyWindow;
    for (let reading = 0; reading < 260; reading += 1) {
      const second = start + reading / 80;
      window = addToWindow(window, Math.round(second * 1e6), load(second));
    }
    return weigh(window)!;
  };

  it('is stable, drifting, or cannot be told, against what matters', () => {
    const quiet = driftOfWeighing(weighed(0, steady(12, 0.0005)));
    expect(zeroStability(quiet, 0.2)).toBe('within');
    expect(zeroStability(quiet, 1e-6)).toBe('unclear');
    const noise = noiseFrom(13);
    const drift = driftOfWeighing(weighed(0, (second) => second / 20 + 0.01 * noise()));
    expect(drift.gramsPerMinute).toBeCloseTo(3, 0);
    expect(zeroStability(drift, 0.2)).toBe('beyond');
  });

  it('came back, did not, or cannot be told', () => {
    const before = weighed(0, steady(14, 0.05));
    const back = zeroReturn(before, weighed(60, steady(15, 0.05)), 0.03, 0.2);
    expect(back).toMatchObject({
      standing: 'within',
      sentence: 'The empty scale came back to its zero.',
    });
    const seed = steady(16, 0.05);
    const left = zeroReturn(
      before,
      weighed(60, () => seed() + 1.5),
      0.03,
      0.2,
    );
    expect(left.standing).toBe('beyond');
    expect(left.sentence).toMatch(
      /^The empty scale shows 1\.5 g more than before the run: look for seed left/,
    );
    const late = zeroReturn(before, weighed(1200, steady(17, 0.05)), 0.03, 0.2);
    expect(late.standing).toBe('unclear');
    expect(late.sentence).toMatch(/give or take 1\.\d g: noise and time/);
    expect(late.doubt.standard).toBeCloseTo(0.03 * 20, 2);
  });

  it('the three answers part the line without gap: larger limits never make them worse', () => {
    const size = fc.double({ min: 0, max: 10, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: -10, max: 10, noNaN: true }), size, size, (value, half, limit) => {
        const order = ['within', 'unclear', 'beyond'];
        const at = (each: number) => order.indexOf(standingOf(value, half, each));
        expect(at(limit)).toBe(order.indexOf(standingOf(-value, half, limit)));
        expect(at(limit + 1)).toBeLessThanOrEqual(at(limit));
        if (half > limit) expect(at(limit)).not.toBe(0);
      }),
    );
  });

  it('refuses limits that are none', () => {
    const before = weighed(0, steady(18));
    refused(() => zeroReturn(before, before, -1, 1), 'out-of-range', 'zeroDrift');
    refused(() => zeroReturn(before, before, 0, 0), 'out-of-range', 'limit');
  });
});
