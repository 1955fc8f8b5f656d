import {
  type GramsPerLitre,
  gramsPerLitre,
  gramsPerLitreFromPoundsPerUsBushel,
  poundsPerUsBushel,
} from './bulk-density.ts';
import type { CountedWeight } from './counted-sample.ts';
import { DomainError } from './error.ts';
import { type GramsPerThousandSeeds, gramsPerThousandSeeds } from './seed-units.ts';
import data from './species-data.json' with { type: 'json' };

/**
 * Species sown in small-grain, cover-crop and forage mixes, with what is published of their seed. Every figure names its source in
 * species-data.json. A table knows the species, not the lot: a counted and weighed sample of the lot beats it (`seedWeightOf`).
 */

/** Where a figure was printed. */
export interface SpeciesSource {
  id: string;
  title: string;
  publisher: string;
  year: number | null;
  where: string;
  note: string;
}

/** A seed weight as printed: one figure or a range, in the unit of its source. READ: seen there; READ-2: seen quoted. */
export interface PrintedSeedWeight {
  printed: readonly number[];
  unit: string;
  asPrinted: string;
  source: string;
  mark: string;
}

/** A legal bushel as printed. */
export interface PrintedBushel {
  poundsPerUsBushel: number;
  asPrinted: string;
  source: string;
  mark: string;
}

/** A species and what is published of it. */
export interface Species {
  key: string;
  commonName: string;
  latinName: string;
  group: string;
  /** Grams; the range covers all printed figures, rounding included. */
  thousandSeedWeight: { typical: number; low: number; high: number; typicalFrom: string };
  seedWeights: readonly PrintedSeedWeight[];
  bushelWeights: readonly PrintedBushel[];
  /** Empty where there is nothing to remark. */
  note: string;
}

/** All species of the table, small grains first. */
export const speciesTable: readonly Species[] = data.species;

/** All sources that the table draws on. */
export const speciesSources: readonly SpeciesSource[] = data.sources;

/** What to bear in mind when using the table, sentences for people. */
export const speciesCaveats: readonly string[] = data.caveats;

/**
 * The species with this `key`, as in `speciesTable`.
 * @throws DomainError `out-of-range` when the table holds none.
 */
export function speciesByKey(key: string): Species {
  const found = speciesTable.find((each) => each.key === key);
  if (found === undefined) {
    throw new DomainError(
      'out-of-range',
      `The table holds no species '${key}': enter its seed weight yourself, best from a counted sample.`,
      'species',
    );
  }
  return found;
}

const plain = (text: string) =>
  text
    .toLowerCase()
    .replaceAll(/[^a-z]+/g, ' ')
    .trim();

/**
 * Species whose common or Latin name holds every word of `text`, in any order, upper and lower case alike; all for an empty text.
 * Those whose name begins with the text come first. None found: an empty list.
 */
export function findSpecies(text: string): Species[] {
  const words = plain(text).split(' ');
  const named = (each: Species) => plain(`${each.commonName} ${each.latinName}`);
  const first = (each: Species) => Number(!named(each).startsWith(plain(text)));
  return speciesTable
    .filter((each) => words.every((word) => named(each).includes(word)))
    .toSorted((a, b) => first(a) - first(b));
}

/** The seed weight to reckon with, and where it comes from. Grams a thousand. */
export interface SeedWeight {
  typical: GramsPerThousandSeeds;
  /** From a count: interval of the lot's mean. From the table: what sources print for the species, which a lot may still leave. */
  low: GramsPerThousandSeeds;
  high: GramsPerThousandSeeds;
  basis: 'counted sample' | 'table';
}

/** Seed weight of a species: that of the lot's counted sample where there is one, otherwise the table's. */
export function seedWeightOf(species: Species, counted: CountedWeight | null): SeedWeight {
  if (counted !== null) {
    const { thousandSeedWeight, low, high } = counted;
    return { typical: thousandSeedWeight, low, high, basis: 'counted sample' };
  }
  const { typical, low, high } = species.thousandSeedWeight;
  return {
    typical: gramsPerThousandSeeds(typical),
    low: gramsPerThousandSeeds(low),
    high: gramsPerThousandSeeds(high),
    basis: 'table',
  };
}

/** Bulk density as the legal bushels of the states give it. */
export interface TradeDensity {
  typical: GramsPerLitre;
  low: GramsPerLitre;
  high: GramsPerLitre;
  caution: string;
}

/** What a legal bushel is not. Source: US National Bureau of Standards, Circular 10 (2nd ed. 1911). */
export const bushelCaution =
  'From the legal bushel, a mass agreed for trade, not the measured density of anyone’s lot. Good for hopper and refill estimates; weigh a full measure of your seed to know.';

/**
 * Bulk density of a species from its legal bushels, as middle and range of what the sources print; null where none is known.
 * 1 lb to the US bushel = 12.8719 g/L, from exact definitions.
 */
export function tradeDensityOf(species: Species): TradeDensity | null {
  if (species.bushelWeights.length === 0) {
    return null;
  }
  const densities = species.bushelWeights.map((each) =>
    gramsPerLitreFromPoundsPerUsBushel(poundsPerUsBushel(each.poundsPerUsBushel)),
  );
  const low = Math.min(...densities);
  const high = Math.max(...densities);
  return {
    typical: gramsPerLitre((low + high) / 2),
    low: gramsPerLitre(low),
    high: gramsPerLitre(high),
    caution: bushelCaution,
  };
}
