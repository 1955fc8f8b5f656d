import { describe, expect, it } from 'vitest';
import * as bulk from '../../server/domain/bulk-density.ts';
import {
  gramsPerThousandSeeds,
  seedsPerGram,
  seedsPerPoundFromThousandSeedWeight,
  thousandSeedWeightFromSeedsPerGram,
} from '../../server/domain/seed-units.ts';
import { publishedDensityOf, speciesByKey } from '../../server/domain/species.ts';

// READ: seeds to the gram of 7 CFR 201.46, Table 1 (2015; github.com/18F/allregs), and grams a thousand of Kew's Seed Information Database
// (17 July 2019; paternogbc/gazp-toolbox). Computed from them, three figures: seeds to the pound from either, grams from the counts.
const counts: [string, number | null, number | null, number | null, number | null, number | null][] = [
  // key, Kew g, seeds/lb from Kew, CFR seeds/g, seeds/lb from CFR, g from CFR
  ['cereal-rye', 17.1, 26_500, 40, 18_100, 25],
  ['oat', 31.5, 14_400, 35, 15_900, 28.6],
  ['oat', 31.5, 14_400, 50, 22_700, 20],
  ['black-oat', 18.5, 24_500, null, null, null],
  ['barley', 41.8, 10_900, 30, 13_600, 33.3],
  ['triticale', 42.9, 10_600, null, null, null],
  ['wheat', 37.07, 12_200, 25, 11_300, 40],
  ['hairy-vetch', 34.8, 13_000, 35, 15_900, 28.6],
  ['common-vetch', 33.5, 13_500, 19, 8620, 52.6],
  ['crimson-clover', 3.2, 142_000, 330, 150_000, 3.03],
  ['red-clover', 1.3, 349_000, 600, 272_000, 1.67],
  ['white-clover', 0.7, 648_000, 1500, 680_000, 0.667],
  ['berseem-clover', 2.9, 156_000, 455, 206_000, 2.2],
  ['field-pea', 139, 3260, 4, null, 250],
  ['faba-bean', 393.5, 1150, null, null, null],
  ['cowpea', 144.5, null, 8, 3630, 125],
  ['sunn-hemp', 32.7, 13_900, 35, 15_900, 28.6],
  ['soybean', 185, 2450, 6, null, 167],
  ['soybean', 185, 2450, 13, null, 76.9],
  ['sorghum-sudangrass', null, null, 38, 17_200, 26.3],
  ['sudangrass', 9.4, 48_300, 100, 45_400, 10],
  ['pearl-millet', 6.6, 68_700, 180, 81_600, 5.56],
  ['foxtail-millet', 2.3, 197_000, 480, 218_000, 2.08],
  ['buckwheat', 28.3, 16_000, 45, 20_400, 22.2],
  ['radish', 12, 37_800, 75, 34_000, 13.3],
  ['turnip', 2.1, 216_000, 535, 243_000, 1.87],
  ['rape', 3.3, 137_000, 230, 104_000, 4.35],
  ['rape', 3.3, 137_000, 345, 156_000, 2.9],
  ['white-mustard', 5.2, 87_200, 160, 72_600, 6.25],
  ['brown-mustard', 2.9, 156_000, 625, 283_000, 1.6],
  ['phacelia', 1.7, 267_000, null, null, null],
  ['flax', 6, 75_600, 180, 81_600, 5.56],
  ['sunflower', 38.8, 11_700, null, null, null],
  ['annual-ryegrass', 2.9, 156_000, 420, 191_000, 2.38],
  ['safflower', 35.2, 12_900, 30, 13_600, 33.3],
];

const threeFigures = (value: number) => Number(value.toPrecision(3));
const perPound = (grams: number) => seedsPerPoundFromThousandSeedWeight(gramsPerThousandSeeds(grams));

describe('seeds to the gram, to the pound, grams a thousand', () => {
  it.each(counts)('%s', (key, kew, fromKew, cfr, fromCfr, grams) => {
    const { low, high } = speciesByKey(key).thousandSeedWeight;
    if (kew !== null) {
      if (fromKew !== null) expect(threeFigures(perPound(kew))).toBe(fromKew);
      expect(kew).toBeGreaterThanOrEqual(low);
      expect(kew).toBeLessThanOrEqual(high);
    }
    if (cfr !== null) {
      const weight = thousandSeedWeightFromSeedsPerGram(seedsPerGram(cfr));
      expect(threeFigures(weight)).toBe(grams);
      if (fromCfr !== null) expect(threeFigures(perPound(weight))).toBe(fromCfr);
      expect(weight).toBeGreaterThanOrEqual(low * 0.9999);
      expect(weight).toBeLessThanOrEqual(high * 1.0001);
    }
  });
});

