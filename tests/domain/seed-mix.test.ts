import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mixSeeds } from '../../server/domain/mix-seeds.ts';
import { pureLiveSeed } from '../../server/domain/seed-lot.ts';
import {
  type FullStandShare,
  type MixShare,
  massSharesFromCounts,
  mixAtRate,
  mixByFullStand,
  mixByMass,
  mixBySeedCount,
  mixLiveRate,
  mixPureLiveSeed,
  type SeedMix,
  sumOfShares,
} from '../../server/domain/seed-mix.ts';
import { seedsPerSquareMetre } from '../../server/domain/seed-units.ts';
import { gramsPerSquareMetre } from '../../server/domain/units.ts';
import { anyLot, between, lotOf, near, refused } from './lots.ts';

/** Mixes of one to eight species whose shares sum to 1. */
const parts: fc.Arbitrary<MixShare[]> = fc
  .array(fc.record({ lot: anyLot, weight: between(0.05, 1) }), { minLength: 1, maxLength: 8 })
  .map((drawn) => {
    const sum = drawn.reduce((total, each) => total + each.weight, 0);
    return drawn.map(({ lot, weight }, index) => ({ name: `species ${index}`, lot, share: weight / sum }));
  });
const rate = between(0.1, 5).map(gramsPerSquareMetre);
const stands: fc.Arbitrary<FullStandShare[]> = fc
  .tuple(parts, fc.array(rate, { minLength: 8, maxLength: 8 }))
  .map(([shares, rates]) => shares.map((each, index) => ({ ...each, fullRate: rates[index]! })));

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

/** Shares sum to 1, rates to the whole. */
function adds(mix: SeedMix): void {
  near(sum(mix.parts.map((part) => part.massShare)), 1);
  near(sum(mix.parts.map((part) => part.bulkRate)), mix.bulkRate);
}

describe('mixes', () => {
  it('add up, whichever way the shares are given', () => {
    fc.assert(
      fc.property(stands, rate, between(1, 10), (shares, wanted, seeds) => {
        const byMass = mixByMass(shares, wanted);
        adds(byMass);
        near(byMass.bulkRate, wanted);
        adds(mixBySeedCount(shares, seedsPerSquareMetre(seeds)));
        adds(mixByFullStand(shares, 'live'));
      }),
    );
  });

  it('do not depend on the order of their species', () => {
    fc.assert(
      fc.property(stands, rate, (shares, wanted) => {
        const there = mixByMass(shares, wanted);
        const back = mixByMass(shares.toReversed(), wanted);
        near(mixPureLiveSeed(back), mixPureLiveSeed(there));
        const stand = mixByFullStand(shares, 'live');
        const turned = mixByFullStand(shares.toReversed(), 'live');
        near(turned.bulkRate, stand.bulkRate);
        turned.parts.toReversed().forEach((part, index) => {
          near(part.massShare, stand.parts[index]!.massShare);
        });
      }),
    );
  });

  it('by seed count hold the live seeds asked for, in the shares asked for', () => {
    fc.assert(
      fc.property(parts, between(1, 10), (shares, wanted) => {
        const seeds = mixSeeds(mixBySeedCount(shares, seedsPerSquareMetre(wanted)));
        near(sum(seeds.map((each) => each.live)), wanted);
        seeds.forEach((each, index) => {
          near(each.liveShare, shares[index]!.share, 1e-11);
        });
      }),
    );
  });

  it('by mass read back from their counts', () => {
    fc.assert(
      fc.property(parts, rate, (shares, wanted) => {
        const mix = mixByMass(shares, wanted);
        const seeds = mixSeeds(mix);
        const all = sum(seeds.map((each) => each.all));
        const counts = shares.map((each, index) => ({ ...each, share: seeds[index]!.all / all }));
        massSharesFromCounts(counts).forEach((share, index) => {
          near(share, shares[index]!.share, 1e-11);
        });
      }),
    );
  });

  it('by full stand: each live rate is its share of the full live rate', () => {
    fc.assert(
      fc.property(stands, (shares) => {
        const mix = mixByFullStand(shares, 'live');
        mix.parts.forEach((part, index) => {
          const { share, fullRate } = shares[index]!;
          near(part.bulkRate * pureLiveSeed(part.lot), share * fullRate);
        });
        near(mixLiveRate(mix), sum(shares.map((each) => each.share * each.fullRate)), 1e-11);
        near(mixByFullStand(shares, 'bulk').bulkRate, sum(shares.map((each) => each.share * each.fullRate)));
      }),
    );
  });

  it('sown at twice the rate hold twice of everything in the same shares', () => {
    fc.assert(
      fc.property(parts, rate, (shares, wanted) => {
        const once = mixByMass(shares, wanted);
        const twice = mixAtRate(once, gramsPerSquareMetre(2 * wanted));
        twice.parts.forEach((part, index) => {
          near(part.bulkRate, 2 * once.parts[index]!.bulkRate, 1e-11);
        });
      }),
    );
  });

  it('live share lies between that of the best and the worst lot', () => {
    fc.assert(
      fc.property(parts, rate, (shares, wanted) => {
        const live = shares.map((each) => pureLiveSeed(each.lot));
        const mixed = mixPureLiveSeed(mixByMass(shares, wanted));
        expect(mixed).toBeGreaterThanOrEqual(Math.min(...live) * (1 - 1e-12));
        expect(mixed).toBeLessThanOrEqual(Math.max(...live) * (1 + 1e-12));
      }),
    );
  });
});

