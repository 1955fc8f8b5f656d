import { checked } from './error.ts';
import { checkedGeometry, type DrillGeometry, rateFromCatch } from './geometry.ts';
import { combineDoubts, type Doubt, halfWidthOfAll } from './statistics.ts';
import { type Grams, type GramsPerSquareMetre, grams, type Turns, turns } from './units.ts';

/** What makes a rate from a catch uncertain. */
export const budgetParts = [
  'weighing', // tare and final weight: noise and drift
  'scale', // slope of the scale
  'turns', // where between two pulses the wheel stood at start and end
  'circumference',
  'row-spacing',
  'slip',
  'seed-sampling', // seeds come in lumps
  'repeatability', // the metering does not give the same twice
] as const;
/** The name of one thing that makes a rate uncertain. */
export type BudgetPartName = (typeof budgetParts)[number];

/** Parts that are the same in all runs on one drill and stand: they cancel where settings are compared, not in the field. */
const commonParts: ReadonlySet<BudgetPartName> = new Set(['scale', 'circumference', 'row-spacing', 'slip']);

/** One part of an uncertainty budget. */
export interface BudgetPart {
  part: BudgetPartName;
  /** Relative standard uncertainty that this part alone gives the rate, 0 or more. */
  relative: number;
  /** More than 0; Infinity where the doubt is taken as known. */
  degreesOfFreedom: number;
  /** Same in all runs on this drill. */
  common: boolean;
}

/** Standard uncertainties of the drill's figures, each 0 or more: metres, metres, fraction of the way. */
export interface GeometryDoubts {
  circumference: number;
  rowSpacing: number;
  slip: number;
}

/** A catch as weighed and counted, and what is known of its doubts. All doubts are standard uncertainties, 0 or more. */
export interface CatchFigures {
  caught: Grams;
  /** Of the difference of the two weighings, grams. */
  weighing: Doubt;
  /** Relative doubt of the scale's slope. */
  scaleSlope: number;
  turns: Turns;
  turnsDoubt: number;
  /** As `lumpiness` gives it. */
  lumpiness: Grams;
  /** Relative standard deviation from run to run beyond seed sampling. */
  repeatability: number;
}

function part(
  name: BudgetPartName,
  relative: number,
  degreesOfFreedom = Number.POSITIVE_INFINITY,
): BudgetPart {
  return { part: name, relative, degreesOfFreedom, common: commonParts.has(name) };
}

/**
 * Parts that the drill's own figures give any rate: relative u(C)/C, u(s)/s, u(q)/(1 - q). Source: JCGM 100:2008, 5.1.6.
 * @throws DomainError for a geometry that cannot be, or a doubt below 0.
 */
export function geometryParts(geometry: DrillGeometry, doubts: GeometryDoubts): BudgetPart[] {
  checkedGeometry(geometry);
  checked(doubts.circumference, { least: 0 }, 'The doubt of the circumference', 'circumference');
  checked(doubts.rowSpacing, { least: 0 }, 'The doubt of the row spacing', 'rowSpacing');
  checked(doubts.slip, { least: 0 }, 'The doubt of the slip', 'slip');
  return [
    part('circumference', doubts.circumference / geometry.circumference),
    part('row-spacing', doubts.rowSpacing / geometry.rowSpacing),
    part('slip', doubts.slip / (1 - geometry.slip)),
  ];
}

/**
 * Variance of a catch per gram caught when seeds arrive independently: mu (1 + cv²), mu the mass-weighted mean mass of one seed
 * (sum of share x thousand-seed weight / 1000, grams), cv the relative spread of single seeds within their species. Grams.
 * Source: compound Poisson process, var(m) = m E[mass²] / E[mass], over the seeds by number.
 * @throws DomainError for a mass that is not more than 0, or a spread below 0.
 */
export function lumpiness(seedMass: Grams, seedMassSpread: number): Grams {
  checked(seedMass, { above: 0 }, 'The mass of a seed', 'seedMass');
  checked(seedMassSpread, { least: 0 }, 'The spread of seed masses', 'seedMassSpread');
  return grams(seedMass * (1 + seedMassSpread ** 2));
}

/**
 * The parts of the doubt of the rate that a catch gives. Mass and turns must be more than 0.
 * Source: law of propagation of uncertainty, JCGM 100:2008, 5.1.2 and 5.1.6 (independent inputs, a product of powers).
 * @throws DomainError when the catch or the geometry cannot carry a rate.
 */
