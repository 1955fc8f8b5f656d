import { describe, expect, it } from 'vitest';
import { addToRate, type RateKnowledge, slopeEstimate, unknownRate } from '../../server/domain/rate.ts';
import { mean, noiseFrom, spread } from './noise.ts';

const knowledge: RateKnowledge = { expectedGramsPerTurn: 3, lumpiness: 0.02, noiseVariance: 0.0001 };

interface Run {
  seconds: number;
  gramsPerTurn: number;
  /** Grams; white, a reading. */
  scaleNoise?: number;
  /** Variance per gram. */
  lumpiness?: number;
  seed?: number;
  turnsAt?: (second: number) => number;
}

/** Readings 80 times a second of a wheel at 0.75 turns a second, with seeds as a random walk. */
function run({
  seconds,
  gramsPerTurn,
  scaleNoise = 0,
  lumpiness = 0,
  seed = 1,
  turnsAt = (s) => 0.75 * s,
}: Run) {
  const noise = noiseFrom(seed);
  let state = unknownRate;
  let walk = 0;
  let before = 0;
  for (let reading = 0; reading < seconds * 80; reading += 1) {
    const turns = turnsAt(reading / 80);
    walk += Math.sqrt(Math.max(0, turns - before) * gramsPerTurn * lumpiness) * noise();
    before = turns;
    state = addToRate(state, reading * 12_500, turns, gramsPerTurn * turns + walk + scaleNoise * noise());
  }
  return state;
}

describe('the slope of mass against turns', () => {
  it('is exact without noise, whatever the offset', () => {
    expect(slopeEstimate(run({ seconds: 10, gramsPerTurn: 3.4 }), knowledge)?.gramsPerTurn).toBeCloseTo(
      3.4,
      10,
    );
  });

  it('is exact for a wheel turned unevenly', () => {
    const uneven = run({ seconds: 10, gramsPerTurn: 3.4, turnsAt: (s) => 0.6 * s + 0.1 * Math.sin(3 * s) });
    expect(slopeEstimate(uneven, knowledge)?.gramsPerTurn).toBeCloseTo(3.4, 10);
  });

  it('is not stated from next to nothing, nor for a wheel that stands or a bag that empties', () => {
    expect(slopeEstimate(unknownRate, knowledge)).toBeNull();
    expect(slopeEstimate(run({ seconds: 1.5, gramsPerTurn: 3.4 }), knowledge)).toBeNull();
    expect(slopeEstimate(run({ seconds: 10, gramsPerTurn: 3.4, turnsAt: () => 2 }), knowledge)).toBeNull();
    expect(slopeEstimate(run({ seconds: 10, gramsPerTurn: -1 }), knowledge)).toBeNull();
  });

  it('states its doubt truly for lumpy seed and a noisy scale', () => {
    const errors: number[] = [];
    for (let seed = 1; seed <= 300; seed += 1) {
      const state = run({ seconds: 12, gramsPerTurn: 3.4, scaleNoise: 0.3, lumpiness: 0.02, seed });
      const slope = slopeEstimate(state, knowledge)!;
      errors.push((slope.gramsPerTurn - 3.4) / Math.hypot(slope.weighing, slope.seeds));
    }
    expect(Math.abs(mean(errors))).toBeLessThan(0.2);
    expect(spread(errors)).toBeGreaterThan(0.85);
    expect(spread(errors)).toBeLessThan(1.15);
  });

  it('learns from the run when seed is lumpier than told', () => {
    const calm = slopeEstimate(run({ seconds: 30, gramsPerTurn: 3.4, lumpiness: 0.02 }), knowledge)!;
    const lumpy = slopeEstimate(run({ seconds: 30, gramsPerTurn: 3.4, lumpiness: 0.3 }), knowledge)!;
    expect(lumpy.seeds).toBeGreaterThan(2 * calm.seeds);
  });

  it('tells the scale’s noise from the lumpiness of seed', () => {
    const shaken = slopeEstimate(
      run({ seconds: 30, gramsPerTurn: 3.4, scaleNoise: 2, lumpiness: 0.02 }),
      knowledge,
    )!;
    // Forty readings to the half second.
    expect(shaken.noise / (2 / Math.sqrt(40))).toBeGreaterThan(0.6);
    expect(shaken.noise / (2 / Math.sqrt(40))).toBeLessThan(1.6);
  });

  it('grows surer with turns', () => {
    const doubt = (seconds: number) => {
      const slope = slopeEstimate(run({ seconds, gramsPerTurn: 3.4, lumpiness: 0.02 }), knowledge)!;
      return Math.hypot(slope.seeds, slope.weighing);
    };
    expect(doubt(40)).toBeLessThan(0.75 * doubt(10));
  });

  it('keeps no more after an hour than after a minute', () => {
    const size = (seconds: number) => JSON.stringify(run({ seconds, gramsPerTurn: 3.4 })).length;
    expect(Math.abs(size(3600) - size(60))).toBeLessThan(120);
  });
});
