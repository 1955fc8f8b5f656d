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

/** Metres. */
export const metres = inUnit('metre');
/** International inches. */
export const inches = inUnit('inch');
/** International feet. */
export const feet = inUnit('foot');
/** Millimetres. */
export const millimetres = inUnit('millimetre');
/** Centimetres. */
export const centimetres = inUnit('centimetre');
/** Square metres. */
export const squareMetres = inUnit('square metre');
/** Square feet. */
export const squareFeet = inUnit('square foot');
/** International acres (the US survey acre is 4 parts in a million larger). */
export const acres = inUnit('acre');
/** Hectares. */
export const hectares = inUnit('hectare');
/** Grams. */
export const grams = inUnit('gram');
/** Kilograms. */
export const kilograms = inUnit('kilogram');
/** Avoirdupois ounces. */
export const ounces = inUnit('ounce');
/** Avoirdupois pounds. */
export const pounds = inUnit('pound');
/** Grams a square metre: the inner unit of a rate. */
export const gramsPerSquareMetre = inUnit('gram a square metre');
/** Kilograms a hectare. */
export const kilogramsPerHectare = inUnit('kilogram a hectare');
/** Pounds an acre. */
export const poundsPerAcre = inUnit('pound an acre');
/** Metres a second. */
export const metresPerSecond = inUnit('metre a second');
/** Kilometres an hour. */
export const kilometresPerHour = inUnit('kilometre an hour');
/** Miles an hour. */
export const milesPerHour = inUnit('mile an hour');
/** Turns of a wheel or shaft, fractions allowed. */
export const turns = inUnit('turn');
/** Turns a minute, below 0 for backwards. */
export const turnsPerMinute = inUnit('turn a minute');

/** A length in metres. */
export type Metres = ReturnType<typeof metres>;
/** A length in inches. */
export type Inches = ReturnType<typeof inches>;
/** A length in feet. */
export type Feet = ReturnType<typeof feet>;
/** A length in millimetres. */
export type Millimetres = ReturnType<typeof millimetres>;
/** A length in centimetres. */
export type Centimetres = ReturnType<typeof centimetres>;
/** An area in square metres. */
export type SquareMetres = ReturnType<typeof squareMetres>;
/** An area in square feet. */
export type SquareFeet = ReturnType<typeof squareFeet>;
/** An area in international acres. */
export type Acres = ReturnType<typeof acres>;
/** An area in hectares. */
export type Hectares = ReturnType<typeof hectares>;
/** A mass in grams. */
export type Grams = ReturnType<typeof grams>;
/** A mass in kilograms. */
export type Kilograms = ReturnType<typeof kilograms>;
/** A mass in avoirdupois ounces. */
export type Ounces = ReturnType<typeof ounces>;
/** A mass in avoirdupois pounds. */
export type Pounds = ReturnType<typeof pounds>;
/** A rate in grams a square metre. */
export type GramsPerSquareMetre = ReturnType<typeof gramsPerSquareMetre>;
/** A rate in kilograms a hectare. */
export type KilogramsPerHectare = ReturnType<typeof kilogramsPerHectare>;
/** A rate in pounds an acre. */
export type PoundsPerAcre = ReturnType<typeof poundsPerAcre>;
/** A speed in metres a second. */
export type MetresPerSecond = ReturnType<typeof metresPerSecond>;
/** A speed in kilometres an hour. */
export type KilometresPerHour = ReturnType<typeof kilometresPerHour>;
/** A speed in miles an hour. */
export type MilesPerHour = ReturnType<typeof milesPerHour>;
/** A count of turns of a wheel or shaft. */
export type Turns = ReturnType<typeof turns>;
/** A speed of turning in turns a minute. */
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
  squareFoot: 0.09290304,
  squareYard: 0.83612736,
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

/** Exact: 1 in = 0.0254 m. */
export const metresFromInches = (value: Inches): Metres => metres(value * unitSize.inch);
/** Exact: 1 in = 0.0254 m. */
export const inchesFromMetres = (value: Metres): Inches => inches(value / unitSize.inch);
/** Exact: 1 ft = 0.3048 m. */
export const metresFromFeet = (value: Feet): Metres => metres(value * unitSize.foot);
/** Exact: 1 ft = 0.3048 m. */
export const feetFromMetres = (value: Metres): Feet => feet(value / unitSize.foot);
/** Exact: 1 m = 1000 mm. */
export const metresFromMillimetres = (value: Millimetres): Metres => metres(value / 1000);
/** Exact: 1 m = 1000 mm. */
export const millimetresFromMetres = (value: Metres): Millimetres => millimetres(value * 1000);
/** Exact: 1 m = 100 cm. */
export const metresFromCentimetres = (value: Centimetres): Metres => metres(value / 100);
/** Exact: 1 m = 100 cm. */
export const centimetresFromMetres = (value: Metres): Centimetres => centimetres(value * 100);

