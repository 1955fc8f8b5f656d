import { describe, expect, it } from 'vitest';
import { mixSeeds } from '../../server/domain/mix-seeds.ts';
import { bulkRateFromLive, pureLiveSeed } from '../../server/domain/seed-lot.ts';
import { mixByFullStand } from '../../server/domain/seed-mix.ts';
import {
  plantsPerSquareFoot,
  plantsPerSquareMetre,
  plantsPerSquareMetreFromSquareFoot,
  seedsPerPound,
  seedsPerSquareFootFromSquareMetre,
  thousandSeedWeightFromSeedsPerPound,
} from '../../server/domain/seed-units.ts';
import { rateFromPlants } from '../../server/domain/seeding-target.ts';
import {
  gramsPerSquareMetreFromPoundsPerAcre,
  kilogramsPerHectareFromGramsPerSquareMetre,
  poundsPerAcre,
  poundsPerAcreFromGramsPerSquareMetre,
} from '../../server/domain/units.ts';
import { lotOf } from '../domain/lots.ts';

/** READ: seen in the source named; MEMORY: recalled; computed: from exact definitions, where the source rounds. */

const lbPerAc = (value: number) => gramsPerSquareMetreFromPoundsPerAcre(poundsPerAcre(value));
const bulkLb = (live: number, ...tag: [number, number, number?]) =>
  poundsPerAcreFromGramsPerSquareMetre(bulkRateFromLive(lbPerAc(live), lotOf(2, ...tag)));
const percentLive = (...tag: [number, number, number?, number?]) => 100 * pureLiveSeed(lotOf(2, ...tag));

describe('pure live seed, worked examples', () => {
  // Pennsylvania DEP, Erosion and Sediment Pollution Control Program Manual, p. 284 (copy yumpu 14058954). READ.
  it('85 x 72 is 61 %; 12 lb/ac live at 35 % are 34.3 lb/ac', () => {
    expect(percentLive(85, 72)).toBeCloseTo(61.2, 10);
    expect(bulkLb(12, 100, 35)).toBeCloseTo(34.3, 1);
  });

  // EC3, ec3grp.com/PLS-vs-bulk-seed.htm. READ.
  it('switchgrass 98 %, 92 + 5 hard: 95.06 %, 3.00 lb/ac live are 3.16; milkweed 95 %, 85: 80.75 %, 0.12 are 0.15', () => {
    expect(percentLive(98, 92, 5)).toBeCloseTo(95.06, 10);
    expect(bulkLb(3, 98, 92, 5)).toBeCloseTo(3.16, 2);
    expect(percentLive(95, 85)).toBeCloseTo(80.75, 10);
    expect(bulkLb(0.12, 95, 85)).toBeCloseTo(0.15, 2);
  });

  // Allamakee Soil and Water Conservation District, Iowa. READ: 91.83 %. Its next line (45.9 lb) does not follow and is not used.
  it('98.75 %, 88 + 5 dormant: 91.83 % (91.8375 computed)', () => {
    expect(percentLive(98.75, 88, 0, 5)).toBeCloseTo(91.8375, 10);
  });

  // Texas Department of Transportation, Pure live seed (txdot.gov). READ: 0.64 and 1.56 lb, from the rounded share.
  it('bermudagrass 85 x 75: 0.64; 1.56 lb for a pound live', () => {
    expect(Math.abs(percentLive(85, 75) / 100 - 0.64)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(bulkLb(1, 85, 75) - 1.56)).toBeLessThanOrEqual(0.01);
  });

  // Penn State Extension, Center for Turfgrass Science, Calculating the price of pure live seed. READ: whole percent, tenths of a pound.
  it.each([
    [92, 80, 74, 1.4],
    [85, 60, 51, 2],
    [99, 90, 89, 1.1],
  ])('%s x %s: %s %%, %s lb a pound live', (purity, germination, live, pounds) => {
    expect(Math.abs(percentLive(purity, germination) - live)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(bulkLb(1, purity, germination) - pounds)).toBeLessThanOrEqual(0.05);
  });
});