describe('mixes that cannot be', () => {
  const rye = { name: 'rye', lot: lotOf(25, 98, 90), share: 0.5, fullRate: gramsPerSquareMetre(10) };
  const clover = { ...rye, name: 'clover', lot: lotOf(3, 98, 80, 8), share: 0.5 };
  const ten = gramsPerSquareMetre(10);
  const shares = (...each: number[]) => each.map((share) => ({ ...rye, share }));

  it('take shares printed rounded, and scale them', () => {
    const mix = mixByMass(shares(0.333, 0.333, 0.333), ten);
    near(mix.parts[0]!.massShare, 1 / 3);
    expect(sumOfShares(shares(0.333, 0.333, 0.333))).toBeCloseTo(0.999, 12);
  });

  it.each([
    ['shares that fall short', () => mixByMass(shares(0.5, 0.4), ten), 'inconsistent', 'share'],
    [
      'shares that go over',
      () => mixBySeedCount(shares(0.6, 0.6), seedsPerSquareMetre(300)),
      'inconsistent',
      'share',
    ],
    [
      'three full stands',
      () =>
        mixByFullStand(
          shares(1, 1, 1).map((each) => ({ ...rye, ...each })),
          'live',
        ),
      'inconsistent',
      'share',
    ],
    ['shares in percent', () => mixByMass(shares(50, 50), ten), 'out-of-range', 'share'],
    ['a share of nothing', () => mixByMass(shares(1, 0), ten), 'out-of-range', 'share'],
    ['a negative share', () => mixByMass(shares(1.2, -0.2), ten), 'out-of-range', 'share'],
    ['no number', () => mixByMass(shares(0.5, Number.NaN), ten), 'not-a-number', 'share'],
    ['an empty mix by mass', () => mixByMass([], ten), 'too-few', 'parts'],
    ['an empty mix by count', () => mixBySeedCount([], seedsPerSquareMetre(300)), 'too-few', 'parts'],
    ['an empty mix of stands', () => mixByFullStand([], 'live'), 'too-few', 'parts'],
    ['no rate', () => mixByMass([rye, clover], gramsPerSquareMetre(0)), 'out-of-range', 'rate'],
    [
      'a rate beyond all drills',
      () => mixByMass([rye, clover], gramsPerSquareMetre(600)),
      'out-of-range',
      'rate',
    ],
    [
      'no full rate',
      () => mixByFullStand([rye, { ...clover, fullRate: gramsPerSquareMetre(0) }], 'live'),
      'out-of-range',
      'fullRate',
    ],
    [
      'a dead lot by count',
      () => mixBySeedCount([rye, { ...clover, lot: lotOf(3, 98, 0) }], seedsPerSquareMetre(300)),
      'out-of-range',
      'germination',
    ],
    [
      'germination over 100',
      () => mixByMass([rye, { ...clover, lot: lotOf(3, 98, 101) }], ten),
      'out-of-range',
      'germination',
    ],
    [
      'more seed alive than there is',
      () => mixByMass([rye, { ...clover, lot: lotOf(3, 98, 95, 8) }], ten),
      'inconsistent',
      'germination',
    ],
  ])('refuse %s', (_, call, code, field) => {
    refused(call, code, field);
  });

  it('say what the shares come to', () => {
    expect(() => mixByMass(shares(0.5, 0.4), ten)).toThrow('The shares come to 90 % instead of 100 %');
  });
});
