import { describe, expect, it } from 'vitest';
import { massWeightedSeedMass, meanSeedMass, mixSeeds } from '../../server/domain/mix-seeds.ts';
import { mixByTag } from '../../server/domain/mix-tag.ts';
import {
  mixByFullStand,
  mixByMass,
  mixLiveRate,
  type SeedMix,
  sumOfShares,
} from '../../server/domain/seed-mix.ts';
import {
  gramsPerThousandSeeds,
  seedsPerPound,
  seedsPerPoundFromThousandSeedWeight,
  seedsPerSquareFootFromSquareMetre,
  thousandSeedWeightFromSeedsPerPound,
} from '../../server/domain/seed-units.ts';
import {
  gramsPerSquareMetre,
  gramsPerSquareMetreFromPoundsPerAcre,
  poundsPerAcre,
  poundsPerAcreFromGramsPerSquareMetre,
} from '../../server/domain/units.ts';
import { lotOf } from '../domain/lots.ts';

/** READ: seen in the source named; computed: from exact definitions, where the source rounds or gives inputs only. */

const lbPerAc = (value: number) => gramsPerSquareMetreFromPoundsPerAcre(poundsPerAcre(value));
const inPounds = poundsPerAcreFromGramsPerSquareMetre;

// Colorado Division of Reclamation, Mining and Safety, permit seed mix, broadcast (dnrweblink.state.co.us DRMSSearch 493681, page 15).
// READ, whole table: percent of the mix, pounds of pure live seed an acre, bulk pounds; totals 17.9 and 44.7. The full rate of each
// species (its pounds over its percentage) and its pure live seed (its pounds over its bulk pounds) follow from these.
describe('a permit mix of six species', () => {
  const printed: [string, number, number, number][] = [
    ['western wheatgrass', 20, 6.4, 10.0],
    ['blue grama', 20, 1.0, 3.0],
    ['sideoats grama', 20, 3.5, 18.0],
    ['indian ricegrass', 20, 5.0, 11.0],
    ['switchgrass', 15, 1.4, 2.0],
    ['yellow sweetclover', 5, 0.6, 0.7],
  ];
  const parts = printed.map(([name, percent, live, bulk]) => ({
    name,
    share: percent / 100,
    fullRate: lbPerAc(live / (percent / 100)),
    lot: lotOf(2, (100 * live) / bulk),
  }));
  const mix = mixByFullStand(parts, 'live');

  it('takes 17.9 lb/ac live and 44.7 from the bag', () => {
    expect(sumOfShares(parts)).toBeCloseTo(1, 12);
    expect(inPounds(mixLiveRate(mix))).toBeCloseTo(17.9, 10);
    expect(inPounds(mix.bulkRate)).toBeCloseTo(44.7, 10);
  });

  it.each(printed.map(([name, , , bulk], index) => [name, bulk, index] as const))(
    '%s: %s lb/ac from the bag',
    (_, bulk, index) => {
      expect(inPounds(mix.parts[index]!.bulkRate)).toBeCloseTo(bulk, 10);
    },
  );

  it('has full rates of 32, 5, 17.5, 25, 9.3 and 12 lb/ac, and lots with 64, 33, 19, 45, 70 and 86 % live (computed)', () => {
    const full = parts.map(({ fullRate }) => inPounds(fullRate));
    [32, 5, 17.5, 25, 9.3, 12].forEach((rate, index) => {
      expect(full[index]).toBeCloseTo(rate, 1);
    });
    [64, 33, 19, 45, 70, 86].forEach((live, index) => {
      expect(Math.round(100 * parts[index]!.lot.purity)).toBe(live);
    });
  });

  it('is halved if drilled: each species by half', () => {
    const drilled = mixByFullStand(
      parts.map((part) => ({ ...part, share: part.share / 2 })),
      'live',
    );
    expect(inPounds(drilled.bulkRate)).toBeCloseTo(22.35, 10);
    expect(drilled.parts.map((part) => part.massShare)).toEqual(
      mix.parts.map((part) => expect.closeTo(part.massShare, 12)),
    );
  });
});

// L. Klein, Saskatchewan Ministry of Agriculture, Seeding rates for perennial forages (sasktoday.ca). READ: seeds to the pound of each
// kind, mixes by mass, seeds to the pound of the mix, seeds a square foot for each pound an acre.
describe('forage mixes by mass', () => {
  const alfalfa = 200_000;
  const sainfoin = 30_000;
  const hybridBrome = 90_900;
  const of = (pounds: number, percent: number) => ({
    name: String(pounds),
    share: percent / 100,
    lot: { ...lotOf(2), thousandSeedWeight: thousandSeedWeightFromSeedsPerPound(seedsPerPound(pounds)) },
  });
  const perPound = (mix: SeedMix) =>
    seedsPerPoundFromThousandSeedWeight(gramsPerThousandSeeds(1000 * meanSeedMass(mix)));
  const perSquareFoot = (mix: SeedMix) =>
    mixSeeds(mix).reduce((sum, { all }) => sum + seedsPerSquareFootFromSquareMetre(all), 0);

  it.each([
    [30, 20, 50, 111_450, 2.6],
    [10, 40, 50, 77_450, 1.8],
  ])(
    '%s %% alfalfa, %s %% sainfoin, %s %% hybrid brome: %s seeds/lb, %s seeds/ft²',
    (a, s, b, seeds, feet) => {
      const mix = mixByMass([of(alfalfa, a), of(sainfoin, s), of(hybridBrome, b)], lbPerAc(1));
      expect(perPound(mix)).toBeCloseTo(seeds, 6);
      expect(Math.abs(perSquareFoot(mix) - feet)).toBeLessThanOrEqual(0.05);
    },
  );

  // The mix of alsike clover and reed canarygrass: only seeds to the pound and seeds a square foot are printed.
  it('937 500 seeds/lb: 21.5 seeds/ft²', () => {
    expect(perSquareFoot(mixByMass([of(937_500, 100)], lbPerAc(1)))).toBeCloseTo(21.5, 1);
  });
});

// 7 CFR 201.46(c) (2015): figures of a mixture are weighed by the kinds' percentages over the total of these. READ: rule, and inputs in
// AOSA 2016 Rules Change Proposal 2 (paperzz.com/doc/7631224): percentages and sample sizes. Computed: 186.5 / 93, 2.0 g to the half gram.
it('the working sample of a lawn mixture: 2.00538 g, whatever is missing to 100 %', () => {
  const kinds: [string, number, number][] = [
    ['redtop', 14, 0.25],
    ['rough bluegrass', 18, 0.5],
    ['Kentucky bluegrass', 17, 1],
    ['red fescue', 24, 3],
    ['white clover', 5, 2],
    ['perennial ryegrass', 15, 5],
  ];
  const mix = mixByTag(
    kinds.map(([name, percent, size]) => ({
      name,
      thousandSeedWeight: gramsPerThousandSeeds(size),
      pureSeed: percent / 100,
      germination: 0.9,
      hard: 0,
      dormant: 0,
    })),
    gramsPerSquareMetre(10),
  );
  const sample = 1000 * massWeightedSeedMass(mix);
  expect(sample).toBeCloseTo(186.5 / 93, 12);
  expect(Math.round(2 * sample) / 2).toBe(2);
});
