import { checked } from './error.ts';
import { type Grams, grams, inUnit, unitSize } from './units.ts';

/**
 * Units of seed counts and seed masses. Inside, counts are per square metre and a thousand seeds weigh grams; the other units exist
 * for the edge. Each maker below marks a finite number as being in its unit and throws DomainError `not-a-number` for any other.
 */

/** Seeds a square metre. */
export const seedsPerSquareMetre = inUnit('seed a square metre');
/** Seeds a square foot. */
export const seedsPerSquareFoot = inUnit('seed a square foot');
/** Seeds an acre. */
export const seedsPerAcre = inUnit('seed an acre');
/** Seeds a hectare. */
export const seedsPerHectare = inUnit('seed a hectare');
/** Seeds a metre of row. */
export const seedsPerRowMetre = inUnit('seed a metre of row');
/** Seeds a foot of row. */
export const seedsPerRowFoot = inUnit('seed a foot of row');
/** Plants a square metre. */
export const plantsPerSquareMetre = inUnit('plant a square metre');
/** Plants a square foot. */
export const plantsPerSquareFoot = inUnit('plant a square foot');
/** Plants a square yard. */
export const plantsPerSquareYard = inUnit('plant a square yard');
/** Plants an acre. */
export const plantsPerAcre = inUnit('plant an acre');
/** Plants a hectare. */
export const plantsPerHectare = inUnit('plant a hectare');
/** Thousand-seed weight, grams. */
export const gramsPerThousandSeeds = inUnit('gram a thousand seeds');
/** Seeds to the gram. */
export const seedsPerGram = inUnit('seed a gram');
/** Seeds to the pound. */
export const seedsPerPound = inUnit('seed a pound');

/** A density of seeds in seeds a square metre. */
export type SeedsPerSquareMetre = ReturnType<typeof seedsPerSquareMetre>;
/** A density of seeds in seeds a square foot. */
export type SeedsPerSquareFoot = ReturnType<typeof seedsPerSquareFoot>;
/** A density of seeds in seeds an acre. */
export type SeedsPerAcre = ReturnType<typeof seedsPerAcre>;
/** A density of seeds in seeds a hectare. */
export type SeedsPerHectare = ReturnType<typeof seedsPerHectare>;
/** A density of seeds in seeds a metre of row. */
export type SeedsPerRowMetre = ReturnType<typeof seedsPerRowMetre>;
/** A density of seeds in seeds a foot of row. */
export type SeedsPerRowFoot = ReturnType<typeof seedsPerRowFoot>;
/** A density of plants in plants a square metre. */
export type PlantsPerSquareMetre = ReturnType<typeof plantsPerSquareMetre>;
/** A density of plants in plants a square foot. */
export type PlantsPerSquareFoot = ReturnType<typeof plantsPerSquareFoot>;
/** A density of plants in plants a square yard. */
export type PlantsPerSquareYard = ReturnType<typeof plantsPerSquareYard>;
/** A density of plants in plants an acre. */
export type PlantsPerAcre = ReturnType<typeof plantsPerAcre>;
/** A density of plants in plants a hectare. */
export type PlantsPerHectare = ReturnType<typeof plantsPerHectare>;
/** A seed weight in grams a thousand seeds. */
export type GramsPerThousandSeeds = ReturnType<typeof gramsPerThousandSeeds>;
/** A seed weight in seeds to the gram. */
export type SeedsPerGram = ReturnType<typeof seedsPerGram>;
/** A seed weight in seeds to the pound. */
export type SeedsPerPound = ReturnType<typeof seedsPerPound>;

/** From seeds a square foot; exact: 1 ft = 0.3048 m. */
export const seedsPerSquareMetreFromSquareFoot = (value: SeedsPerSquareFoot): SeedsPerSquareMetre =>
  seedsPerSquareMetre(value / unitSize.squareFoot);
/** To seeds a square foot; exact: 1 ft = 0.3048 m. */
export const seedsPerSquareFootFromSquareMetre = (value: SeedsPerSquareMetre): SeedsPerSquareFoot =>
  seedsPerSquareFoot(value * unitSize.squareFoot);
/** From seeds an acre; exact: 1 ac = 43 560 ft². */
export const seedsPerSquareMetreFromAcre = (value: SeedsPerAcre): SeedsPerSquareMetre =>
  seedsPerSquareMetre(value / unitSize.acre);
/** To seeds an acre; exact: 1 ac = 43 560 ft². */
export const seedsPerAcreFromSquareMetre = (value: SeedsPerSquareMetre): SeedsPerAcre =>
  seedsPerAcre(value * unitSize.acre);
/** From seeds a hectare; exact: 1 ha = 10 000 m². */
export const seedsPerSquareMetreFromHectare = (value: SeedsPerHectare): SeedsPerSquareMetre =>
  seedsPerSquareMetre(value / unitSize.hectare);
/** To seeds a hectare; exact: 1 ha = 10 000 m². */
export const seedsPerHectareFromSquareMetre = (value: SeedsPerSquareMetre): SeedsPerHectare =>
  seedsPerHectare(value * unitSize.hectare);
