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
  /** Way that the loaded drive wheel rolls in one turn, above 0 to 1000 m: a whole measured way may stand as one turn. */
  circumference: Metres;
  /** Distance between neighbouring rows, above 0 to 100 m: a drill's whole width may stand as one row. */
  rowSpacing: Metres;
  /** Rows whose seed is caught, a whole number from 1 to 1000. */
  rowsCaught: number;
  /** Fraction of the ground travel that the wheel does not roll, 0 to below 1. */
  slip: number;
}

/** Largest figures that are taken for meant. */
const most = {
  circumference: 1000,
  rowSpacing: 100,
  rows: 1000,
  turns: 1e7,
  rate: 500,
  distance: 1e6,
  area: 1e10,
};

/**
 * `geometry` itself when every figure of it can be worked with.
 * @throws DomainError with the field at fault.
 */
export function checkedGeometry(geometry: DrillGeometry): DrillGeometry {
  const { circumference, rowSpacing, rowsCaught, slip } = geometry;
  const width = { above: 0, most: most.rowSpacing };
  checked(
    circumference,
    { above: 0, most: most.circumference },
    'The wheel circumference in metres',
    'circumference',
  );
  checked(rowSpacing, width, 'The row spacing in metres', 'rowSpacing');
  checked(rowsCaught, { least: 1, most: most.rows, whole: true }, 'The number of rows caught', 'rowsCaught');
  checked(slip, { least: 0, below: 1 }, 'The wheel slip as a fraction', 'slip');
  return geometry;
}

/**
 * Ground covered while the wheel makes one turn: C / (1 - q).
 * Source: rolling without slip covers C; a wheel that skips the fraction q of the way rolls (1 - q) of it.
 * @throws DomainError for a geometry that cannot be.
 */
export function advancePerTurn(geometry: DrillGeometry): Metres {
  const { circumference, slip } = checkedGeometry(geometry);
  return metres(circumference / (1 - slip));
}

/**
 * Area that a test of `count` turns (0 to 10 000 000) stands for: A = N C s k / (1 - q).
 * Source: width of the rows caught times the way; the one formula that all published worked examples share
 * (tests/published/geometry.test.ts).
 * @throws DomainError for turns out of range or a geometry that cannot be.
 */
export function testArea(geometry: DrillGeometry, count: Turns): SquareMetres {
  checked(count, { least: 0, most: most.turns }, 'The number of turns', 'turns');
  return squareMetres(count * advancePerTurn(geometry) * geometry.rowSpacing * geometry.rowsCaught);
}

/**
 * Catch that `count` turns (0 to 10 000 000) should give at the wanted `rate` (0 to 500 g/m²): m = R A. Source: definition of a rate.
 * @throws DomainError for figures out of range or a geometry that cannot be.
 */
export function targetCatch(geometry: DrillGeometry, count: Turns, rate: GramsPerSquareMetre): Grams {
  checked(rate, { least: 0, most: most.rate }, 'The wanted rate in grams a square metre', 'rate');
  return grams(rate * testArea(geometry, count));
}

/**
 * Rate that a `caught` mass over `count` turns (above 0 to 10 000 000) stands for: R = m / A. The mass may be anything a scale shows, below
 * 0 too. Source: definition of a rate.
 * @throws DomainError for figures out of range or a geometry that cannot be.
 */
export function rateFromCatch(geometry: DrillGeometry, count: Turns, caught: Grams): GramsPerSquareMetre {
  checked(count, { above: 0 }, 'The number of turns', 'turns');
  return gramsPerSquareMetre(checked(caught, {}, 'The catch in grams', 'caught') / testArea(geometry, count));
}

/**
 * Turns for a fixed way over the ground (above 0 to 1 000 000 m), such as 100 ft or 50 m: N = d / advance.
 * @throws DomainError for a distance out of range or a geometry that cannot be.
 */
export function turnsForDistance(geometry: DrillGeometry, distance: Metres): Turns {
  checked(distance, { above: 0, most: most.distance }, 'The distance in metres', 'distance');
  return turns(distance / advancePerTurn(geometry));
}

/**
 * Turns for a fixed area (above 0 to 10 000 000 000 m²), such as 1/100 acre or 1/40 ha: N = A (1 - q) / (C s k).
 * @throws DomainError for an area out of range or a geometry that cannot be.
 */
export function turnsForArea(geometry: DrillGeometry, area: SquareMetres): Turns {
  checked(area, { above: 0, most: most.area }, 'The area in square metres', 'area');
  return turns(area / testArea(geometry, turns(1)));
}

/**
 * Circumference from a roll-out over `distance` (above 0 to 1 000 000 m) in `count` turns (above 0 to 10 000 000), or from turns counted in
 * the field over a measured way. Counted in the field it already holds slip and tyre squash: then use it with slip 0. With its doubt:
 * `rolledCircumference` and `countedCircumference`.
 * @throws DomainError for figures out of range.
 */
export function circumferenceFromRollOut(distance: Metres, count: Turns): Metres {
  checked(distance, { above: 0, most: most.distance }, 'The distance rolled in metres', 'distance');
  checked(count, { above: 0, most: most.turns }, 'The number of turns', 'turns');
  return metres(distance / count);
}

/**
 * Row spacing where the openers stand in staggered ranks: spacing within one rank (above 0 to 100 m) over the number of `ranks` (whole, 1
 * to 10). Source: each rank fills the gaps of the others evenly.
 * @throws DomainError for figures out of range.
 */
export function staggeredRowSpacing(withinRank: Metres, ranks: number): Metres {
  checked(
    withinRank,
    { above: 0, most: most.rowSpacing },
    'The spacing within a rank in metres',
    'withinRank',
  );
  checked(ranks, { least: 1, most: 10, whole: true }, 'The number of ranks', 'ranks');
  return metres(withinRank / ranks);
}

/**
 * Ground speed that turning the wheel at `speed` stands for, below 0 for backwards: advance x turns a second.
 * @throws DomainError for a speed that is no number or a geometry that cannot be.
 */
export function groundSpeed(geometry: DrillGeometry, speed: TurnsPerMinute): MetresPerSecond {
  return metresPerSecond(
    (checked(speed, {}, 'The speed of turning', 'speed') / 60) * advancePerTurn(geometry),
  );
}
