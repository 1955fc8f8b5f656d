import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as bulk from '../../server/domain/bulk-density.ts';
import * as seed from '../../server/domain/seed-units.ts';
import { kilogramsPerHectare, type PoundsPerAcre, poundsPerAcre } from '../../server/domain/units.ts';
import { between, near, refused } from './lots.ts';

type Way = (value: never) => number;

const pairs: [string, Way, Way][] = [
  ['seeds a square foot', seed.seedsPerSquareMetreFromSquareFoot, seed.seedsPerSquareFootFromSquareMetre],
  ['seeds an acre', seed.seedsPerSquareMetreFromAcre, seed.seedsPerAcreFromSquareMetre],
  ['seeds a hectare', seed.seedsPerSquareMetreFromHectare, seed.seedsPerHectareFromSquareMetre],
  ['seeds a row foot', seed.seedsPerRowMetreFromRowFoot, seed.seedsPerRowFootFromRowMetre],
  ['plants a square foot', seed.plantsPerSquareMetreFromSquareFoot, seed.plantsPerSquareFootFromSquareMetre],
  ['plants a square yard', seed.plantsPerSquareMetreFromSquareYard, seed.plantsPerSquareYardFromSquareMetre],
  ['plants an acre', seed.plantsPerSquareMetreFromAcre, seed.plantsPerAcreFromSquareMetre],
  ['plants a hectare', seed.plantsPerSquareMetreFromHectare, seed.plantsPerHectareFromSquareMetre],
  ['kg/m³', bulk.gramsPerLitreFromKilogramsPerCubicMetre, bulk.kilogramsPerCubicMetreFromGramsPerLitre],
  ['kg/hL', bulk.gramsPerLitreFromKilogramsPerHectolitre, bulk.kilogramsPerHectolitreFromGramsPerLitre],
  ['lb/US bu', bulk.gramsPerLitreFromPoundsPerUsBushel, bulk.poundsPerUsBushelFromGramsPerLitre],
  [
    'lb/imperial bu',
    bulk.gramsPerLitreFromPoundsPerImperialBushel,
    bulk.poundsPerImperialBushelFromGramsPerLitre,
  ],
  ['US bushel', bulk.litresFromUsBushels, bulk.usBushelsFromLitres],
  ['imperial bushel', bulk.litresFromImperialBushels, bulk.imperialBushelsFromLitres],
  ['cubic foot', bulk.litresFromCubicFeet, bulk.cubicFeetFromLitres],
];

describe('units of seed', () => {
  it.each(pairs)('%s go there and back, and scale', (_, there, back) => {
    fc.assert(
      fc.property(between(1e-6, 1e9), (x) => {
        near(back(there(x as never) as never), x, 1e-15);
        near(there((2 * x) as never), 2 * there(x as never), 1e-15);
      }),
    );
  });

  it('thousand-seed weight, seeds to the gram and to the pound are one thing', () => {
    fc.assert(
      fc.property(between(0.02, 4000).map(seed.gramsPerThousandSeeds), (weight) => {
        near(
          seed.thousandSeedWeightFromSeedsPerGram(seed.seedsPerGramFromThousandSeedWeight(weight)),
          weight,
        );
        near(
          seed.thousandSeedWeightFromSeedsPerPound(seed.seedsPerPoundFromThousandSeedWeight(weight)),
          weight,
        );
        near(
          seed.seedsPerPoundFromThousandSeedWeight(weight),
          453.59237 * seed.seedsPerGramFromThousandSeedWeight(weight),
        );
        near(seed.seedMass(weight), weight / 1000);
      }),
    );
  });

  it('refuses seed weights that no field seed has, most often a count typed for a weight', () => {
    for (const bad of [0, -3, 0.001, 15_000]) {
      refused(() => seed.seedMass(seed.gramsPerThousandSeeds(bad)), 'out-of-range', 'thousandSeedWeight');
    }
    refused(
      () => seed.thousandSeedWeightFromSeedsPerGram(seed.seedsPerGram(0)),
      'out-of-range',
      'seedsPerGram',
    );
    refused(
      () => seed.thousandSeedWeightFromSeedsPerPound(seed.seedsPerPound(-1)),
      'out-of-range',
      'seedsPerPound',
    );
    refused(() => seed.gramsPerThousandSeeds(Number.NaN), 'not-a-number');
  });

  it('refuses bulk densities that no seed has, and volumes that no hopper has', () => {
    refused(() => bulk.massOfVolume(bulk.litres(100), bulk.gramsPerLitre(0)), 'out-of-range', 'bulkDensity');
    refused(
      () => bulk.massOfVolume(bulk.litres(100), bulk.gramsPerLitre(7700)),
      'out-of-range',
      'bulkDensity',
    );
    refused(() => bulk.massOfVolume(bulk.litres(-1), bulk.gramsPerLitre(770)), 'out-of-range', 'volume');
    expect(bulk.massOfVolume(bulk.litres(200), bulk.gramsPerLitre(770))).toBe(154_000);
  });

  it('keeps the units apart in their types', () => {
    const takesPoundsPerAcre = (rate: PoundsPerAcre) => rate;
    // @ts-expect-error kilograms a hectare are not pounds an acre
    takesPoundsPerAcre(kilogramsPerHectare(60));
    expect(takesPoundsPerAcre(poundsPerAcre(60))).toBe(60);
    // @ts-expect-error plants are not seeds
    seed.seedsPerSquareFootFromSquareMetre(seed.plantsPerSquareMetre(300));
    // @ts-expect-error seeds a length of row are not seeds an area
    seed.seedsPerSquareFootFromSquareMetre(seed.seedsPerRowMetre(50));
    // @ts-expect-error seeds to the pound are not seeds to the gram
    seed.thousandSeedWeightFromSeedsPerGram(seed.seedsPerPound(15_000));
    // @ts-expect-error kilograms a hectolitre are not grams a litre
    bulk.massOfVolume(bulk.litres(1), bulk.kilogramsPerHectolitre(77));
    // @ts-expect-error a US bushel is not an imperial one
    bulk.gramsPerLitreFromPoundsPerImperialBushel(bulk.poundsPerUsBushel(60));
  });
});
