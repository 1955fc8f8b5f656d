import { checked } from './error.ts';
import { type Grams, grams, inUnit, unitSize } from './units.ts';

/**
 * Units of seed heaped in a hopper or a bushel. Inside, density is grams a litre (the same figure as kilograms a cubic metre) and
 * volume litres. Each maker below marks a finite number as being in its unit and throws DomainError `not-a-number` for any other.
 */

/** Grams a litre. */
export const gramsPerLitre = inUnit('gram a litre');
/** Kilograms a cubic metre. */
export const kilogramsPerCubicMetre = inUnit('kilogram a cubic metre');
/** Kilograms a hectolitre. */
export const kilogramsPerHectolitre = inUnit('kilogram a hectolitre');
/** Pounds a US bushel. */
export const poundsPerUsBushel = inUnit('pound a US bushel');
/** Pounds an imperial bushel. */
export const poundsPerImperialBushel = inUnit('pound an imperial bushel');
/** Litres. */
export const litres = inUnit('litre');
/** US bushels. */
export const usBushels = inUnit('US bushel');
/** Imperial bushels. */
export const imperialBushels = inUnit('imperial bushel');
/** Cubic feet. */
export const cubicFeet = inUnit('cubic foot');

/** A bulk density in grams a litre. */
export type GramsPerLitre = ReturnType<typeof gramsPerLitre>;
/** A bulk density in kilograms a cubic metre. */
export type KilogramsPerCubicMetre = ReturnType<typeof kilogramsPerCubicMetre>;
/** A bulk density in kilograms a hectolitre. */
export type KilogramsPerHectolitre = ReturnType<typeof kilogramsPerHectolitre>;
/** A bulk density, or a trade mass, in pounds a US bushel. */
export type PoundsPerUsBushel = ReturnType<typeof poundsPerUsBushel>;
/** A bulk density, or a trade mass, in pounds an imperial bushel. */
export type PoundsPerImperialBushel = ReturnType<typeof poundsPerImperialBushel>;
/** A volume in litres. */
export type Litres = ReturnType<typeof litres>;
/** A volume in US bushels. */
export type UsBushels = ReturnType<typeof usBushels>;
/** A volume in imperial bushels. */
export type ImperialBushels = ReturnType<typeof imperialBushels>;
/** A volume in cubic feet. */
export type CubicFeet = ReturnType<typeof cubicFeet>;

/**
 * What one unit of volume is in litres. All exact: US bushel 2150.42 in³ of (2.54 cm)³; imperial bushel 8 gallons of 4.54609 L;
 * cubic foot (3.048 dm)³.
 */
export const volumeSize = {
  usBushel: 35.23907016688,
  imperialBushel: 36.36872,
  cubicFoot: 28.316846592,
} as const;

/** From kilograms a cubic metre: the same figure. */
export const gramsPerLitreFromKilogramsPerCubicMetre = (value: KilogramsPerCubicMetre): GramsPerLitre =>
  gramsPerLitre(value);
/** To kilograms a cubic metre: the same figure. */
export const kilogramsPerCubicMetreFromGramsPerLitre = (value: GramsPerLitre): KilogramsPerCubicMetre =>
  kilogramsPerCubicMetre(value);
/** From kilograms a hectolitre; exact: 1 kg/hL = 10 g/L. */
export const gramsPerLitreFromKilogramsPerHectolitre = (value: KilogramsPerHectolitre): GramsPerLitre =>
  gramsPerLitre(value * 10);
/** To kilograms a hectolitre; exact: 1 kg/hL = 10 g/L. */
export const kilogramsPerHectolitreFromGramsPerLitre = (value: GramsPerLitre): KilogramsPerHectolitre =>
  kilogramsPerHectolitre(value / 10);
/** From pounds a US bushel; exact: 453.59237 g in 35.23907016688 L. */
export const gramsPerLitreFromPoundsPerUsBushel = (value: PoundsPerUsBushel): GramsPerLitre =>
  gramsPerLitre((value * unitSize.pound) / volumeSize.usBushel);
/** To pounds a US bushel; exact: 453.59237 g in 35.23907016688 L. */
export const poundsPerUsBushelFromGramsPerLitre = (value: GramsPerLitre): PoundsPerUsBushel =>
  poundsPerUsBushel((value * volumeSize.usBushel) / unitSize.pound);
/** From pounds an imperial bushel; exact: 453.59237 g in 36.36872 L. */
export const gramsPerLitreFromPoundsPerImperialBushel = (value: PoundsPerImperialBushel): GramsPerLitre =>
  gramsPerLitre((value * unitSize.pound) / volumeSize.imperialBushel);
/** To pounds an imperial bushel; exact: 453.59237 g in 36.36872 L. */
export const poundsPerImperialBushelFromGramsPerLitre = (value: GramsPerLitre): PoundsPerImperialBushel =>
  poundsPerImperialBushel((value * volumeSize.imperialBushel) / unitSize.pound);

/** From US bushels; exact: 2150.42 in³. */
export const litresFromUsBushels = (value: UsBushels): Litres => litres(value * volumeSize.usBushel);
/** To US bushels; exact: 2150.42 in³. */
export const usBushelsFromLitres = (value: Litres): UsBushels => usBushels(value / volumeSize.usBushel);
/** From imperial bushels; exact: 8 gallons of 4.54609 L. */
export const litresFromImperialBushels = (value: ImperialBushels): Litres =>
  litres(value * volumeSize.imperialBushel);
/** To imperial bushels; exact: 8 gallons of 4.54609 L. */
export const imperialBushelsFromLitres = (value: Litres): ImperialBushels =>
  imperialBushels(value / volumeSize.imperialBushel);
/** From cubic feet; exact: 1 ft = 0.3048 m. */
export const litresFromCubicFeet = (value: CubicFeet): Litres => litres(value * volumeSize.cubicFoot);
/** To cubic feet; exact: 1 ft = 0.3048 m. */
export const cubicFeetFromLitres = (value: Litres): CubicFeet => cubicFeet(value / volumeSize.cubicFoot);

/**
 * `density` itself when heaped seed can be so light or heavy: 20 to 1500 g/L, from seed in its hair to bare small seed.
 * @throws DomainError naming `bulkDensity`: most often a figure in another unit.
 */
export function checkedBulkDensity(density: GramsPerLitre): GramsPerLitre {
  checked(density, { least: 20, most: 1500 }, 'The bulk density in grams a litre', 'bulkDensity');
  return density;
}

/** Mass of `volume` (0 to 1 000 000 L) of seed heaped at `density` (20 to 1500 g/L). @throws DomainError out of these ranges. */
export function massOfVolume(volume: Litres, density: GramsPerLitre): Grams {
  checked(volume, { least: 0, most: 1e6 }, 'The volume in litres', 'volume');
  return grams(volume * checkedBulkDensity(density));
}
