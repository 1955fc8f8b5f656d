import { checked } from './error.ts';
import { bulkRateFromLive, checkedLot, checkedRate, type SeedLot, viableShare } from './seed-lot.ts';
import {
  type PlantsPerSquareMetre,
  plantsPerSquareMetre,
  type SeedsPerRowMetre,
  type SeedsPerSquareMetre,
  seedMass,
  seedsPerRowMetre,
  seedsPerSquareMetre,
} from './seed-units.ts';
import { checkedSomeShare } from './share.ts';
import { type GramsPerSquareMetre, gramsPerSquareMetre, type Metres } from './units.ts';

/** The ways people state how much seed they want, each turned into the rate of seed as it comes from the bag, and back. */

/** Most seeds that anyone sows on a square metre: 1 kg/ha of the finest is some thousand. */
const mostSeeds = 1e6;

/**
 * Rate from the bag that sows `density` live seeds a square metre (0 to 1 000 000): density x seed mass / pure live seed share.
 * Source: Louisiana NRCS Plant Materials Technical Note 11 (2009): a rate of pure live seed rests on live seeds an area.
 * @throws DomainError for figures out of range, or a lot without any live seed.
 */
export function rateFromLiveSeeds(density: SeedsPerSquareMetre, lot: SeedLot): GramsPerSquareMetre {
  checked(density, { least: 0, most: mostSeeds }, 'The seeds a square metre', 'density');
  return bulkRateFromLive(gramsPerSquareMetre(density * seedMass(lot.thousandSeedWeight)), lot);
}

/**
 * Pure seeds on a square metre, alive or not, at a rate from the bag (0 to 500 g/m²): 1000 R p / T.
 * @throws DomainError for figures out of range.
 */
export function seedsFromRate(rate: GramsPerSquareMetre, lot: SeedLot): SeedsPerSquareMetre {
  const { purity, thousandSeedWeight } = checkedLot(lot);
  return seedsPerSquareMetre((checkedRate(rate) * purity) / seedMass(thousandSeedWeight));
}

/** Live seeds on a square metre at a rate from the bag (0 to 500 g/m²): 1000 R p g / T. @throws DomainError out of range. */
export function liveSeedsFromRate(rate: GramsPerSquareMetre, lot: SeedLot): SeedsPerSquareMetre {
  return seedsPerSquareMetre(seedsFromRate(rate, lot) * viableShare(lot));
}

/**
 * Rate from the bag for wanted `plants` a square metre (0 to 1 000 000) of which the share `establishment` (above 0 to 1) comes up
 * from a live seed: plants x T / (1000 x establishment x pure live seed). Where a published establishment or survival figure holds
 * germination and purity already, give a lot with both 1.
 * Source: Alberta Agdex 100/22-1; Irish Farmers Journal: kg/ha = plants/m² x thousand-grain weight / establishment %.
 * @throws DomainError for figures out of range.
 */
export function rateFromPlants(
  plants: PlantsPerSquareMetre,
  establishment: number,
  lot: SeedLot,
): GramsPerSquareMetre {
  checked(plants, { least: 0, most: mostSeeds }, 'The plants a square metre', 'plants');
  checkedSomeShare(establishment, 'The expected establishment', 'establishment');
  return rateFromLiveSeeds(seedsPerSquareMetre(plants / establishment), lot);
}

/**
 * Plants to expect on a square metre from a rate from the bag (0 to 500 g/m²): live seeds x establishment (above 0 to 1).
 * @throws DomainError for figures out of range.
 */
export function plantsFromRate(
  rate: GramsPerSquareMetre,
  establishment: number,
  lot: SeedLot,
): PlantsPerSquareMetre {
  checkedSomeShare(establishment, 'The expected establishment', 'establishment');
  return plantsPerSquareMetre(liveSeedsFromRate(rate, lot) * establishment);
}

/** Widest row spacing that a seed drill or planter has, metres. */
const spacingBounds = { above: 0, most: 5 };

/** Seeds a square metre from seeds a metre of row at `rowSpacing` (above 0 to 5 m). @throws DomainError out of range. */
export function seedsPerSquareMetreFromRow(
  density: SeedsPerRowMetre,
  rowSpacing: Metres,
): SeedsPerSquareMetre {
  checked(density, { least: 0 }, 'The seeds a length of row', 'density');
  return seedsPerSquareMetre(
    density / checked(rowSpacing, spacingBounds, 'The row spacing in metres', 'rowSpacing'),
  );
}

/** Seeds a metre of row from seeds a square metre at `rowSpacing` (above 0 to 5 m). @throws DomainError out of range. */
export function seedsPerRowFromSquareMetre(
  density: SeedsPerSquareMetre,
  rowSpacing: Metres,
): SeedsPerRowMetre {
  checked(density, { least: 0 }, 'The seeds a square metre', 'density');
  return seedsPerRowMetre(
    density * checked(rowSpacing, spacingBounds, 'The row spacing in metres', 'rowSpacing'),
  );
}
