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

/** A bulk density as printed, measured on some lot. */
export interface PrintedDensity {
  gramsPerLitre: number;
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
  densities: readonly PrintedDensity[];
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
  /** What to think of it, a sentence for people. */
  caution: string;
}

const tableCaution =
  'From published tables of the species: your lot may lie outside even this range. Count and weigh a sample of it.';
const singleCaution =
  'From a single source, which says nothing about how far lots differ. Count and weigh a sample of yours.';
const countedCaution = 'From the sample counted. It holds for this lot alone.';

/** Number of sources that print a seed weight for the species. */
export function seedWeightSources(species: Species): number {
  return new Set(species.seedWeights.map((each) => each.source)).size;
}

/** Seed weight of a species: that of the lot's counted sample where there is one, otherwise the table's. */
export function seedWeightOf(species: Species, counted: CountedWeight | null): SeedWeight {
  if (counted !== null) {
    const { thousandSeedWeight, low, high } = counted;
    return { typical: thousandSeedWeight, low, high, basis: 'counted sample', caution: countedCaution };
  }
  const { typical, low, high } = species.thousandSeedWeight;
  return {
    typical: gramsPerThousandSeeds(typical),
    low: gramsPerThousandSeeds(low),
    high: gramsPerThousandSeeds(high),
    basis: 'table',
    caution: seedWeightSources(species) > 1 ? tableCaution : singleCaution,
  };
}

/** Bulk density as published: middle and range of what the sources print. */
export interface PublishedDensity {
  typical: GramsPerLitre;
  low: GramsPerLitre;
  high: GramsPerLitre;
  /** What to think of it, a sentence for people. */
  caution: string;
}

/** What a legal bushel is not. Source: US National Bureau of Standards, Circular 10 (2nd ed. 1911). */
export const bushelCaution =
  'From the legal bushel, a mass agreed for trade, not the measured density of anyone’s lot. Good for hopper and refill estimates; weigh a full measure of your seed to know.';

const measuredCaution =
  'Measured on some lot of the species, not on yours. Good for hopper and refill estimates; weigh a full measure of your seed to know.';

/**
 * Bulk density of a species from its legal bushels and the densities measured, null where none is known.
 * 1 lb to the US bushel = 12.8719 g/L, from exact definitions.
 */
export function publishedDensityOf(species: Species): PublishedDensity | null {
  const { bushelWeights, densities } = species;
  const all = [
    ...bushelWeights.map((each) =>
      gramsPerLitreFromPoundsPerUsBushel(poundsPerUsBushel(each.poundsPerUsBushel)),
    ),
    ...densities.map((each) => gramsPerLitre(each.gramsPerLitre)),
  ];
  if (all.length === 0) {
    return null;
  }
  const low = Math.min(...all);
  const high = Math.max(...all);
  return {
    typical: gramsPerLitre((low + high) / 2),
    low: gramsPerLitre(low),
    high: gramsPerLitre(high),
    caution: bushelWeights.length > 0 ? bushelCaution : measuredCaution,
  };
}
