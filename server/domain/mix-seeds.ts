import { checkedBulkDensity, type GramsPerLitre, gramsPerLitre } from './bulk-density.ts';
import { checked, DomainError } from './error.ts';
import type { MixPart, SeedMix } from './seed-mix.ts';
import { type SeedsPerSquareMetre, seedMass } from './seed-units.ts';
import { liveSeedsFromRate, seedsFromRate } from './seeding-target.ts';
import { lumpiness } from './uncertainty.ts';
import { type Grams, grams } from './units.ts';

/** What a mix is made of, seed by seed and litre by litre. */

/** Seeds of one species on a square metre. */
export interface SpeciesSeeds {
  name: string;
  /** Pure seeds, alive or not. */
  all: SeedsPerSquareMetre;
  live: SeedsPerSquareMetre;
  /** Its share of all live seeds of the mix by number, 0 to 1; 0 where nothing is alive. */
  liveShare: number;
}

/** Seeds of each species on a square metre: 1000 R w p / T, live: times the viable share. In the order of the mix. */
export function mixSeeds(mix: SeedMix): SpeciesSeeds[] {
  const seeds = mix.parts.map(({ name, lot, bulkRate }) => ({
    name,
    all: seedsFromRate(bulkRate, lot),
    live: liveSeedsFromRate(bulkRate, lot),
  }));
  const sum = seeds.reduce((total, each) => total + each.live, 0);
  return seeds.map((each) => ({ ...each, liveShare: sum > 0 ? each.live / sum : 0 }));
}

/**
 * Mean mass of one seed, each seed weighted by its mass, grams: sum of mass share x seed mass. The few heavy seeds of a mix make most
 * of its lumpiness, hence this mean and not the plain one. What is no seed counts as if it came in pieces like the seed.
 */
export function massWeightedSeedMass(mix: SeedMix): Grams {
  return grams(
    mix.parts.reduce((sum, { lot, massShare }) => sum + massShare * seedMass(lot.thousandSeedWeight), 0),
  );
}

/** Plain mean mass of one pure seed, grams: mass of pure seed over number of pure seeds. */
export function meanSeedMass(mix: SeedMix): Grams {
  const mass = mix.parts.reduce((sum, { lot, massShare }) => sum + massShare * lot.purity, 0);
  const seeds = mix.parts.reduce(
    (sum, { lot, massShare }) => sum + (massShare * lot.purity) / seedMass(lot.thousandSeedWeight),
    0,
  );
  return grams(mass / seeds);
}

/**
 * Lumpiness of a mix: variance of a catch per gram caught when seeds arrive independently, grams: sum of mass share x `lumpiness` of
 * each species. `spread` gives the relative spread of single seeds within a species (0 to 2), the same for all or one for each.
 * Source: compound Poisson process, as `lumpiness`; independent species add their variances.
 * @throws DomainError for a spread out of range, or not one for each species.
 */
export function mixLumpiness(mix: SeedMix, spread: number | readonly number[]): Grams {
  const spreads = typeof spread === 'number' ? mix.parts.map(() => spread) : spread;
  if (spreads.length !== mix.parts.length) {
    throw new DomainError(
      'inconsistent',
      `There are ${mix.parts.length} species, but ${spreads.length} spreads of seed mass.`,
      'seedMassSpread',
    );
  }
  return grams(
    mix.parts.reduce((sum, part, index) => {
      const each = checked(
        spreads[index]!,
        { least: 0, most: 2 },
        'The spread of seed masses',
        'seedMassSpread',
      );
      return sum + part.massShare * lumpiness(seedMass(part.lot.thousandSeedWeight), each);
    }, 0),
  );
}

/** A bulk density that nobody measured. */
export interface DensityEstimate {
  gramsPerLitre: GramsPerLitre;
  /** What to think of it, a sentence for people. */
  caution: string;
}

/**
 * Bulk density of a mix, estimated from that of its species (20 to 1500 g/L each, in the order of the mix) as if their volumes added:
 * 1 / sum of (mass share / density). Small seed fills the gaps between large seed, so that the mix is denser than this, mostly by less
 * than a tenth (common practice, no source). Good for bags and refills, not for a rate.
 * @throws DomainError for a density out of range, or not one for each species.
 */
export function mixDensityEstimate(mix: SeedMix, densities: readonly GramsPerLitre[]): DensityEstimate {
  if (densities.length !== mix.parts.length) {
    throw new DomainError(
      'inconsistent',
      `There are ${mix.parts.length} species, but ${densities.length} bulk densities.`,
      'bulkDensity',
    );
  }
  const volume = mix.parts.reduce(
    (sum, part: MixPart, index) => sum + part.massShare / checkedBulkDensity(densities[index]!),
    0,
  );
  return {
    gramsPerLitre: gramsPerLitre(1 / volume),
    caution:
      mix.parts.length > 1
        ? 'An estimate: it takes the volumes of the species to add. Small seed fills gaps, so the mix is somewhat denser. Weigh a full measure of it to know.'
        : 'A table or trade figure may be off by a tenth for your lot. Weigh a full measure of it to know.',
  };
}
