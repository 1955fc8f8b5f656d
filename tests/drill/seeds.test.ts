import { describe, expect, it } from 'vitest';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import { lumpGrams, meanSeedGrams, type Species } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { SeedLot } from '../../firmware-sim/drill/seeds.ts';
import { turnFor } from './runs.ts';
import { chiSquare, chiSquareZ, mean, variance } from './statistics.ts';

const draws = 100_000;

function drawMany(mix: Species[]): number[][] {
  const lot = new SeedLot(mix);
  const random = randomStreams('seeds')('lot');
  const bySpecies: number[][] = mix.map(() => []);
  for (let i = 0; i < draws; i++) {
    const seed = lot.draw(random);
    bySpecies[seed.species]!.push(seed.grams);
  }
  return bySpecies;
}

describe('seeds drawn from a mix', () => {
  const { mix } = oneRow;
  const drawn = drawMany(mix);

  it('come in the number shares that follow from mass shares and thousand-seed weights', () => {
    const perGram = mix.map((s) => (1000 * s.massShare) / s.thousandSeedGrams);
    const all = perGram.reduce((sum, n) => sum + n, 0);
    const expected = perGram.map((n) => (draws * n) / all);
    const counts = drawn.map((grams) => grams.length);
    expect(Math.abs(chiSquareZ(chiSquare(counts, expected), mix.length - 1))).toBeLessThan(3);
  });

  it('weigh what the thousand-seed weight says, with the stated spread', () => {
    mix.forEach((species, i) => {
      const relative = drawn[i]!.map((grams) => (1000 * grams) / species.thousandSeedGrams);
      const error = species.massCv / Math.sqrt(relative.length);
      expect(Math.abs(mean(relative) - 1) / error).toBeLessThan(3);
      expect(Math.sqrt(variance(relative)) / species.massCv).toBeCloseTo(1, 1);
    });
  });

  it('have the mean mass and the lump of the whole mix', () => {
    const grams = drawn.flat();
    expect(mean(grams) / meanSeedGrams(mix)).toBeCloseTo(1, 2);
    expect(mean(grams.map((g) => g * g)) / mean(grams) / lumpGrams(mix)).toBeCloseTo(1, 2);
  });

  it('fill the bag with the mass shares of the mix', () => {
    const caught = turnFor(oneRow, 'shares', 600).truth.seedsCaught();
    const total = caught.reduce((sum, { grams }) => sum + grams, 0);
    mix.forEach((species, i) => {
      const { seeds, grams } = caught[i]!;
      const error = Math.sqrt((1 + species.massCv ** 2) / seeds) * species.massShare;
      expect(Math.abs(grams / total - species.massShare) / error).toBeLessThan(3);
    });
  });
});

describe('the lump of a mix', () => {
  it('is the sum of share x seed mass, as worked by hand', () => {
    const even = { massCv: 0 };
    const mix = [
      { name: 'pea', massShare: 0.25, thousandSeedGrams: 200, ...even },
      { name: 'rye', massShare: 0.75, thousandSeedGrams: 40 / 3, ...even },
    ];
    // 0.25 x 0.200 g + 0.75 x 0.0133 g = 0.06 g; 86 g then vary by sqrt(86 x 0.06) = 2.27 g, 2.6 %.
    expect(lumpGrams(mix)).toBeCloseTo(0.06, 12);
    expect(Math.sqrt(86 * lumpGrams(mix)) / 86).toBeCloseTo(0.0264, 4);
  });
});
