import type { GramsPerLitre } from './bulk-density.ts';
import { checked, DomainError } from './error.ts';
import { bulkRateFromLive, checkedRate, liveRateFromBulk, type SeedLot } from './seed-lot.ts';
import * as seed from './seed-units.ts';
import {
  liveSeedsFromRate,
  plantsFromRate,
  rateFromLiveSeeds,
  rateFromPlants,
  seedsPerRowFromSquareMetre,
  seedsPerSquareMetreFromRow,
} from './seeding-target.ts';
import {
  type GramsPerSquareMetre,
  gramsPerSquareMetreFromKilogramsPerHectare,
  gramsPerSquareMetreFromPoundsPerAcre,
  kilogramsPerHectare,
  kilogramsPerHectareFromGramsPerSquareMetre,
  type Metres,
  poundsPerAcre,
  poundsPerAcreFromGramsPerSquareMetre,
} from './units.ts';
import * as volume from './volume-rate.ts';

/** Every unit in which people state how much to sow, behind one pair of functions. Inside, a target is a rate of seed from the bag. */

/** What some units need besides the figure. */
export interface Sowing {
  /** The lot to be sown: seed weight, purity, germination. */
  lot: SeedLot;
  /** Distance between neighbouring rows, above 0 to 5 m: for seeds or plants a length of row. */
  rowSpacing: Metres;
  /** Share of the live seeds that become plants, above 0 to 1: for plants an area. */
  establishment: number;
  /** Bulk density of the lot, or the trade's, 20 to 1500 g/L, null where unknown: for bushels an acre. */
  density: GramsPerLitre | null;
}

interface Way {
  rate(figure: number, sowing: Sowing): GramsPerSquareMetre;
  figure(rate: GramsPerSquareMetre, sowing: Sowing): number;
}

function knownDensity({ density }: Sowing): GramsPerLitre {
  if (density === null) {
    throw new DomainError(
      'too-few',
      'A bushel is no mass by itself: enter the bulk density of the lot, or the pounds to the bushel that you mean.',
      'density',
    );
  }
  return density;
}

/** Seed from the bag, by mass. */
const ofMass = (way: {
  rate(figure: number): GramsPerSquareMetre;
  figure(rate: GramsPerSquareMetre): number;
}): Way => way;

/** Pure live seed by mass, where `way` is that of seed from the bag. */
const ofLiveSeed = (way: Way): Way => ({
  rate: (figure, sowing) => bulkRateFromLive(way.rate(figure, sowing), sowing.lot),
  figure: (rate, sowing) => way.figure(liveRateFromBulk(rate, sowing.lot), sowing),
});

/** Live seeds by number: `to` and `from` seeds a square metre. */
const ofSeeds = (
  to: (figure: number, sowing: Sowing) => seed.SeedsPerSquareMetre,
  from: (density: seed.SeedsPerSquareMetre, sowing: Sowing) => number,
): Way => ({
  rate: (figure, sowing) => rateFromLiveSeeds(to(figure, sowing), sowing.lot),
  figure: (rate, sowing) => from(liveSeedsFromRate(rate, sowing.lot), sowing),
});

/** Plants by number: `to` and `from` plants a square metre. */
const ofPlants = (
  to: (figure: number, sowing: Sowing) => seed.PlantsPerSquareMetre,
  from: (density: seed.PlantsPerSquareMetre, sowing: Sowing) => number,
): Way => ({
  rate: (figure, sowing) => rateFromPlants(to(figure, sowing), sowing.establishment, sowing.lot),
  figure: (rate, sowing) => from(plantsFromRate(rate, sowing.establishment, sowing.lot), sowing),
});

/** Plants in rows stand as seeds in rows lie. */
const plantsFromRow = (inRow: seed.SeedsPerRowMetre, { rowSpacing }: Sowing): seed.PlantsPerSquareMetre =>
  seed.plantsPerSquareMetre(seedsPerSquareMetreFromRow(inRow, rowSpacing));
const rowFromPlants = (density: seed.PlantsPerSquareMetre, { rowSpacing }: Sowing): seed.SeedsPerRowMetre =>
  seedsPerRowFromSquareMetre(seed.seedsPerSquareMetre(density), rowSpacing);

const kilograms = ofMass({
  rate: (figure) => gramsPerSquareMetreFromKilogramsPerHectare(kilogramsPerHectare(figure)),
  figure: kilogramsPerHectareFromGramsPerSquareMetre,
});
const pounds = ofMass({
  rate: (figure) => gramsPerSquareMetreFromPoundsPerAcre(poundsPerAcre(figure)),
  figure: poundsPerAcreFromGramsPerSquareMetre,
});

/** A stone of 14 lb, as rates are still spoken of in Ireland and Britain. */
const poundsPerStone = 14;
const stones = ofMass({
  rate: (figure) => gramsPerSquareMetreFromPoundsPerAcre(poundsPerAcre(poundsPerStone * figure)),
  figure: (rate) => poundsPerAcreFromGramsPerSquareMetre(rate) / poundsPerStone,
});