// USGS Northern Prairie Wildlife Research Center, Establishment of Seeded Grasslands, Table 4 (adapted from USDA-SCS Job Sheet ND-20,
// 1980). READ, whole table: pounds for a pound live, rounded to 0.05, often upward; columns purity 100 to 50, rows germination.
const poundsForOneLive: [number, number[]][] = [
  [100, [1.0, 1.05, 1.1, 1.2, 1.25, 1.35, 1.4, 1.55, 1.65, 1.8, 2.0]],
  [95, [1.05, 1.1, 1.2, 1.25, 1.3, 1.4, 1.5, 1.65, 1.75, 1.9, 2.1]],
  [90, [1.1, 1.2, 1.25, 1.3, 1.4, 1.5, 1.6, 1.7, 1.85, 2.0, 2.2]],
  [85, [1.2, 1.25, 1.3, 1.4, 1.45, 1.55, 1.7, 1.8, 1.95, 2.15, 2.35]],
  [80, [1.25, 1.3, 1.4, 1.5, 1.55, 1.65, 1.8, 1.9, 2.1, 2.25, 2.5]],
  [75, [1.35, 1.4, 1.5, 1.55, 1.65, 1.8, 1.9, 2.05, 2.2, 2.45, 2.65]],
  [70, [1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.05, 2.2, 2.4, 2.6, 2.85]],
  [65, [1.55, 1.65, 1.7, 1.8, 1.9, 2.05, 2.2, 2.4, 2.55, 2.8, 3.1]],
  [60, [1.65, 1.75, 1.85, 1.95, 2.1, 2.2, 2.4, 2.55, 2.8, 3.05, 3.35]],
  [55, [1.8, 1.9, 2.0, 2.15, 2.25, 2.45, 2.6, 2.8, 3.05, 3.35, 3.65]],
  [50, [2.0, 2.1, 2.2, 2.35, 2.5, 2.65, 2.85, 3.1, 3.35, 3.65, 4.0]],
];

describe('pounds for a pound live, the whole table', () => {
  it.each(poundsForOneLive)('germination %s', (germination, row) => {
    row.forEach((printed, column) => {
      expect(Math.abs(bulkLb(1, 100 - 5 * column, germination) - printed)).toBeLessThanOrEqual(0.045);
    });
  });
});

// Shares of a full stand as on USDA-SCS Colorado form CO-ECS-6 (1993), READ for its columns; seeds to the pound from 7 CFR 201.46
// counts; rates and tags are ours, results computed.
it('rye, crimson clover and radish at 50, 30 and 20 % of full stands: 59.18 lb/ac from the bag', () => {
  const of = (
    name: string,
    pounds: number,
    full: number,
    share: number,
    ...tag: [number, number, number?]
  ) => {
    const weight = thousandSeedWeightFromSeedsPerPound(seedsPerPound(pounds));
    return { name, share, fullRate: lbPerAc(full), lot: { ...lotOf(2, ...tag), thousandSeedWeight: weight } };
  };
  const parts = [
    of('rye', 18_144, 90, 0.5, 98, 90),
    of('crimson clover', 149_685, 18, 0.3, 98, 80, 8),
    of('radish', 34_019, 8, 0.2, 99, 85),
  ];
  const mix = mixByFullStand(parts, 'live');
  expect(poundsPerAcreFromGramsPerSquareMetre(mix.bulkRate)).toBeCloseTo(59.18, 2);
  expect(kilogramsPerHectareFromGramsPerSquareMetre(mix.bulkRate)).toBeCloseTo(66.34, 1);
  [51.02, 6.26, 1.9].forEach((printed, index) => {
    expect(poundsPerAcreFromGramsPerSquareMetre(mix.parts[index]!.bulkRate)).toBeCloseTo(printed, 2);
  });
  const live = mixSeeds(mix).map((each) => seedsPerSquareFootFromSquareMetre(each.live));
  expect(live[0]).toBeCloseTo(18.7, 1);
  expect(live[1]).toBeCloseTo(18.6, 1);
  expect(live[2]).toBeCloseTo(1.25, 2);
});

describe('seeds and plants on an area', () => {
  // Irish Farmers Journal, Calibrating the seed drill is an essential job. READ: 280 x 53 / 85 = 175 (174.6 computed).
  it('280 plants/m², 53 g, 85 %: 175 kg/ha', () => {
    const rate = rateFromPlants(plantsPerSquareMetre(280), 0.85, lotOf(53));
    expect(Math.round(kilogramsPerHectareFromGramsPerSquareMetre(rate))).toBe(175);
  });

  // Grainews quoting the Alberta formula. READ: inputs and lb/ac = plants/ft² x g / survival / 10.4; 112.2 by it, 112.06 exact.
  it('30 plants/ft², 35 g, 0.90: 112 lb/ac', () => {
    const plants = plantsPerSquareMetreFromSquareFoot(plantsPerSquareFoot(30));
    const rate = poundsPerAcreFromGramsPerSquareMetre(rateFromPlants(plants, 0.9, lotOf(35)));
    expect(Math.abs(rate / ((30 * 35) / 0.9 / 10.4) - 1)).toBeLessThan(0.002);
  });

  // High River Online, Spring seeding is not that far away. READ: formula and the factor 0.89; inputs ours, result computed.
  it('250 plants/m², 40 g, 85 %: 117.65 kg/ha, 104.96 lb/ac', () => {
    const rate = rateFromPlants(plantsPerSquareMetre(250), 0.85, lotOf(40));
    expect(kilogramsPerHectareFromGramsPerSquareMetre(rate)).toBeCloseTo(117.647, 3);
    expect(poundsPerAcreFromGramsPerSquareMetre(rate)).toBeCloseTo(104.962, 3);
    expect(Math.abs(poundsPerAcreFromGramsPerSquareMetre(rate) / (117.647 * 0.89) - 1)).toBeLessThan(0.003);
  });
});
