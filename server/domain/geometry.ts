import { checked } from './error.ts';
import {
  type Grams,
  type GramsPerSquareMetre,
  grams,
  gramsPerSquareMetre,
  type Metres,
  type MetresPerSecond,
  metres,
  metresPerSecond,
  type SquareMetres,
  squareMetres,
  type Turns,
  type TurnsPerMinute,
  turns,
} from './units.ts';

/** What a turn of the drive wheel stands for in the field. */
export interface DrillGeometry {
  /** Way that the loaded drive wheel rolls in one turn, more than 0. */
  circumference: Metres;
  /** Distance between neighbouring rows, more than 0. */
  rowSpacing: Metres;
  /** Rows whose seed is caught, a whole number from 1. */
  rowsCaught: number;
  /** Fraction of the ground travel that the wheel does not roll, 0 to below 1. */
  slip: number;
}

/**
 * `geometry` itself when every figure of it can be worked with.
 * @throws DomainError with the field at fault.
 */
export function checkedGeometry(geometry: DrillGeometry): DrillGeometry {
  checked(geometry.circumference, { above: 0 }, 'The wheel circumference', 'circumference');
  checked(geometry.rowSpacing, { above: 0 }, 'The row spacing', 'rowSpacing');
  checked(geometry.rowsCaught, { least: 1 }, 'The number of rows caught', 'rowsCaught');
  checked(geometry.slip, { least: 0, below: 1 }, 'The wheel slip', 'slip');
  return geometry;
}

/**
 * Ground covered while the wheel makes one turn: C / (1 - q).
 * Source: rolling without slip covers C; a wheel that skips the fraction q of the way rolls (1 - q) of it.
 */
export function advancePerTurn(geometry: DrillGeometry): Metres {
  const { circumference, slip } = checkedGeometry(geometry);
  return metres(circumference / (1 - slip));
}

/**
 * Area that a test of `count` turns stands for: A = N C s k / (1 - q).
 * Source: width of the rows caught times the way; the one formula that all published worked examples share
 * (tests/published/geometry.test.ts).
 * @throws DomainError for turns below 0 or a geometry that cannot be.
 */
export function testArea(geometry: DrillGeometry, count: Turns): SquareMetres {
  checked(count, { least: 0 }, 'The number of turns', 'turns');
  return squareMetres(count * advancePerTurn(geometry) * geometry.rowSpacing * geometry.rowsCaught);
}

/** Catch that `count` turns should give at the wanted `rate`: m = R A. Rate 0 or more. */
export function targetCatch(geometry: DrillGeometry, count: Turns, rate: GramsPerSquareMetre): Grams {
  checked(rate, { least: 0 }, 'The wanted rate', 'rate');
  return grams(rate * testArea(geometry, count));
}

/** Rate that a `caught` mass over `count` turns stands for: R = m / A. Turns more than 0; the mass may be anything a scale shows. */
export function rateFromCatch(geometry: DrillGeometry, count: Turns, caught: Grams): GramsPerSquareMetre {
  checked(count, { above: 0 }, 'The number of turns', 'turns');
  return gramsPerSquareMetre(caught / testArea(geometry, count));
}

/** Turns for a fixed way over the ground, such as 100 ft or 50 m: N = d / advance. */
export function turnsForDistance(geometry: DrillGeometry, distance: Metres): Turns {
  checked(distance, { above: 0 }, 'The distance', 'distance');
  return turns(distance / advancePerTurn(geometry));
}

/** Turns for a fixed area, such as 1/100 acre or 1/40 ha: N = A (1 - q) / (C s k). */
export function turnsForArea(geometry: DrillGeometry, area: SquareMetres): Turns {
  checked(area, { above: 0 }, 'The area', 'area');
  return turns(area / testArea(geometry, turns(1)));
}

/**
 * Circumference from a roll-out or from turns counted in the field over a measured way. Counted in the field it already holds
 * slip and tyre squash: then use it with slip 0.
 */
export function circumferenceFromRollOut(distance: Metres, count: Turns): Metres {
  checked(distance, { above: 0 }, 'The distance rolled', 'distance');
  checked(count, { above: 0 }, 'The number of turns', 'turns');
  return metres(distance / count);
}

/** Row spacing where the openers stand in staggered ranks: spacing within one rank over the number of ranks (a whole number from 1). */
export function staggeredRowSpacing(withinRank: Metres, ranks: number): Metres {
  checked(withinRank, { above: 0 }, 'The spacing within a rank', 'withinRank');
  checked(ranks, { least: 1 }, 'The number of ranks', 'ranks');
  return metres(withinRank / ranks);
}

/** Ground speed that turning the wheel at `speed` stands for. */
export function groundSpeed(geometry: DrillGeometry, speed: TurnsPerMinute): MetresPerSecond {
  return metresPerSecond((speed / 60) * advancePerTurn(geometry));
}
