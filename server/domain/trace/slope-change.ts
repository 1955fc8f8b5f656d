/**
 * Whether the catch per turn has changed over the run, from points of turns and grams: against an even slope, a bend (one slope, then
 * another) and a trend (a slope that creeps). The catch is a random walk about its slope, of variance lumpiness x grams, and each
 * point carries the scale's own noise; how much of the former comes out of the points themselves, starting from what was known.
 * Generalised likelihood ratio for a change at an unknown place: any textbook of change detection (from memory).
 */

export interface SlopePoint {
  turns: number;
  grams: number;
}

/** A bend of the slope: at which point, from and to how many grams a turn, and its size over its standard deviation. */
export interface Bend {
  at: number;
  before: number;
  after: number;
  sigmas: number;
}

/** A creeping slope: its change from the first to the last point relative to its mean, and over its standard deviation. */
export interface Trend {
  change: number;
  sigmas: number;
}

/** The doubt known before counts for as much as so many steps of the run. */
const priorSteps = 12;
/** Fewest points, and turns on either side of a bend. */
const fewestPoints = 5;
const fewestTurns = 0.9;

/** Null while there are too few points or nothing was caught. `scaleVariance`: of a point's own noise, grams². */
export function slopeChange(
  points: readonly SlopePoint[],
  lumpiness: number,
  scaleVariance: number,
): { bend: Bend | null; trend: Trend; lumps: number } | null {
  const first = points[0];
  const last = points[points.length - 1];
  if (first === undefined || last === undefined || points.length < fewestPoints) {
    return null;
  }
  const slope = (last.grams - first.grams) / (last.turns - first.turns);
  if (!(slope > 0)) {
    return null;
  }
  const lumps = lumpiness * slope * dispersion(points, slope, lumpiness * slope, scaleVariance);
  return {
    bend: sharpestBend(points, lumps, scaleVariance),
    trend: trendOf(points, slope, lumps, scaleVariance),
    lumps,
  };
}

/** Variance of the steps from point to point over what was foretold, drawn towards 1. */
function dispersion(
  points: readonly SlopePoint[],
  slope: number,
  lumps: number,
  scaleVariance: number,
): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++) {
    const turns = points[i]!.turns - points[i - 1]!.turns;
    const off = points[i]!.grams - points[i - 1]!.grams - slope * turns;
    sum += off ** 2 / (lumps * turns + 2 * scaleVariance);
  }
  return (priorSteps + sum) / (priorSteps + points.length - 1);
}

function sharpestBend(points: readonly SlopePoint[], lumps: number, scaleVariance: number): Bend | null {
  const first = points[0]!;
  const last = points[points.length - 1]!;
  let sharpest: Bend | null = null;
  for (let at = 1; at < points.length - 1; at++) {
    const middle = points[at]!;
    const early = middle.turns - first.turns;
    const late = last.turns - middle.turns;
    if (early < fewestTurns || late < fewestTurns) {
      continue;
    }
    const before = (middle.grams - first.grams) / early;
    const after = (last.grams - middle.grams) / late;
    const inverse = 1 / early + 1 / late;
    const variance = lumps * inverse + scaleVariance * (1 / early ** 2 + 1 / late ** 2 + inverse ** 2);
    const sigmas = (after - before) / Math.sqrt(variance);
    if (sharpest === null || Math.abs(sigmas) > Math.abs(sharpest.sigmas)) {
      sharpest = { at, before, after, sigmas };
    }
  }
  return sharpest;
}

/** Least squares of the slope of each step against where it lies, each weighed by its turns. */
function trendOf(points: readonly SlopePoint[], slope: number, lumps: number, scaleVariance: number): Trend {
  const first = points[0]!;
  const last = points[points.length - 1]!;
  const span = last.turns - first.turns;
  const centre = (first.turns + last.turns) / 2;
  let product = 0;
  let square = 0;
  for (let i = 1; i < points.length; i++) {
    const turns = points[i]!.turns - points[i - 1]!.turns;
    const off = (points[i]!.turns + points[i - 1]!.turns) / 2 - centre;
    product += off * (points[i]!.grams - points[i - 1]!.grams - slope * turns);
    square += off ** 2 * turns;
  }
  const perTurn = product / square;
  // The points' own noise telescopes: what is left of it lies at both ends, and one step's worth at each point between.
  const ends = scaleVariance * (span ** 2 / 2 + points.length * (span / points.length) ** 2);
  return {
    change: (perTurn * span) / slope,
    sigmas: product / Math.sqrt(lumps * square + ends),
  };
}
