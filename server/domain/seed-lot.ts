import { checked, DomainError } from './error.ts';
import { checkedThousandSeedWeight, type GramsPerThousandSeeds } from './seed-units.ts';
import { checkedShare, checkedSomeShare, percent } from './share.ts';
import { type GramsPerSquareMetre, gramsPerSquareMetre } from './units.ts';

/** What the tag and the scale say of one lot of one species. All shares are fractions: 0.9 is 90 %. */
export interface SeedLot {
  /** Weight of a thousand pure seeds, 0.01 to 5000 g. */
  thousandSeedWeight: GramsPerThousandSeeds;
  /** Share of pure seed in the bag by mass, above 0 to 1. */
  purity: number;
  /** Share of the pure seeds that germinated in the test by count, 0 to 1, hard and dormant seed not counted in. */
  germination: number;
  /** Share of hard seed, 0 to 1: alive, takes no water yet. Some tags leave it out; then 0. */
  hard: number;
  /** Share of dormant seed, 0 to 1. */
  dormant: number;
}

/** Fractions that come to 1 on paper may pass it by so little in binary. */
const rounding = 1e-9;

/**
 * `lot` itself when every figure of it can be.
 * @throws DomainError naming the field; `inconsistent` when germination, hard and dormant seed pass 100 % together.
 */
export function checkedLot(lot: SeedLot): SeedLot {
  checkedThousandSeedWeight(lot.thousandSeedWeight);
  checkedSomeShare(lot.purity, 'The purity', 'purity');
  checkedShare(lot.germination, 'The germination', 'germination');
  checkedShare(lot.hard, 'The hard seed', 'hard');
  checkedShare(lot.dormant, 'The dormant seed', 'dormant');
  const viable = lot.germination + lot.hard + lot.dormant;
  if (viable > 1 + rounding) {
    throw new DomainError(
      'inconsistent',
      `Germination, hard and dormant seed come to ${percent(viable)} %, more than all seeds: the tag's germination may hold the hard seed already, then set hard to 0.`,
      'germination',
    );
  }
  return lot;
}

/**
 * Share of the pure seeds that are alive: germination + hard + dormant, at most 1. Source: 7 CFR 201.21 labels hard seed apart from
 * germination, so the two add up; Allamakee Soil and Water Conservation District adds dormant seed likewise.
 * @throws DomainError for a lot that cannot be.
 */
export function viableShare(lot: SeedLot): number {
  const { germination, hard, dormant } = checkedLot(lot);
  return Math.min(1, germination + hard + dormant);
}

/**
 * Pure live seed as a share of what is in the bag: purity x viable share. Source: Pennsylvania DEP, Erosion and Sediment Pollution
 * Control Program Manual, p. 284, and every bulletin in tests/published/pure-live-seed.test.ts.
 * @throws DomainError for a lot that cannot be.
 */
export function pureLiveSeed(lot: SeedLot): number {
  return lot.purity * viableShare(lot);
}

/** Pure live seed of a lot that must grow. @throws DomainError `out-of-range` when nothing of it is alive. */
function someLiveSeed(lot: SeedLot): number {
  const live = pureLiveSeed(lot);
  if (!(live > 0)) {
    throw new DomainError(
      'out-of-range',
      'No seed of this lot is alive: no rate of it gives a stand. Check the germination on the tag.',
      'germination',
    );
  }
  return live;
}

/** `value` itself when a drill can sow it: 0 to 500 g/m² (5000 kg/ha). @throws DomainError out of that range. */
export function checkedRate(value: GramsPerSquareMetre): GramsPerSquareMetre {
  checked(value, { least: 0, most: 500 }, 'The rate in grams a square metre', 'rate');
  return value;
}

/**
 * Rate of seed as it comes from the bag that sows `live` (0 to 500 g/m² of pure live seed): live / pure live seed share.
 * @throws DomainError for a rate or lot that cannot be, or a lot without any live seed.
 */
export function bulkRateFromLive(live: GramsPerSquareMetre, lot: SeedLot): GramsPerSquareMetre {
  return gramsPerSquareMetre(checkedRate(live) / someLiveSeed(lot));
}

/** Rate of pure live seed in a `bulk` rate (0 to 500 g/m²) of `lot`. @throws DomainError for a rate or lot that cannot be. */
export function liveRateFromBulk(bulk: GramsPerSquareMetre, lot: SeedLot): GramsPerSquareMetre {
  return gramsPerSquareMetre(checkedRate(bulk) * pureLiveSeed(lot));
}
