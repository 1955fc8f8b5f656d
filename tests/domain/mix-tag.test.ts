import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { massWeightedSeedMass, mixSeeds } from '../../server/domain/mix-seeds.ts';
import { mixByTag, type TagLine } from '../../server/domain/mix-tag.ts';
import { mixPureLiveSeed } from '../../server/domain/seed-mix.ts';
import { gramsPerThousandSeeds, seedMass } from '../../server/domain/seed-units.ts';
import { gramsPerSquareMetre } from '../../server/domain/units.ts';
import { between, near, refused } from './lots.ts';

const line = (pureSeed: number, germination = 0.9, hard = 0, weight = 2): TagLine => ({
  name: 'a kind',
  thousandSeedWeight: gramsPerThousandSeeds(weight),
  pureSeed,
  germination,
  hard,
  dormant: 0,
});
const rate = gramsPerSquareMetre(3);

const anyTag = fc
  .array(fc.record({ part: between(1, 50), live: between(0.3, 0.95), weight: between(0.1, 50) }), {
    minLength: 1,
    maxLength: 8,
  })
  .chain((lines) =>
    between(0.5, 1).map((pure) => {
      const sum = lines.reduce((total, { part }) => total + part, 0);
      return lines.map(({ part, live, weight }) => line((pure * part) / sum, live, 0, weight));
    }),
  );

describe('a mix from the tag of a bought mixture', () => {
  it('sows what the tag says: pure live seed is the sum of pure seed x germination', () => {
    fc.assert(
      fc.property(anyTag, (tag) => {
        const mix = mixByTag(tag, rate);
        near(mix.bulkRate, rate);
        const live = tag.reduce((sum, { pureSeed, germination }) => sum + pureSeed * germination, 0);
        near(mixPureLiveSeed(mix), live);
      }),
    );
  });

  it('puts as many seeds of each kind on the ground as its pure seed holds', () => {
    fc.assert(
      fc.property(anyTag, (tag) => {
        mixSeeds(mixByTag(tag, rate)).forEach(({ all }, index) => {
          const { pureSeed, thousandSeedWeight } = tag[index]!;
          near(all, (rate * pureSeed) / seedMass(thousandSeedWeight));
        });
      }),
    );
  });

  it('weighs seed masses by the kinds among themselves, whatever is missing to 100 %', () => {
    const mix = mixByTag([line(0.3, 0.9, 0, 2), line(0.6, 0.9, 0, 5)], rate);
    near(massWeightedSeedMass(mix), (0.3 * 2 + 0.6 * 5) / 0.9 / 1000);
  });

  it('refuses tags that cannot be', () => {
    refused(() => mixByTag([], rate), 'too-few', 'parts');
    refused(() => mixByTag([line(0.6), line(0.6)], rate), 'inconsistent', 'pureSeed');
    refused(() => mixByTag([line(0)], rate), 'out-of-range', 'pureSeed');
    refused(() => mixByTag([line(0.9, 1.2)], rate), 'out-of-range', 'germination');
    refused(() => mixByTag([line(0.9, 0.9, 0.2)], rate), 'inconsistent', 'germination');
    refused(() => mixByTag([line(0.9)], gramsPerSquareMetre(0)), 'out-of-range', 'rate');
    expect(mixByTag([line(0.5), line(0.5)], rate).parts).toHaveLength(2);
  });
});
