import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bulkRateFromLive,
  checkedRate,
  liveRateFromBulk,
  pureLiveSeed,
  viableShare,
} from '../../server/domain/seed-lot.ts';
import { gramsPerThousandSeeds } from '../../server/domain/seed-units.ts';
import { gramsPerSquareMetre } from '../../server/domain/units.ts';
import { anyLot, between, lotOf, near, refused } from './lots.ts';

const rate = between(0.01, 20).map(gramsPerSquareMetre);

describe('a lot of seed', () => {
  it('a rate of live seed gives a bulk rate that holds it', () => {
    fc.assert(
      fc.property(anyLot, rate, (lot, live) =>
        near(liveRateFromBulk(bulkRateFromLive(live, lot), lot), live),
      ),
    );
  });

  it('the worse the lot, the more of it is sown; never less than the live seed', () => {
    fc.assert(
      fc.property(anyLot, rate, between(0.5, 0.99), (lot, live, worse) => {
        const bulk = bulkRateFromLive(live, lot);
        expect(bulk).toBeGreaterThanOrEqual(live);
        near(bulkRateFromLive(live, { ...lot, purity: lot.purity * worse }), bulk / worse);
        expect(bulkRateFromLive(live, { ...lot, germination: lot.germination * worse })).toBeGreaterThan(
          bulk,
        );
      }),
    );
  });

  it('hard and dormant seed count as alive, on top of germination', () => {
    expect(viableShare(lotOf(3, 98, 80, 8, 2))).toBeCloseTo(0.9, 12);
    expect(pureLiveSeed(lotOf(3, 50, 80, 8, 2))).toBeCloseTo(0.45, 12);
  });

  it('takes a lot that is alive to the last seed, binary fractions or not', () => {
    expect(viableShare(lotOf(3, 100, 70, 20, 10))).toBeCloseTo(1, 15);
    expect(pureLiveSeed(lotOf(3))).toBe(1);
  });

  it.each([
    ['purity', 'out-of-range', lotOf(3, 0)],
    ['purity', 'out-of-range', lotOf(3, 101)],
    ['purity', 'not-a-number', lotOf(3, Number.NaN)],
    ['germination', 'out-of-range', lotOf(3, 98, 105)],
    ['germination', 'out-of-range', lotOf(3, 98, -1)],
    ['germination', 'not-a-number', lotOf(3, 98, Number.POSITIVE_INFINITY)],
    ['hard', 'out-of-range', lotOf(3, 98, 80, -2)],
    ['dormant', 'out-of-range', lotOf(3, 98, 80, 0, 120)],
    ['germination', 'inconsistent', lotOf(3, 98, 92, 8, 1)],
    ['thousandSeedWeight', 'out-of-range', { ...lotOf(3), thousandSeedWeight: gramsPerThousandSeeds(0) }],
  ])('refuses an impossible %s: %s', (field, code, lot) => {
    refused(() => pureLiveSeed(lot), code, field);
  });

  it('says in percent what was typed', () => {
    expect(() => pureLiveSeed(lotOf(3, 98, 105))).toThrow('must lie between 0 and 100 %, not 105 %');
    expect(() => pureLiveSeed(lotOf(3, 98, 92, 8, 1))).toThrow('come to 101 %');
  });

  it('gives no rate of a dead lot, and takes no rate that no drill sows', () => {
    refused(() => bulkRateFromLive(gramsPerSquareMetre(5), lotOf(3, 98, 0)), 'out-of-range', 'germination');
    refused(() => checkedRate(gramsPerSquareMetre(-1)), 'out-of-range', 'rate');
    refused(() => checkedRate(gramsPerSquareMetre(501)), 'out-of-range', 'rate');
  });
});