export function catchBudget(
  geometry: DrillGeometry,
  doubts: GeometryDoubts,
  figures: CatchFigures,
): BudgetPart[] {
  const caught = checked(figures.caught, { above: 0 }, 'The catch', 'caught');
  const count = checked(figures.turns, { above: 0 }, 'The number of turns', 'turns');
  return [
    part('weighing', figures.weighing.standard / caught, figures.weighing.degreesOfFreedom),
    part('scale', figures.scaleSlope),
    part('turns', figures.turnsDoubt / count),
    ...geometryParts(geometry, doubts),
    part('seed-sampling', Math.sqrt(figures.lumpiness / caught)),
    part('repeatability', figures.repeatability),
  ];
}

/** A rate as it forms while the wheel turns, with the parts of its slope's doubt. Grams per turn; standard uncertainties. */
export interface SlopeFigures {
  gramsPerTurn: number;
  /** Of the slope through weighing noise alone, grams per turn. */
  weighing: number;
  /** Of the slope through the lumpiness of seeds alone, grams per turn. */
  seeds: number;
  /** Of both. */
  degreesOfFreedom: number;
  /** Relative doubt of the count of turns; 0 while the wheel turns. */
  turnsShare: number;
  scaleSlope: number;
  repeatability: number;
}

/**
 * The parts of the doubt of a rate that comes from the slope of mass against turns. Slope more than 0.
 * Source: JCGM 100:2008, 5.1.6.
 * @throws DomainError for a slope that is not more than 0 or a geometry that cannot be.
 */
export function slopeBudget(
  geometry: DrillGeometry,
  doubts: GeometryDoubts,
  slope: SlopeFigures,
): BudgetPart[] {
  const gramsPerTurn = checked(slope.gramsPerTurn, { above: 0 }, 'The catch per turn', 'gramsPerTurn');
  return [
    part('weighing', slope.weighing / gramsPerTurn, slope.degreesOfFreedom),
    part('scale', slope.scaleSlope),
    part('turns', slope.turnsShare),
    ...geometryParts(geometry, doubts),
    part('seed-sampling', slope.seeds / gramsPerTurn, slope.degreesOfFreedom),
    part('repeatability', slope.repeatability),
  ];
}

/**
 * All parts together, or only those common to all runs, or only those that differ from run to run: relative standard uncertainty with its
 * effective degrees of freedom; 0 for no parts. Source: JCGM 100:2008, 5.1.2 and G.4.1.
 */
export function combinedParts(parts: readonly BudgetPart[], which: 'all' | 'common' | 'run' = 'all'): Doubt {
  const chosen = parts.filter((each) => which === 'all' || each.common === (which === 'common'));
  if (chosen.length === 0) {
    return { standard: 0, degreesOfFreedom: Number.POSITIVE_INFINITY };
  }
  return combineDoubts(doubtsOf(chosen));
}

/** The parts as bare doubts, relative. */
export function doubtsOf(parts: readonly BudgetPart[]): Doubt[] {
  return parts.map((each) => ({ standard: each.relative, degreesOfFreedom: each.degreesOfFreedom }));
}

/** The part that weighs most: what to measure better first. Null for an empty budget or one without any doubt. */
export function largestPart(parts: readonly BudgetPart[]): BudgetPart | null {
  const largest = parts.reduce<BudgetPart | null>(
    (most, each) => (most !== null && most.relative >= each.relative ? most : each),
    null,
  );
  return largest !== null && largest.relative > 0 ? largest : null;
}

/** A rate with its doubt, grams per square metre. */
export interface RateInterval {
  gramsPerSquareMetre: number;
  standardDoubt: number;
  low: number;
  high: number;
}

/**
 * `rate` (g/m²) with the interval that holds the true rate with the given `confidence` (above 0, below 1). The lower end never falls below 0.
 * Source: JCGM 100:2008, G.4.1.
 * @throws DomainError for a confidence out of range.
 */
export function rateInterval(
  rate: GramsPerSquareMetre,
  parts: readonly BudgetPart[],
  confidence = 0.95,
): RateInterval {
  const relative = combinedParts(parts);
  const half = parts.length === 0 ? 0 : rate * halfWidthOfAll(doubtsOf(parts), confidence);
  return {
    gramsPerSquareMetre: rate,
    standardDoubt: rate * relative.standard,
    low: Math.max(0, rate - half),
    high: rate + half,
  };
}

/** Rate that a slope of mass against turns stands for: the rate of one turn. @throws DomainError for a geometry that cannot be. */
export function rateFromSlope(geometry: DrillGeometry, gramsPerTurn: Grams): GramsPerSquareMetre {
  return rateFromCatch(geometry, turns(1), gramsPerTurn);
}