// Legal bushels. READ: Indiana Code 24-6-1-1, Arkansas Code 4-18-331, Iowa Code 210.10, FCIC-25010 (sizes.com); READ-2: Missouri G4020.
// Where states disagree the table holds them all. kg/hL computed: 1 lb/bu is 1.28719.
describe('legal bushels', () => {
  it.each([
    ['wheat', 60, 60],
    ['cereal-rye', 56, 56],
    ['oat', 32, 32],
    ['barley', 48, 48],
    ['buckwheat', 48, 52],
    ['rape', 50, 60],
    ['flax', 56, 60],
    ['grain-sorghum', 50, 56],
    ['soybean', 60, 60],
    ['sudangrass', 28, 28],
    ['sunflower', 24, 32],
    ['triticale', 50, 50],
  ])('%s: %s to %s lb', (key, low, high) => {
    const density = publishedDensityOf(speciesByKey(key))!;
    expect(bulk.poundsPerUsBushelFromGramsPerLitre(density.low)).toBeCloseTo(low, 9);
    expect(bulk.poundsPerUsBushelFromGramsPerLitre(density.high)).toBeCloseTo(high, 9);
  });

  it.each([
    [24, 30.9],
    [28, 36.0],
    [32, 41.2],
    [48, 61.8],
    [50, 64.4],
    [52, 66.9],
    [56, 72.1],
    [60, 77.2],
  ])('%s lb are %s kg/hL', (pounds, kilograms) => {
    const density = bulk.gramsPerLitreFromPoundsPerUsBushel(bulk.poundsPerUsBushel(pounds));
    expect(bulk.kilogramsPerHectolitreFromGramsPerLitre(density)).toBeCloseTo(kilograms, 1);
  });

  it('60 lb are 77.231 kg/hL', () => {
    const density = bulk.gramsPerLitreFromPoundsPerUsBushel(bulk.poundsPerUsBushel(60));
    expect(bulk.kilogramsPerHectolitreFromGramsPerLitre(density)).toBeCloseTo(77.231, 3);
  });
});

// Canadian Grain Commission, test weight conversion charts, background (grainscanada.gc.ca). READ: 1 British bushel = 0.3637 hL, kg/hL over
// 1.247 is lb/bu; grams in half a litre times 0.1552 is lb to the Winchester (US) bushel; 36.37 and 35.24 L.
describe('the imperial bushel and the US bushel', () => {
  it('hold 36.37 and 35.24 L', () => {
    expect(bulk.litresFromImperialBushels(bulk.imperialBushels(1))).toBeCloseTo(36.37, 2);
    expect(bulk.litresFromUsBushels(bulk.usBushels(1))).toBeCloseTo(35.24, 2);
  });

  it('1 lb to the imperial bushel is 1.247 kg/hL', () => {
    const density = bulk.gramsPerLitreFromPoundsPerImperialBushel(bulk.poundsPerImperialBushel(1));
    expect(bulk.kilogramsPerHectolitreFromGramsPerLitre(density)).toBeCloseTo(1.247, 3);
  });

  it('1 g in half a litre is 0.1552 lb to the US bushel', () => {
    expect(bulk.poundsPerUsBushelFromGramsPerLitre(bulk.gramsPerLitre(2))).toBeCloseTo(0.1552, 3);
  });
});

// E. Dursun et al., J. Stored Prod. Res. 43 (2007) 149-155 (sugarbeet), and A. D. Zewdu and W. K. Solomon, CIGR (grass pea). READ: densities by
// moisture. Computed: what a volumetric meter gives less when seed is damp, 6.5 and 15.7 %.
it.each([
  [447, 418, 6.5],
  [883, 744, 15.7],
])('a litre of damp seed weighs less: %s to %s kg/m³ are %s %%', (dry, damp, percent) => {
  const gramsOf = (density: number) =>
    bulk.massOfVolume(
      bulk.litres(1),
      bulk.gramsPerLitreFromKilogramsPerCubicMetre(bulk.kilogramsPerCubicMetre(density)),
    );
  expect(100 * (1 - gramsOf(damp) / gramsOf(dry))).toBeCloseTo(percent, 1);
});
