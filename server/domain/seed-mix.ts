import { checked, DomainError } from './error.ts';
import { bulkRateFromLive, checkedLot, checkedRate, pureLiveSeed, type SeedLot } from './seed-lot.ts';
import { type SeedsPerSquareMetre, seedMass, seedsPerSquareMetre } from './seed-units.ts';
import { rateFromLiveSeeds } from './seeding-target.ts';
import { checkedSomeShare, percent, wholeShares } from './share.ts';
import { type GramsPerSquareMetre, gramsPerSquareMetre } from './units.ts';

/**
 * Mixes: whichever way the shares are given, each species is put on the basis of seed as it comes from the bag, and only then summed.
 */

/** One species of a mix, with its share as the convention at hand means it: a fraction, above 0 to 1. */
export interface MixShare {
  name: string;
  lot: SeedLot;
  share: number;
}

/** One species of a mix as it is sown. */
export interface MixPart {
  name: string;
  lot: SeedLot;
  /** Rate of this species from the bag. */
  bulkRate: GramsPerSquareMetre;
  /** Its share of the mix by mass, from the bag; all together 1. */
  massShare: number;
}

/** A mix as it is sown: parts and their sum. */
export interface SeedMix {
  bulkRate: GramsPerSquareMetre;
  parts: readonly MixPart[];
}

/** A mix from the rate of each of its species; at least one rate must be more than 0. */
function summed(shares: readonly MixShare[], rates: readonly GramsPerSquareMetre[]): SeedMix {
  const sum = gramsPerSquareMetre(rates.reduce((total, rate) => total + rate, 0));
  checked(sum, { above: 0 }, 'The rate of the mix', 'rate');
  checkedRate(sum);
  const parts = shares.map(({ name, lot }, index) => ({
    name,
    lot: checkedLot(lot),
    bulkRate: rates[index]!,
    massShare: rates[index]! / sum,
  }));
  return { bulkRate: sum, parts };
}

/**
 * A mix of shares by mass, as on a bag's label, sown at `bulkRate` (above 0 to 500 g/m², seed from the bag).
 * @throws DomainError `too-few` for an empty mix, `inconsistent` for shares that miss 100 % by more than half a point, and others
 * for figures out of range.
 */
export function mixByMass(parts: readonly MixShare[], bulkRate: GramsPerSquareMetre): SeedMix {
  checkedRate(bulkRate);
  const shares = wholeShares(parts.map((part) => part.share));
  return summed(
    parts,
    shares.map((share) => gramsPerSquareMetre(share * bulkRate)),
  );
}

/**
 * A mix of shares by number of live seeds, sown at `liveSeeds` a square metre in all (above 0 to 1 000 000): rate of each =
 * share x live seeds x seed mass / its pure live seed.
 * @throws DomainError as `mixByMass`; `out-of-range` for a lot without any live seed.
 */
export function mixBySeedCount(parts: readonly MixShare[], liveSeeds: SeedsPerSquareMetre): SeedMix {
  const shares = wholeShares(parts.map((part) => part.share));
  return summed(
    parts,
    parts.map(({ lot }, index) => rateFromLiveSeeds(seedsPerSquareMetre(shares[index]! * liveSeeds), lot)),
  );
}

/** One species of a mix by shares of a full stand. */
export interface FullStandShare extends MixShare {
  /** The rate at which this species would be sown alone, above 0 to 500 g/m². */
  fullRate: GramsPerSquareMetre;
}

/** Shares of full stands may come to more than 100 %, but a typing error should be seen. */
const mostFullStands = 2;

/**
 * A mix of shares of a full stand: rate of each = share x full rate, put on the basis of seed from the bag. `basis` says what the
 * full rates are: of pure live seed, or of seed from the bag. The shares usually come to 100 %; anything up to 200 % is taken, for
 * mixes are sown thicker too (`sumOfShares` tells).
 * Source: USDA-SCS Colorado form CO-ECS-6 (1993): full rate x share of the mix, then the total.
 * @throws DomainError `too-few` for an empty mix, `inconsistent` for shares beyond 200 %, and others for figures out of range.
 */
export function mixByFullStand(parts: readonly FullStandShare[], basis: 'live' | 'bulk'): SeedMix {
  const sum = sumOfShares(parts);
  if (sum > mostFullStands) {
    throw new DomainError(
      'inconsistent',
      `The shares come to ${percent(sum)} % of a full stand: more than two stands would grow on one field.`,
      'share',
    );
  }
  const rates = parts.map(({ lot, share, fullRate }) => {
    checked(fullRate, { above: 0 }, 'The full rate', 'fullRate');
    const rate = gramsPerSquareMetre(share * checkedRate(fullRate));
    return basis === 'live' ? bulkRateFromLive(rate, lot) : rate;
  });
  return summed(parts, rates);
}

/**
 * What the shares come to, as a fraction: 1 is one full stand, or all of a bag. No rounding is taken off.
 * @throws DomainError `too-few` for an empty mix, `out-of-range` for a share that is not above 0 to 1.
 */
export function sumOfShares(parts: readonly MixShare[]): number {
  if (parts.length === 0) {
    throw new DomainError('too-few', 'The mix is empty: name at least one species.', 'parts');
  }
  return parts.reduce((sum, part) => sum + checkedSomeShare(part.share, 'A share', 'share'), 0);
}

/**
 * The same mix sown at another rate from the bag (above 0 to 500 g/m²): all parts in proportion.
 * @throws DomainError for a rate out of range.
 */
export function mixAtRate(mix: SeedMix, bulkRate: GramsPerSquareMetre): SeedMix {
  return mixByMass(
    mix.parts.map(({ name, lot, massShare }) => ({ name, lot, share: massShare })),
    bulkRate,
  );
}

/** Pure live seed of the whole mix as a share of what is in the bag: sum of mass share x purity x viable share. */
export function mixPureLiveSeed(mix: SeedMix): number {
  return mix.parts.reduce((sum, { lot, massShare }) => sum + massShare * pureLiveSeed(lot), 0);
}

/** Rate of pure live seed that the mix sows, all species together. */
export function mixLiveRate(mix: SeedMix): GramsPerSquareMetre {
  return gramsPerSquareMetre(mix.bulkRate * mixPureLiveSeed(mix));
}

/**
 * Share by mass of each species in a bag that was filled by shares of the number of pure seeds, alive or not: share x seed mass /
 * purity, scaled to sum to 1. In the order of `parts`.
 * @throws DomainError as `mixByMass`.
 */
export function massSharesFromCounts(parts: readonly MixShare[]): number[] {
  const shares = wholeShares(parts.map((part) => part.share));
  const masses = parts.map(
    ({ lot }, index) => (shares[index]! * seedMass(lot.thousandSeedWeight)) / checkedLot(lot).purity,
  );
  const sum = masses.reduce((total, mass) => total + mass, 0);
  return masses.map((mass) => mass / sum);
}
