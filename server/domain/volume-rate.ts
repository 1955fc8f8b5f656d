import { checkedBulkDensity, type GramsPerLitre, volumeSize } from './bulk-density.ts';
import { checkedRate } from './seed-lot.ts';
import { type GramsPerSquareMetre, gramsPerSquareMetre, inUnit, unitSize } from './units.ts';

/**
 * Rates by volume. A bushel an acre is a rate only together with the mass of a bushel: of the lot where one was weighed full, or the
 * trade's (60 lb for wheat) where that is what the speaker means. Either goes in as a bulk density.
 */

/** US bushels an acre. Throws DomainError `not-a-number` for what is no finite number. */
export const usBushelsPerAcre = inUnit('US bushel an acre');
/** Imperial bushels an acre. Throws DomainError `not-a-number` for what is no finite number. */
export const imperialBushelsPerAcre = inUnit('imperial bushel an acre');

/** A rate by volume in US bushels an acre. */
export type UsBushelsPerAcre = ReturnType<typeof usBushelsPerAcre>;
/** A rate by volume in imperial bushels an acre. */
export type ImperialBushelsPerAcre = ReturnType<typeof imperialBushelsPerAcre>;

function rateOf(bushels: number, litres: number, density: GramsPerLitre): GramsPerSquareMetre {
  return checkedRate(gramsPerSquareMetre((bushels * litres * checkedBulkDensity(density)) / unitSize.acre));
}

function bushelsOf(rate: GramsPerSquareMetre, litres: number, density: GramsPerLitre): number {
  return (checkedRate(rate) * unitSize.acre) / (litres * checkedBulkDensity(density));
}

/**
 * Rate from the bag (0 to 500 g/m²) of US bushels an acre at `density` (20 to 1500 g/L); exact: 35.23907016688 L a bushel,
 * 4046.8564224 m² an acre.
 * @throws DomainError for a density or a rate out of range.
 */
export const rateFromUsBushelsPerAcre = (
  value: UsBushelsPerAcre,
  density: GramsPerLitre,
): GramsPerSquareMetre => rateOf(value, volumeSize.usBushel, density);

/** The way back from `rateFromUsBushelsPerAcre`, same ranges. @throws DomainError for a density or a rate out of range. */
export const usBushelsPerAcreFromRate = (
  rate: GramsPerSquareMetre,
  density: GramsPerLitre,
): UsBushelsPerAcre => usBushelsPerAcre(bushelsOf(rate, volumeSize.usBushel, density));

/**
 * Rate from the bag (0 to 500 g/m²) of imperial bushels an acre at `density` (20 to 1500 g/L); exact: 36.36872 L a bushel,
 * 4046.8564224 m² an acre.
 * @throws DomainError for a density or a rate out of range.
 */
export const rateFromImperialBushelsPerAcre = (
  value: ImperialBushelsPerAcre,
  density: GramsPerLitre,
): GramsPerSquareMetre => rateOf(value, volumeSize.imperialBushel, density);

/** The way back from `rateFromImperialBushelsPerAcre`, same ranges. @throws DomainError for a density or a rate out of range. */
export const imperialBushelsPerAcreFromRate = (
  rate: GramsPerSquareMetre,
  density: GramsPerLitre,
): ImperialBushelsPerAcre => imperialBushelsPerAcre(bushelsOf(rate, volumeSize.imperialBushel, density));
