import { checked, DomainError } from './error.ts';
import {
  advancePerTurn,
  type DrillGeometry,
  targetCatch,
  testArea,
  turnsForArea,
  turnsForDistance,
} from './geometry.ts';
import {
  type Grams,
  type GramsPerSquareMetre,
  type Metres,
  metres,
  type SquareMetres,
  squareMetres,
  type Turns,
  turns,
  unitSize,
} from './units.ts';

/** How long a test lasts: turns of the wheel, a way over the ground, or an area that so many rows sow. */
export type TestLength =
  | { kind: 'turns'; turns: Turns }
  | { kind: 'distance'; distance: Metres }
  | {
      kind: 'area';
      area: SquareMetres;
      /** Rows that sow the area: all openers where the convention means the whole drill. Whole, 1 to 1000; left out: the rows caught. */
      rows?: number;
    };

const acre = (part: number): TestLength => ({ kind: 'area', area: squareMetres(unitSize.acre / part) });
const hectare = (part: number): TestLength => ({ kind: 'area', area: squareMetres(unitSize.hectare / part) });
const foot = (count: number): TestLength => ({ kind: 'distance', distance: metres(count * unitSize.foot) });

/** The lengths in use. Sources for each in tests/published/test-length.test.ts; those without one are common practice. */
export const usualTestLengths = {
  '50 ft': foot(50),
  '100 ft': foot(100),
  '150 ft': foot(150),
  '50 m': { kind: 'distance', distance: metres(50) } as TestLength,
  '1/100 ac': acre(100),
  '1/25 ac': acre(25),
  '1/20 ac': acre(20),
  '1/10 ac': acre(10),
  '1/100 ha': hectare(100),
  '1/40 ha': hectare(40),
  '1/25 ha': hectare(25),
  '1/10 ha': hectare(10),
} as const;

/** A test as it will be run. */
export interface PlannedTest {
  turns: Turns;
  /** The turns that the wanted length asks for; other than `turns` only where whole turns were wished. */
  exactTurns: Turns;
  /** Ground that the wheel stands for. */
  distance: Metres;
  /** Ground that the rows caught stand for. */
  area: SquareMetres;
  /** Catch of all rows caught at the wanted rate over `turns`, not over `exactTurns`. */
  targetCatch: Grams;
}

/** More turns than anyone makes for one test. */
const mostTurns = 100_000;

/**
 * Turns, fractions and all, that a test of `length` takes on this drill.
 * @throws DomainError for a length that is not more than 0 or takes more than 100 000 turns, or a geometry that cannot be.
 */
export function turnsForTest(geometry: DrillGeometry, length: TestLength): Turns {
  const count = exactTurns(geometry, length);
  if (count > mostTurns) {
    throw new DomainError(
      'out-of-range',
      `The test would take ${Math.round(count)} turns: shorten it, or check row spacing and circumference.`,
      'length',
    );
  }
  return count;
}

function exactTurns(geometry: DrillGeometry, length: TestLength): Turns {
  if (length.kind === 'turns') {
    checked(length.turns, { above: 0 }, 'The number of turns', 'turns');
    return length.turns;
  }
  if (length.kind === 'distance') {
    return turnsForDistance(geometry, length.distance);
  }
  const rows = checked(
    length.rows ?? geometry.rowsCaught,
    { least: 1, most: 1000, whole: true },
    'The number of rows that sow the area',
    'rows',
  );
  return turnsForArea({ ...geometry, rowsCaught: rows }, length.area);
}

/**
 * A test of `length` at the wanted `rate` (0 or more). With `wholeTurns` the turns are rounded to the nearest whole one, at least 1, and
 * distance, area and target catch follow the turns, so that the rounding costs nothing.
 * @throws DomainError as `turnsForTest`, or for a rate below 0.
 */
export function planTest(
  geometry: DrillGeometry,
  length: TestLength,
  rate: GramsPerSquareMetre,
  wholeTurns: boolean,
): PlannedTest {
  const exact = turnsForTest(geometry, length);
  const count = wholeTurns ? turns(Math.max(1, Math.round(exact))) : exact;
  return {
    turns: count,
    exactTurns: exact,
    distance: metres(count * advancePerTurn(geometry)),
    area: testArea(geometry, count),
    targetCatch: targetCatch(geometry, count, rate),
  };
}
