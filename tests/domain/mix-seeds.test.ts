import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gramsPerLitre } from '../../server/domain/bulk-density.ts';
import {
  massWeightedSeedMass,
  meanSeedMass,
  mixDensityEstimate,
  mixLumpiness,
  mixSeeds,
} from '../../server/domain/mix-seeds.ts';
import { mixByMass } from '../../server/domain/seed-mix.ts';
import { gramsPerSquareMetre } from '../../server/domain/units.ts';
import { poissonDraw, uniformsFrom } from './draws.ts';
import { between, lotOf, near, refused } from './lots.ts';
import { mean, noiseFrom, spread } from './noise.ts';

const two = (first: number, second: number, share: number) =>
  mixByMass(
    [
      { name: 'large', lot: lotOf(first), share },
      { name: 'small', lot: lotOf(second), share: 1 - share },
    ],
    gramsPerSquareMetre(10),
  );

describe('seeds of a mix', () => {
  it('mean masses lie between those of the species, the mass-weighted one above the plain one', () => {
    fc.assert(
      fc.property(between(10, 400), between(0.2, 9), between(0.01, 0.99), (large, small, share) => {
        const mix = two(large, small, share);
        expect(meanSeedMass(mix)).toBeGreaterThan(small / 1000);
        expect(massWeightedSeedMass(mix)).toBeLessThan(large / 1000);
        expect(massWeightedSeedMass(mix)).toBeGreaterThan(meanSeedMass(mix));
        near(mixLumpiness(mix, 0), massWeightedSeedMass(mix));
        near(mixLumpiness(mix, 0.5), 1.25 * massWeightedSeedMass(mix));
      }),
    );
  });

  it('a species alone is its own mean', () => {
    const alone = mixByMass([{ name: 'wheat', lot: lotOf(40, 98, 90), share: 1 }], gramsPerSquareMetre(12));
    near(meanSeedMass(alone), 0.04);
    near(massWeightedSeedMass(alone), 0.04);
    near(mixSeeds(alone)[0]!.live, (12 * 0.98 * 0.9) / 0.04);
    expect(mixSeeds(alone)[0]!.liveShare).toBe(1);
  });

  // Seeds drawn one by one: heavy ones few, light ones many, each mass varying.
  it('lumpiness foretells the variance of catches drawn seed by seed', () => {
    const mix = two(250, 3, 0.6);
    const uniform = uniformsFrom(7);
    const normal = noiseFrom(7);
    const caught = 6;
    const of = (share: number, mass: number, cv: number) => {
      const count = poissonDraw(uniform, (caught * share) / mass);
      return mass * (count + cv * Math.sqrt(count) * normal());
    };
    const catches = Array.from({ length: 20_000 }, () => of(0.6, 0.25, 0.3) + of(0.4, 0.003, 0.1));
    const foretold = Math.sqrt(caught * mixLumpiness(mix, [0.3, 0.1]));
    expect(Math.abs(mean(catches) - caught)).toBeLessThan(4 * (foretold / Math.sqrt(20_000)));
    // The standard deviation of a standard deviation from 20 000 draws is half a percent of it.
    expect(Math.abs(spread(catches) / foretold - 1)).toBeLessThan(0.02);
  });

  it('bulk density is that of the species where all are alike, and between them where not', () => {
    fc.assert(
      fc.property(between(100, 900), between(100, 900), between(0.05, 0.95), (first, second, share) => {
        const mix = two(40, 3, share);
        const each = [gramsPerLitre(first), gramsPerLitre(second)];
        const { gramsPerLitre: mixed, caution } = mixDensityEstimate(mix, each);
        expect(mixed).toBeGreaterThanOrEqual(Math.min(first, second) * (1 - 1e-12));
        expect(mixed).toBeLessThanOrEqual(Math.max(first, second) * (1 + 1e-12));
        near(mixDensityEstimate(mix, [each[0]!, each[0]!]).gramsPerLitre, first);
        expect(caution).toMatch(/estimate/);
      }),
    );
  });

  it('volumes add: 50 g at 500 g/L and 50 g at 250 g/L fill 0.3 L', () => {
    const mixed = mixDensityEstimate(two(40, 3, 0.5), [gramsPerLitre(500), gramsPerLitre(250)]);
    near(mixed.gramsPerLitre, 100 / 0.3);
  });

  it('wants one figure for each species, and possible ones', () => {
    const mix = two(40, 3, 0.5);
    refused(() => mixDensityEstimate(mix, [gramsPerLitre(500)]), 'inconsistent', 'bulkDensity');
    refused(
      () => mixDensityEstimate(mix, [gramsPerLitre(500), gramsPerLitre(5)]),
      'out-of-range',
      'bulkDensity',
    );
    refused(() => mixLumpiness(mix, [0.2]), 'inconsistent', 'seedMassSpread');
    refused(() => mixLumpiness(mix, -0.1), 'out-of-range', 'seedMassSpread');
    refused(() => mixLumpiness(mix, Number.NaN), 'not-a-number', 'seedMassSpread');
  });
});