/** Exact: 1 ft² = 0.3048² m² = 0.09290304 m². */
export const squareMetresFromSquareFeet = (value: SquareFeet): SquareMetres =>
  squareMetres(value * unitSize.squareFoot);
/** Exact: 1 ft² = 0.3048² m² = 0.09290304 m². */
export const squareFeetFromSquareMetres = (value: SquareMetres): SquareFeet =>
  squareFeet(value / unitSize.squareFoot);
/** Exact: 1 ac = 43 560 ft² = 4046.8564224 m². */
export const squareMetresFromAcres = (value: Acres): SquareMetres => squareMetres(value * unitSize.acre);
/** Exact: 1 ac = 43 560 ft² = 4046.8564224 m². */
export const acresFromSquareMetres = (value: SquareMetres): Acres => acres(value / unitSize.acre);
/** Exact: 1 ha = 10 000 m². */
export const squareMetresFromHectares = (value: Hectares): SquareMetres =>
  squareMetres(value * unitSize.hectare);
/** Exact: 1 ha = 10 000 m². */
export const hectaresFromSquareMetres = (value: SquareMetres): Hectares => hectares(value / unitSize.hectare);

/** Exact: 1 kg = 1000 g. */
export const gramsFromKilograms = (value: Kilograms): Grams => grams(value * 1000);
/** Exact: 1 kg = 1000 g. */
export const kilogramsFromGrams = (value: Grams): Kilograms => kilograms(value / 1000);
/** Exact: 1 lb = 453.59237 g. */
export const gramsFromPounds = (value: Pounds): Grams => grams(value * unitSize.pound);
/** Exact: 1 lb = 453.59237 g. */
export const poundsFromGrams = (value: Grams): Pounds => pounds(value / unitSize.pound);
/** Exact: 16 oz = 1 lb = 453.59237 g. */
export const gramsFromOunces = (value: Ounces): Grams => grams(value * unitSize.ounce);
/** Exact: 16 oz = 1 lb = 453.59237 g. */
export const ouncesFromGrams = (value: Grams): Ounces => ounces(value / unitSize.ounce);

/** Exact: 1 kg/ha = 0.1 g/m². */
export const gramsPerSquareMetreFromKilogramsPerHectare = (value: KilogramsPerHectare): GramsPerSquareMetre =>
  gramsPerSquareMetre(value / 10);
/** Exact: 1 kg/ha = 0.1 g/m². */
export const kilogramsPerHectareFromGramsPerSquareMetre = (value: GramsPerSquareMetre): KilogramsPerHectare =>
  kilogramsPerHectare(value * 10);
/** Exact: 1 lb/ac = 453.59237 g in 4046.8564224 m², about 0.112085 g/m². */
export const gramsPerSquareMetreFromPoundsPerAcre = (value: PoundsPerAcre): GramsPerSquareMetre =>
  gramsPerSquareMetre(value * unitSize.poundPerAcre);
/** Exact: 1 lb/ac = 453.59237 g in 4046.8564224 m², about 0.112085 g/m². */
export const poundsPerAcreFromGramsPerSquareMetre = (value: GramsPerSquareMetre): PoundsPerAcre =>
  poundsPerAcre(value / unitSize.poundPerAcre);

/** Exact: 3.6 km/h = 1 m/s. */
export const metresPerSecondFromKilometresPerHour = (value: KilometresPerHour): MetresPerSecond =>
  metresPerSecond(value / 3.6);
/** Exact: 3.6 km/h = 1 m/s. */
export const kilometresPerHourFromMetresPerSecond = (value: MetresPerSecond): KilometresPerHour =>
  kilometresPerHour(value * 3.6);
/** Exact: 1 mile an hour = 5280 ft in 3600 s = 0.44704 m/s. */
export const metresPerSecondFromMilesPerHour = (value: MilesPerHour): MetresPerSecond =>
  metresPerSecond(value * unitSize.milePerHour);
/** Exact: 1 mile an hour = 5280 ft in 3600 s = 0.44704 m/s. */
export const milesPerHourFromMetresPerSecond = (value: MetresPerSecond): MilesPerHour =>
  milesPerHour(value / unitSize.milePerHour);
