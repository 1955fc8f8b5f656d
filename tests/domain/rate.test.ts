import { describe, expect, it } from 'vitest';
import {
  addToRate,
  freshRate,
  noiseWhileTurning,
  type RateKnowledge,
  type RateState,
  settledEstimate,
  slopeEstimate,
} from '../../server/domain/rate.ts';
import { mean, noiseFrom, spread } from './noise.ts';

const knowledge: RateKnowledge = { expectedGramsPerTurn: 3, lumpiness: 0.02, readingVariance: 0.003 };

interface Run {
  seconds: number;
  gramsPerTurn: number;
  /** Grams; white, a reading. */
  scaleNoise?: number;
  /** Variance per gram. */
  lumpiness?: number;
  seed?: number;
  turnsAt?: (second: number) => number;
  /** Seconds from the meter to the scale. */
  lag?: number;
  /** Seconds of the run in which no reading arrives. */
  lost?: [from: number, to: number];
  /** Seconds of the run in which the scale gives no value. */
  blind?: [from: number, to: number];
  swing?: { grams: number; hertz: number };
}

const within = (second: number, span: [number, number] | undefined) =>
  span !== undefined && second >= span[0] && second < span[1];

/** Readings 80 times a second of a wheel at 0.75 turns a second, with seeds as a random walk. */
function run({
  seconds,
  gramsPerTurn,
  scaleNoise = 0,
  lumpiness = 0,
  seed = 1,
  turnsAt = (s) => 0.75 * Math.max(0, s),
  lag = 0.2,
  lost,
  blind,
  swing = { grams: 0, hertz: 1 },
}: Run): RateState {
  const noise = noiseFrom(seed);
  let state = freshRate(knowledge);
  let walk = 0;
  let before = 0;
  for (let reading = 0; reading < seconds * 80; reading += 1) {
    const second = reading / 80;
    const source = turnsAt(second - lag);
    walk += Math.sqrt(Math.max(0, source - before) * gramsPerTurn * lumpiness) * noise();
    before = source;
    const swung = swing.grams * Math.sin(2 * Math.PI * swing.hertz * second);
    const grams = gramsPerTurn * source + walk + scaleNoise * noise() + swung;
    const shown = second < 1.2 || within(second, blind) ? null : grams;
    if (!within(second, lost)) state = addToRate(state, reading * 12_500, turnsAt(second), shown);
  }
  return state;
}

const slopeOf = (of: Run) => slopeEstimate(run(of))!;

