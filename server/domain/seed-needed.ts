import { type GramsPerLitre, type Litres, massOfVolume } from './bulk-density.ts';
import { checked } from './error.ts';
import { checkedRate } from './seed-lot.ts';
import {
  type Grams,
  type GramsPerSquareMetre,
  grams,
  type Metres,
  metres,
  type SquareMetres,
  squareMetres,
} from './units.ts';

/** How much seed a field takes, in bags, and how far a full hopper reaches. */

/** Largest area in one piece of work, m²: a million hectares. */
const mostArea = 1e10;

/**
 * Seed from the bag for an `area` (0 to 1e10 m²) at `rate` (0 to 500 g/m²), with `reserve` as a fraction on top (0 to 1: headlands,
 * overlap, what stays in the hopper): R A (1 + reserve).
 * @throws DomainError for figures out of range.
 */
export function seedForArea(rate: GramsPerSquareMetre, area: SquareMetres, reserve: number): Grams {
  checked(area, { least: 0, most: mostArea }, 'The area in square metres', 'area');
  checked(reserve, { least: 0, most: 1 }, 'The reserve as a fraction', 'reserve');
  return grams(checkedRate(rate) * area * (1 + reserve));
}

/** Bags to fetch. */
export interface Bags {
  /** Whole bags that cover the need. */
  bags: number;
  /** Seed in them beyond the need. */
  left: Grams;
}

/** A need may pass full bags by so little without another bag: it is a rounding of the machine, not seed. */
const crumb = 1e-9;

/**
 * Whole bags of `bagMass` (above 0 to 10 000 000 g) that hold the `needed` seed (from 0).
 * @throws DomainError for figures out of range.
 */
export function bagsFor(needed: Grams, bagMass: Grams): Bags {
  checked(needed, { least: 0 }, 'The seed needed', 'needed');
  checked(bagMass, { above: 0, most: 1e7 }, 'The mass of a bag in grams', 'bagMass');
  const bags = Math.ceil((needed / bagMass) * (1 - crumb));
  return { bags, left: grams(Math.max(0, bags * bagMass - needed)) };
}

/** A hopper and what is in it. */
export interface Hopper {
  /** What it holds when full, 0 to 1 000 000 L. */
  volume: Litres;
  /** Bulk density of the seed, 20 to 1500 g/L. */
  density: GramsPerLitre;
  /** Share of the volume kept back so that no row runs dry, 0 to below 1. */
  keepBack: number;
}

/** How far a full hopper reaches. */
export interface Reach {
  seed: Grams;
  area: SquareMetres;
  distance: Metres;
}

/**
 * What a full `hopper` sows at `rate` (above 0 to 500 g/m²) over the drill's working `width` (above 0 to 100 m) before it is down to
 * what is kept back: mass V rho (1 - keep back), area mass / R, distance area / width.
 * @throws DomainError for figures out of range.
 */
export function refillReach(hopper: Hopper, rate: GramsPerSquareMetre, width: Metres): Reach {
  checked(hopper.keepBack, { least: 0, below: 1 }, 'The share kept back', 'keepBack');
  checked(checkedRate(rate), { above: 0 }, 'The rate', 'rate');
  checked(width, { above: 0, most: 100 }, 'The working width in metres', 'width');
  const seed = grams(massOfVolume(hopper.volume, hopper.density) * (1 - hopper.keepBack));
  const area = squareMetres(seed / rate);
  return { seed, area, distance: metres(area / width) };
}
