import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CatchForecast, chanceWithin, forecastCatch } from '../../server/domain/forecast.ts';
import { addToRate, freshRate } from '../../server/domain/rate.ts';
import { verdictOn } from '../../server/domain/verdict.ts';
import { noiseFrom } from './noise.ts';

const knowledge = { expectedGramsPerTurn: 3, lumpiness: 0.02, readingVariance: 0.003 };
const finalTurns = 20;

/** Readings of so many seconds at 0.75 turns a second, and what will lie in the bag after all turns. */
function begun(seconds: number, seed: number) {
  const noise = noiseFrom(seed);
  const [gramsPerTurn, lag] = [3.4, 0.2];
  let state = freshRate(knowledge);
  let walk = 0;
  let before = 0;
  const walkOn = (source: number) => {
    walk += Math.sqrt((source - before) * gramsPerTurn * 0.02) * noise();
    before = source;
  };
  for (let reading = 0; reading < seconds * 80; reading += 1) {
    const second = reading / 80;
    const source = 0.75 * Math.max(0, second - lag);
    walkOn(source);
    const grams = gramsPerTurn * source + walk + 0.1 * noise();
    state = addToRate(state, reading * 12_500, 0.75 * second, second < 1.2 ? null : grams);
  }
  walkOn(finalTurns);
  return { state, caught: gramsPerTurn * finalTurns + walk };
}

describe('the forecast of the catch', () => {
  it('is not made from next to nothing', () => {
    expect(forecastCatch(freshRate(knowledge), 20, 0.01)).toBeNull();
    expect(forecastCatch(begun(1.5, 1).state, 20, 0.01)).toBeNull();
  });

  it('comes true within its doubt, early and late', () => {
    for (const seconds of [6, 13, 20]) {
      const errors: number[] = [];
      for (let seed = 1; seed <= 120; seed += 1) {
        const { state, caught } = begun(seconds, seed);
        const forecast = forecastCatch(state, finalTurns, 0.005)!;
        errors.push((forecast.grams - caught) / forecast.doubt.standard);
      }
      const spread = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length);
      expect(spread).toBeGreaterThan(0.75);
      expect(spread).toBeLessThan(1.25);
    }
  });

  it('grows narrower as the wheel turns', () => {
    const doubts = [6, 12, 20].map(
      (seconds) => forecastCatch(begun(seconds, 3).state, 20, 0.005)!.doubt.standard,
    );
    expect(doubts[1]!).toBeLessThan(doubts[0]!);
    expect(doubts[2]!).toBeLessThan(doubts[1]!);
  });
});

const forecast = (grams: number, standard: number): CatchForecast => ({
  grams,
  doubt: { standard, degreesOfFreedom: 40 },
});
const band = { target: 86, low: 81.7, high: 90.3 };

describe('the chance to end inside the band', () => {
  it('is that of Student’s t', () => {
    // Two-sided 95 % point of t with 40 degrees of freedom: 2.021, NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2.
    expect(chanceWithin(forecast(86, 4.3 / 2.021), 81.7, 90.3)).toBeCloseTo(0.95, 3);
    expect(chanceWithin(forecast(81.7, 1), 81.7, 200)).toBeCloseTo(0.5, 9);
  });
});

describe('the verdict', () => {
  it('is open while much can happen', () => {
    expect(verdictOn(forecast(80, 5), band)).toMatchObject({ kind: 'open' });
  });

  it('calls a run that will miss, with the side and the factor wanted', () => {
    const short = verdictOn(forecast(43, 1.5), band);
    expect(short.kind).toBe('too-little');
    expect(short.chanceInside).toBeLessThan(1e-6);
    expect(short.factor).toBeCloseTo(2, 9);
    expect(verdictOn(forecast(120, 5), band)).toMatchObject({ kind: 'too-much' });
  });

  it('says when more turns would tell little more', () => {
    expect(verdictOn(forecast(85, 1), band)).toMatchObject({ kind: 'enough' });
    expect(verdictOn(forecast(85, 1.2), band)).toMatchObject({ kind: 'open' });
  });

  it('never calls a run whose forecast lies inside the band, and is surer the farther out', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 81.8, max: 90.2, noNaN: true }),
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        (grams, doubt) => {
          expect(verdictOn(forecast(grams, doubt), band).kind).toMatch(/open|enough/);
        },
      ),
    );
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 30, noNaN: true }), (beyond) => {
        const near = verdictOn(forecast(90.3 + beyond, 2), band).chanceInside;
        expect(verdictOn(forecast(90.3 + 2 * beyond, 2), band).chanceInside).toBeLessThanOrEqual(near);
      }),
    );
  });
});