describe('the slope of mass against turns', () => {
  it('is right without noise, whatever the lag', () => {
    for (const lag of [0, 0.2, 0.3, 0.45]) {
      expect(slopeOf({ seconds: 10, gramsPerTurn: 3.4, lag }).gramsPerTurn).toBeCloseTo(3.4, 3);
    }
  });

  it('is right for a wheel turned unevenly, or now and then backwards', () => {
    const uneven = (s: number) => 0.6 * Math.max(0, s) + 0.1 * Math.sin(3 * Math.max(0, s));
    expect(slopeOf({ seconds: 12, gramsPerTurn: 3.4, turnsAt: uneven }).gramsPerTurn).toBeCloseTo(3.4, 2);
    // From 5 s on it rolls back a quarter turn and makes up for it; seed falls only where the wheel has not been before.
    const back = (s: number) =>
      s < 5 ? 0.75 * s : s < 6 ? 3.75 - Math.min(s - 5, 6 - s) / 2 : 0.75 * (s - 1);
    const turns = (s: number) => back(Math.max(0, s));
    expect(slopeOf({ seconds: 12, gramsPerTurn: 3.4, turnsAt: turns }).gramsPerTurn).toBeCloseTo(3.4, 1);
  });

  it('is not troubled by readings that are lost or have no weight', () => {
    expect(slopeOf({ seconds: 12, gramsPerTurn: 3.4, lost: [4, 6.3] }).gramsPerTurn).toBeCloseTo(3.4, 3);
    expect(slopeOf({ seconds: 12, gramsPerTurn: 3.4, blind: [4, 6.3] }).gramsPerTurn).toBeCloseTo(3.4, 3);
  });

  it('is not stated from next to nothing, nor for a wheel that stands or a bag that empties', () => {
    expect(slopeEstimate(freshRate(knowledge))).toBeNull();
    expect(slopeEstimate(run({ seconds: 1.5, gramsPerTurn: 3.4 }))).toBeNull();
    expect(slopeEstimate(run({ seconds: 10, gramsPerTurn: 3.4, turnsAt: () => 2 }))).toBeNull();
    expect(slopeEstimate(run({ seconds: 10, gramsPerTurn: -1 }))).toBeNull();
  });

  it('states its doubt truly for lumpy seed and a noisy scale', () => {
    const errors: number[] = [];
    for (let seed = 1; seed <= 200; seed += 1) {
      const slope = slopeOf({ seconds: 12, gramsPerTurn: 3.4, scaleNoise: 0.3, lumpiness: 0.02, seed });
      errors.push((slope.gramsPerTurn - 3.4) / Math.hypot(slope.weighing, slope.seeds));
    }
    expect(Math.abs(mean(errors))).toBeLessThan(0.25);
    expect(spread(errors)).toBeGreaterThan(0.8);
    expect(spread(errors)).toBeLessThan(1.2);
  });

  it('learns from the run when seed is lumpier than told', () => {
    const calm = slopeOf({ seconds: 30, gramsPerTurn: 3.4, lumpiness: 0.02 });
    const lumpy = slopeOf({ seconds: 30, gramsPerTurn: 3.4, lumpiness: 0.3 });
    expect(lumpy.seeds).toBeGreaterThan(2.5 * calm.seeds);
  });

  it('tells the scale’s noise from the lumpiness of seed', () => {
    const shaken = { seconds: 30, gramsPerTurn: 3.4, scaleNoise: 2, lumpiness: 0.02 };
    const noise = noiseWhileTurning(run(shaken), 8) / (2 / Math.sqrt(8));
    expect(noise).toBeGreaterThan(0.8);
    expect(noise).toBeLessThan(1.25);
    const calm = slopeOf({ ...shaken, scaleNoise: 0.02 });
    expect(slopeOf(shaken).seeds / calm.seeds).toBeLessThan(1.5);
  });

  it('does not take a swinging bag for lumps of seed', () => {
    const calm = slopeOf({ seconds: 30, gramsPerTurn: 3.4, lumpiness: 0.02, scaleNoise: 0.05 });
    for (const hertz of [0.8, 1.2, 1.8]) {
      const swing = { grams: 0.5, hertz };
      const swung = slopeOf({ seconds: 30, gramsPerTurn: 3.4, lumpiness: 0.02, scaleNoise: 0.05, swing });
      expect(swung.seeds / calm.seeds).toBeLessThan(1.6);
    }
  });

  it('grows surer with turns', () => {
    const doubt = (seconds: number) => {
      const slope = slopeOf({ seconds, gramsPerTurn: 3.4, lumpiness: 0.02 });
      return Math.hypot(slope.seeds, slope.weighing);
    };
    expect(doubt(40)).toBeLessThan(0.75 * doubt(10));
  });

  it('keeps no more after an hour than after a minute', () => {
    const size = (seconds: number) =>
      JSON.stringify(run({ seconds, gramsPerTurn: 3.4, scaleNoise: 0.1 })).length;
    expect(size(3600) / size(60)).toBeLessThan(1.02);
  });

  it('is plain data, the same from the same readings', () => {
    const state = run({ seconds: 12, gramsPerTurn: 3.4, scaleNoise: 0.1, lumpiness: 0.02 });
    expect(JSON.parse(JSON.stringify(state))).toEqual(state);
    expect(run({ seconds: 12, gramsPerTurn: 3.4, scaleNoise: 0.1, lumpiness: 0.02 })).toEqual(state);
  });
});

describe('the rate of a whole run', () => {
  const whole = { seconds: 20, gramsPerTurn: 3.4, lumpiness: 0.02, scaleNoise: 0.1 };

  it('is the catch over the turns where seeds make the noise', () => {
    const state = run(whole);
    const settled = settledEstimate(state, 15, 51.9, 0.005)!;
    expect(settled.gramsPerTurn).toBeCloseTo(51.9 / 15, 2);
    expect(settled.weighing).toBeLessThan(0.1 * settled.seeds);
  });

  it('leans on the slope where the weighing at rest is poor', () => {
    const state = run({ ...whole, lumpiness: 0.0001 });
    const settled = settledEstimate(state, 15, 15 * 3.4 + 3, 5)!;
    expect(Math.abs(settled.gramsPerTurn - 3.4)).toBeLessThan(0.25 * (3 / 15));
  });

  it('can be told from two weighings alone', () => {
    const settled = settledEstimate(freshRate(knowledge), 1, 3.2, 0.01)!;
    expect(settled.gramsPerTurn).toBeCloseTo(3.2, 3);
    expect(settled.seeds).toBeCloseTo(Math.sqrt(3 * 0.02), 1);
  });
});
