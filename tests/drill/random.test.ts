import { describe, expect, it } from 'vitest';
import { RandomStream, randomStreams } from '../../firmware-sim/drill/random.ts';
import { chiSquare, chiSquareZ, correlation, mean, variance } from './statistics.ts';

const many = (count: number, draw: () => number) => Array.from({ length: count }, draw);

/** Counts of values in `bins` equal parts of 0 to 1. */
function histogram(values: readonly number[], bins: number): number[] {
  const counts = new Array<number>(bins).fill(0);
  for (const value of values) counts[Math.min(bins - 1, Math.floor(value * bins))]!++;
  return counts;
}

function expectUniform(values: readonly number[]): void {
  const counts = histogram(values, 64);
  const expected = counts.map(() => values.length / 64);
  expect(Math.abs(chiSquareZ(chiSquare(counts, expected), 63))).toBeLessThan(3);
}

/** Normal distribution function; Abramowitz and Stegun 7.1.26 (error below 1.5e-7; from memory). */
function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = (poly * Math.exp(-x * x)) / 2;
  return z > 0 ? 1 - tail : tail;
}

describe('the generator', () => {
  it('gives the numbers of the reference implementation', () => {
    // xoshiro128starstar.c 1.1 (prng.di.unimi.it) from state 1, 2, 3, 4; as printed in the tests of the Rust crate rand_xoshiro.
    const stream = new RandomStream([1, 2, 3, 4]);
    expect(many(10, () => stream.bits())).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
    ]);
  });

  it('never starts from the state it could not leave', () => {
    const stream = new RandomStream([0, 0, 0, 0]);
    expect(new Set(many(100, () => stream.bits())).size).toBeGreaterThan(90);
  });

  it('is uniform, and never 0 or 1', () => {
    const stream = randomStreams(1)('any');
    const values = many(200_000, () => stream.uniform());
    expectUniform(values);
    expect(values.every((value) => value > 0 && value < 1)).toBe(true);
  });

  it('draws normal numbers', () => {
    const stream = randomStreams(2)('any');
    const values = many(200_000, () => stream.normal());
    expectUniform(values.map(normalBelow));
    expect(Math.abs(mean(values)) * Math.sqrt(values.length)).toBeLessThan(3);
    expect(Math.abs(variance(values) - 1)).toBeLessThan(3 * Math.sqrt(2 / values.length));
  });

  it('draws exponential numbers of mean 1', () => {
    const stream = randomStreams(3)('any');
    expectUniform(many(200_000, () => Math.exp(-stream.exponential())));
  });
});

describe('named streams', () => {
  it('are the same for the same seed and name, whatever else was drawn', () => {
    const first = randomStreams(7);
    const second = randomStreams(7);
    const other = second('seeds 1');
    many(17, () => other.normal());
    const [a, b] = [first('seeds 0'), second('seeds 0')];
    expect(many(50, () => a.normal())).toEqual(many(50, () => b.normal()));
  });

  it('differ from seed to seed and from name to name, without a trace of each other', () => {
    const names = ['seeds 0', 'seeds 1', 'noise 0', 'fall 0', 'bounce'];
    const streams = [7, 8, '7 '].flatMap((seed) => names.map((name) => randomStreams(seed)(name)));
    const series = streams.map((stream) => many(20_000, () => stream.uniform()));
    for (let i = 0; i < series.length; i++) {
      for (let j = 0; j < i; j++) {
        expect(Math.abs(correlation(series[i]!, series[j]!)) * Math.sqrt(20_000)).toBeLessThan(4);
      }
    }
  });
});
