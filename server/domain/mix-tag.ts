import { DomainError } from './error.ts';
import { mixByMass, type SeedMix } from './seed-mix.ts';
import type { GramsPerThousandSeeds } from './seed-units.ts';
import { checkedSomeShare, percent } from './share.ts';
import type { GramsPerSquareMetre } from './units.ts';

/** One kind on the tag of a ready mixture. All shares are fractions. */
export interface TagLine {
  name: string;
  /** Weight of a thousand pure seeds, 0.01 to 5000 g. */
  thousandSeedWeight: GramsPerThousandSeeds;
  /** Pure seed of this kind as a share of the whole bag by mass, above 0 to 1. */
  pureSeed: number;
  /** Shares of its pure seeds by count, each 0 to 1, together at most 1; hard and dormant 0 where the tag names none. */
  germination: number;
  hard: number;
  dormant: number;
}

/** Shares that come to 1 on paper may pass it by so little in binary. */
const rounding = 1e-9;

/**
 * A mix from the tag of a bought mixture, sown at `bulkRate` (above 0 to 500 g/m², seed from the bag). The pure seed of all kinds comes to
 * less than the bag; the rest is other crop, weed seed and inert matter. That rest is spread over the kinds in proportion: each counts as
 * a lot with the purity of the whole bag, by which every seed and gram stays where the tag has it.
 * Source: 7 CFR 201.46(c) weighs figures of a mixture likewise: by the kinds' percentages, over the total of these percentages.
 * @throws DomainError `too-few` for no kinds, `inconsistent` for pure seed beyond the whole bag, and others for figures out of range.
 */
export function mixByTag(lines: readonly TagLine[], bulkRate: GramsPerSquareMetre): SeedMix {
  const pure = lines.reduce(
    (sum, line) => sum + checkedSomeShare(line.pureSeed, 'The pure seed of a kind', 'pureSeed'),
    0,
  );
  if (pure > 1 + rounding) {
    throw new DomainError(
      'inconsistent',
      `The pure seed of all kinds comes to ${percent(pure)} % of the bag: read the tag's percentages again.`,
      'pureSeed',
    );
  }
  const purity = Math.min(1, pure);
  return mixByMass(
    lines.map(({ name, thousandSeedWeight, pureSeed, germination, hard, dormant }) => ({
      name,
      share: pureSeed / pure,
      lot: { thousandSeedWeight, purity, germination, hard, dormant },
    })),
    bulkRate,
  );
}