/** From seeds a foot of row; exact: 1 ft = 0.3048 m. */
export const seedsPerRowMetreFromRowFoot = (value: SeedsPerRowFoot): SeedsPerRowMetre =>
  seedsPerRowMetre(value / unitSize.foot);
/** To seeds a foot of row; exact: 1 ft = 0.3048 m. */
export const seedsPerRowFootFromRowMetre = (value: SeedsPerRowMetre): SeedsPerRowFoot =>
  seedsPerRowFoot(value * unitSize.foot);
/** From plants a square foot; exact: 1 ft = 0.3048 m. */
export const plantsPerSquareMetreFromSquareFoot = (value: PlantsPerSquareFoot): PlantsPerSquareMetre =>
  plantsPerSquareMetre(value / unitSize.squareFoot);
/** To plants a square foot; exact: 1 ft = 0.3048 m. */
export const plantsPerSquareFootFromSquareMetre = (value: PlantsPerSquareMetre): PlantsPerSquareFoot =>
  plantsPerSquareFoot(value * unitSize.squareFoot);

/** From plants a square yard; exact: 1 yd = 0.9144 m. */
export const plantsPerSquareMetreFromSquareYard = (value: PlantsPerSquareYard): PlantsPerSquareMetre =>
  plantsPerSquareMetre(value / unitSize.squareYard);
/** To plants a square yard; exact: 1 yd = 0.9144 m. */
export const plantsPerSquareYardFromSquareMetre = (value: PlantsPerSquareMetre): PlantsPerSquareYard =>
  plantsPerSquareYard(value * unitSize.squareYard);
/** From plants an acre; exact: 1 ac = 43 560 ft². */
export const plantsPerSquareMetreFromAcre = (value: PlantsPerAcre): PlantsPerSquareMetre =>
  plantsPerSquareMetre(value / unitSize.acre);
/** To plants an acre; exact: 1 ac = 43 560 ft². */
export const plantsPerAcreFromSquareMetre = (value: PlantsPerSquareMetre): PlantsPerAcre =>
  plantsPerAcre(value * unitSize.acre);
/** From plants a hectare; exact: 1 ha = 10 000 m². */
export const plantsPerSquareMetreFromHectare = (value: PlantsPerHectare): PlantsPerSquareMetre =>
  plantsPerSquareMetre(value / unitSize.hectare);
/** To plants a hectare; exact: 1 ha = 10 000 m². */
export const plantsPerHectareFromSquareMetre = (value: PlantsPerSquareMetre): PlantsPerHectare =>
  plantsPerHectare(value * unitSize.hectare);

/** Lightest and heaviest seed that the computation takes, grams a thousand: from dust-fine grasses to the largest beans. */
const thousandSeedBounds = { least: 0.01, most: 5000 };

/**
 * `value` itself when it can be the weight of a thousand field seeds: 0.01 to 5000 g.
 * @throws DomainError naming `thousandSeedWeight`: most often seeds to the pound typed where grams a thousand belong.
 */
export function checkedThousandSeedWeight(value: GramsPerThousandSeeds): GramsPerThousandSeeds {
  checked(value, thousandSeedBounds, 'The thousand-seed weight in grams', 'thousandSeedWeight');
  return value;
}

/** Thousand-seed weight from seeds to the gram (0.2 to 100 000): 1000 / count. @throws DomainError out of that range. */
export function thousandSeedWeightFromSeedsPerGram(value: SeedsPerGram): GramsPerThousandSeeds {
  checked(value, { above: 0 }, 'The seeds to the gram', 'seedsPerGram');
  return checkedThousandSeedWeight(gramsPerThousandSeeds(1000 / value));
}

/** Seeds to the gram from a thousand-seed weight of 0.01 to 5000 g. @throws DomainError out of that range. */
export function seedsPerGramFromThousandSeedWeight(value: GramsPerThousandSeeds): SeedsPerGram {
  return seedsPerGram(1000 / checkedThousandSeedWeight(value));
}

/**
 * Thousand-seed weight from seeds to the pound (about 91 to 45 million): 453 592.37 / count; exact: 1 lb = 453.59237 g.
 * @throws DomainError out of that range.
 */
export function thousandSeedWeightFromSeedsPerPound(value: SeedsPerPound): GramsPerThousandSeeds {
  checked(value, { above: 0 }, 'The seeds to the pound', 'seedsPerPound');
  return checkedThousandSeedWeight(gramsPerThousandSeeds((1000 * unitSize.pound) / value));
}

/** Seeds to the pound from a thousand-seed weight of 0.01 to 5000 g. @throws DomainError out of that range. */
export function seedsPerPoundFromThousandSeedWeight(value: GramsPerThousandSeeds): SeedsPerPound {
  return seedsPerPound((1000 * unitSize.pound) / checkedThousandSeedWeight(value));
}

/** Mean mass of one seed, grams, from a thousand-seed weight of 0.01 to 5000 g. @throws DomainError out of that range. */
export function seedMass(value: GramsPerThousandSeeds): Grams {
  return grams(checkedThousandSeedWeight(value) / 1000);
}