const ways = {
  'kg/ha': kilograms,
  'lb/ac': pounds,
  'st/ac': stones,
  'kg/ha live seed': ofLiveSeed(kilograms),
  'lb/ac live seed': ofLiveSeed(pounds),
  'US bu/ac': {
    rate: (figure, sowing) =>
      volume.rateFromUsBushelsPerAcre(volume.usBushelsPerAcre(figure), knownDensity(sowing)),
    figure: (rate, sowing) => volume.usBushelsPerAcreFromRate(rate, knownDensity(sowing)),
  },
  'imperial bu/ac': {
    rate: (figure, sowing) =>
      volume.rateFromImperialBushelsPerAcre(volume.imperialBushelsPerAcre(figure), knownDensity(sowing)),
    figure: (rate, sowing) => volume.imperialBushelsPerAcreFromRate(rate, knownDensity(sowing)),
  },
  'live seeds/m²': ofSeeds(seed.seedsPerSquareMetre, (density) => density),
  'live seeds/ha': ofSeeds(
    (figure) => seed.seedsPerSquareMetreFromHectare(seed.seedsPerHectare(figure)),
    seed.seedsPerHectareFromSquareMetre,
  ),
  'live seeds/ft²': ofSeeds(
    (figure) => seed.seedsPerSquareMetreFromSquareFoot(seed.seedsPerSquareFoot(figure)),
    seed.seedsPerSquareFootFromSquareMetre,
  ),
  'live seeds/ac': ofSeeds(
    (figure) => seed.seedsPerSquareMetreFromAcre(seed.seedsPerAcre(figure)),
    seed.seedsPerAcreFromSquareMetre,
  ),
  'live seeds/m of row': ofSeeds(
    (figure, { rowSpacing }) => seedsPerSquareMetreFromRow(seed.seedsPerRowMetre(figure), rowSpacing),
    (density, { rowSpacing }) => seedsPerRowFromSquareMetre(density, rowSpacing),
  ),
  'live seeds/ft of row': ofSeeds(
    (figure, { rowSpacing }) =>
      seedsPerSquareMetreFromRow(seed.seedsPerRowMetreFromRowFoot(seed.seedsPerRowFoot(figure)), rowSpacing),
    (density, { rowSpacing }) =>
      seed.seedsPerRowFootFromRowMetre(seedsPerRowFromSquareMetre(density, rowSpacing)),
  ),
  'plants/m²': ofPlants(seed.plantsPerSquareMetre, (density) => density),
  'plants/ha': ofPlants(
    (figure) => seed.plantsPerSquareMetreFromHectare(seed.plantsPerHectare(figure)),
    seed.plantsPerHectareFromSquareMetre,
  ),
  'plants/ft²': ofPlants(
    (figure) => seed.plantsPerSquareMetreFromSquareFoot(seed.plantsPerSquareFoot(figure)),
    seed.plantsPerSquareFootFromSquareMetre,
  ),
  'plants/yd²': ofPlants(
    (figure) => seed.plantsPerSquareMetreFromSquareYard(seed.plantsPerSquareYard(figure)),
    seed.plantsPerSquareYardFromSquareMetre,
  ),
  'plants/ac': ofPlants(
    (figure) => seed.plantsPerSquareMetreFromAcre(seed.plantsPerAcre(figure)),
    seed.plantsPerAcreFromSquareMetre,
  ),
  'plants/m of row': ofPlants(
    (figure, sowing) => plantsFromRow(seed.seedsPerRowMetre(figure), sowing),
    rowFromPlants,
  ),
  'plants/ft of row': ofPlants(
    (figure, sowing) => plantsFromRow(seed.seedsPerRowMetreFromRowFoot(seed.seedsPerRowFoot(figure)), sowing),
    (density, sowing) => seed.seedsPerRowFootFromRowMetre(rowFromPlants(density, sowing)),
  ),
} satisfies Record<string, Way>;

/** A unit that a target may be stated in. */
export type TargetUnit = keyof typeof ways;

/** All units that a target may be stated in, those by mass first. */
export const targetUnits = Object.keys(ways) as readonly TargetUnit[];

/**
 * Rate of seed from the bag (0 to 500 g/m²) that a target of `figure` in `unit` asks for, from 0.
 * Sources: with the conversions that it goes through (units, seed-units, volume-rate, seed-lot, seeding-target).
 * @throws DomainError for a figure or a sowing out of range; `too-few` for bushels without a density.
 */
export function rateFromTarget(figure: number, unit: TargetUnit, sowing: Sowing): GramsPerSquareMetre {
  checked(figure, { least: 0 }, `The target in ${unit}`, 'figure');
  return checkedRate(ways[unit].rate(figure, sowing));
}

/**
 * The way back from `rateFromTarget`: what a rate of seed from the bag (0 to 500 g/m²) comes to in `unit`.
 * @throws DomainError for a rate or a sowing out of range; `too-few` for bushels without a density.
 */
export function targetFromRate(rate: GramsPerSquareMetre, unit: TargetUnit, sowing: Sowing): number {
  return ways[unit].figure(checkedRate(rate), sowing);
}
