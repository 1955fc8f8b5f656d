import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  plantsPerSquareMetre,
  seedsPerRowMetre,
  seedsPerSquareMetre,
} from '../../server/domain/seed-units.ts';
import {
  liveSeedsFromRate,
  plantsFromRate,
  rateFromLiveSeeds,
  rateFromPlants,
  seedsFromRate,
  seedsPerRowFromSquareMetre,
  seedsPerSquareMetreFromRow,
} from '../../server/domain/seeding-target.ts';
import { gramsPerSquareMetre, metres } from '../../server/domain/units.ts';
import { anyLot, between, lotOf, near, refused } from './lots.ts';

// Few enough seeds that even the largest of them stay below 5000 kg/ha.
const density = between(0.1, 10).map(seedsPerSquareMetre);
const spacing = between(0.05, 1).map(metres);

describe('targets in seeds and plants', () => {
  it('live seeds give a rate that holds them', () => {
    fc.assert(
      fc.property(anyLot, density, (lot, live) => {
        near(liveSeedsFromRate(rateFromLiveSeeds(live, lot), lot), live);
      }),
    );
  });

  it('plants give a rate from which they come up', () => {
    fc.assert(
      fc.property(anyLot, density, between(0.3, 1), (lot, plants, establishment) => {
        const wanted = plantsPerSquareMetre(plants);
        near(plantsFromRate(rateFromPlants(wanted, establishment, lot), establishment, lot), plants);
      }),
    );
  });

  it('twice the seeds take twice the rate; poorer establishment takes more', () => {
    fc.assert(
      fc.property(anyLot, density, between(0.3, 0.9), (lot, live, establishment) => {
        near(rateFromLiveSeeds(seedsPerSquareMetre(2 * live), lot), 2 * rateFromLiveSeeds(live, lot));
        const plants = plantsPerSquareMetre(live);
        expect(rateFromPlants(plants, establishment, lot)).toBeGreaterThan(rateFromPlants(plants, 1, lot));
      }),
    );
  });

  it('live seeds are never more than seeds', () => {
    fc.assert(
      fc.property(anyLot, density, (lot, live) => {
        const rate = rateFromLiveSeeds(live, lot);
        expect(seedsFromRate(rate, lot)).toBeGreaterThanOrEqual(liveSeedsFromRate(rate, lot));
      }),
    );
  });

  it('seeds in the row and on the area go there and back', () => {
    fc.assert(
      fc.property(density, spacing, (seeds, apart) => {
        near(seedsPerSquareMetreFromRow(seedsPerRowFromSquareMetre(seeds, apart), apart), seeds);
      }),
    );
  });

  it('refuses what cannot be, and names it', () => {
    const lot = lotOf(40, 98, 90);
    refused(() => rateFromLiveSeeds(seedsPerSquareMetre(-1), lot), 'out-of-range', 'density');
    refused(
      () => rateFromLiveSeeds(seedsPerSquareMetre(300), lotOf(40, 98, 0)),
      'out-of-range',
      'germination',
    );
    refused(
      () => rateFromLiveSeeds(seedsPerSquareMetre(300), lotOf(40, 98, 120)),
      'out-of-range',
      'germination',
    );
    refused(() => rateFromPlants(plantsPerSquareMetre(-1), 0.8, lot), 'out-of-range', 'plants');
    refused(() => rateFromPlants(plantsPerSquareMetre(300), 0, lot), 'out-of-range', 'establishment');
    refused(() => rateFromPlants(plantsPerSquareMetre(300), 85, lot), 'out-of-range', 'establishment');
    refused(() => plantsFromRate(gramsPerSquareMetre(10), Number.NaN, lot), 'not-a-number', 'establishment');
    refused(() => seedsFromRate(gramsPerSquareMetre(-10), lot), 'out-of-range', 'rate');
    refused(() => seedsPerSquareMetreFromRow(seedsPerRowMetre(50), metres(0)), 'out-of-range', 'rowSpacing');
    refused(
      () => seedsPerRowFromSquareMetre(seedsPerSquareMetre(300), metres(19)),
      'out-of-range',
      'rowSpacing',
    );
    refused(() => seedsPerSquareMetreFromRow(seedsPerRowMetre(-1), metres(0.2)), 'out-of-range', 'density');
  });

  it('keeps conventions apart in their types', () => {
    const lot = lotOf(40);
    // @ts-expect-error plants wanted are not seeds to sow
    rateFromLiveSeeds(plantsPerSquareMetre(300), lot);
    // @ts-expect-error seeds a metre of row are not seeds a square metre
    rateFromLiveSeeds(seedsPerRowMetre(50), lot);
    expect(rateFromLiveSeeds(seedsPerSquareMetre(300), lot)).toBeCloseTo(12, 12);
  });
});
