import { DomainError } from './error.ts';

/**
 * Quantities and their units. Inside, everything is SI with grams for mass; the other units exist for the edge, where people read
 * and type. A quantity is a plain number that carries its unit in its type only, so that kilograms a hectare cannot be handed over
 * where grams a square metre are wanted.
 */

declare const unitOf: unique symbol;

/** A number known to be in the unit `U`. */
export type Quantity<U extends string> = number & { readonly [unitOf]: U };

/**
 * The one helper that makes quantities: `inUnit('metre')` gives the function that marks a finite number as metres.
 * That function throws DomainError `not-a-number` for what is none.
 */
export function inUnit<U extends string>(unit: U) {
  return (value: number): Quantity<U> => {
    if (!Number.isFinite(value)) {
      throw new DomainError('not-a-number', `A value in ${unit} must be a number.`);
    }
    return value as Quantity<U>;
  };
}

export const metres = inUnit('metre');
export const inches = inUnit('inch');
export const feet = inUnit('foot');
export const millimetres = inUnit('millimetre');
export const centimetres = inUnit('centimetre');
export const squareMetres = inUnit('square metre');
export const acres = inUnit('acre');
export const hectares = inUnit('hectare');
export const grams = inUnit('gram');
export const ounces = inUnit('ounce');
export const pounds = inUnit('pound');
export const gramsPerSquareMetre = inUnit('gram a square metre');
export const kilogramsPerHectare = inUnit('kilogram a hectare');
export const poundsPerAcre = inUnit('pound an acre');
export const metresPerSecond = inUnit('metre a second');
export const kilometresPerHour = inUnit('kilometre an hour');
export const milesPerHour = inUnit('mile an hour');
export const turns = inUnit('turn');
export const turnsPerMinute = inUnit('turn a minute');

export type Metres = ReturnType<typeof metres>;
export type Inches = ReturnType<typeof inches>;
export type Feet = ReturnType<typeof feet>;
export type Millimetres = ReturnType<typeof millimetres>;
export type Centimetres = ReturnType<typeof centimetres>;
export type SquareMetres = ReturnType<typeof squareMetres>;
export type Acres = ReturnType<typeof acres>;
export type Hectares = ReturnType<typeof hectares>;
export type Grams = ReturnType<typeof grams>;
export type Ounces = ReturnType<typeof ounces>;
export type Pounds = ReturnType<typeof pounds>;
export type GramsPerSquareMetre = ReturnType<typeof gramsPerSquareMetre>;
export type KilogramsPerHectare = ReturnType<typeof kilogramsPerHectare>;
export type PoundsPerAcre = ReturnType<typeof poundsPerAcre>;
export type MetresPerSecond = ReturnType<typeof metresPerSecond>;
export type KilometresPerHour = ReturnType<typeof kilometresPerHour>;
export type MilesPerHour = ReturnType<typeof milesPerHour>;
export type Turns = ReturnType<typeof turns>;
export type TurnsPerMinute = ReturnType<typeof turnsPerMinute>;

/**
 * What one unit is in SI (grams for mass). All exact: inch and pound from the international yard and pound agreement of 1959
 * (1 yd = 0.9144 m, 1 lb = 0.45359237 kg); 16 oz to the pound; 12 in to the foot; 5280 ft to the mile; 43 560 ft² to the acre.
 */
export const unitSize = {
  inch: 0.0254,
  foot: 0.3048,
  millimetre: 0.001,
  centimetre: 0.01,
  acre: 4046.8564224,
  hectare: 10_000,
  pound: 453.59237,
  ounce: 28.349523125,
  kilogramPerHectare: 0.1,
  poundPerAcre: 453.59237 / 4046.8564224,
  kilometrePerHour: 1 / 3.6,
  milePerHour: 0.44704,
} as const;

/*
 * Conversions. Each takes any finite quantity in the one unit and gives it in the other, by the exact sizes above; an overflow throws
 * DomainError `not-a-number`.
 */

export const metresFromInches = (value: Inches): Metres => metres(value * unitSize.inch);
export const inchesFromMetres = (value: Metres): Inches => inches(value / unitSize.inch);
export const metresFromFeet = (value: Feet): Metres => metres(value * unitSize.foot);
export const feetFromMetres = (value: Metres): Feet => feet(value / unitSize.foot);
export const metresFromMillimetres = (value: Millimetres): Metres => metres(value / 1000);
export const millimetresFromMetres = (value: Metres): Millimetres => millimetres(value * 1000);
export const metresFromCentimetres = (value: Centimetres): Metres => metres(value / 100);
export const centimetresFromMetres = (value: Metres): Centimetres => centimetres(value * 100);

export const squareMetresFromAcres = (value: Acres): SquareMetres => squareMetres(value * unitSize.acre);
export const acresFromSquareMetres = (value: SquareMetres): Acres => acres(value / unitSize.acre);
export const squareMetresFromHectares = (value: Hectares): SquareMetres =>
  squareMetres(value * unitSize.hectare);
export const hectaresFromSquareMetres = (value: SquareMetres): Hectares => hectares(value / unitSize.hectare);

export const gramsFromPounds = (value: Pounds): Grams => grams(value * unitSize.pound);
export const poundsFromGrams = (value: Grams): Pounds => pounds(value / unitSize.pound);
export const gramsFromOunces = (value: Ounces): Grams => grams(value * unitSize.ounce);
export const ouncesFromGrams = (value: Grams): Ounces => ounces(value / unitSize.ounce);

export const gramsPerSquareMetreFromKilogramsPerHectare = (value: KilogramsPerHectare): GramsPerSquareMetre =>
  gramsPerSquareMetre(value / 10);
export const kilogramsPerHectareFromGramsPerSquareMetre = (value: GramsPerSquareMetre): KilogramsPerHectare =>
  kilogramsPerHectare(value * 10);
export const gramsPerSquareMetreFromPoundsPerAcre = (value: PoundsPerAcre): GramsPerSquareMetre =>
  gramsPerSquareMetre(value * unitSize.poundPerAcre);
export const poundsPerAcreFromGramsPerSquareMetre = (value: GramsPerSquareMetre): PoundsPerAcre =>
  poundsPerAcre(value / unitSize.poundPerAcre);

export const metresPerSecondFromKilometresPerHour = (value: KilometresPerHour): MetresPerSecond =>
  metresPerSecond(value / 3.6);
export const kilometresPerHourFromMetresPerSecond = (value: MetresPerSecond): KilometresPerHour =>
  kilometresPerHour(value * 3.6);
export const metresPerSecondFromMilesPerHour = (value: MilesPerHour): MetresPerSecond =>
  metresPerSecond(value * unitSize.milePerHour);
export const milesPerHourFromMetresPerSecond = (value: MetresPerSecond): MilesPerHour =>
  milesPerHour(value / unitSize.milePerHour);
