import type { CellTrace, Level } from './cell-trace.ts';

/**
 * A scale that shakes too much to judge a run by: its single readings scatter by more than a third of what a turn gives, and by more
 * than landing seed explains. What rings down is a knock and no shaking.
 */

const batchesLooked = 12;
const mostShareOfTurn = 1 / 3;
/** What the wheel of a sound stand may rattle into a cell, grams. Common practice, no source. */
const leastGrams = 0.4;
/** Variance that landing seed gives per grams² of lumpiness x flow: springs of 4 to 9 Hz, falls of half a metre. Drawn from the imagined drill. */
const impactsFactor = 10;

/** Standard deviation of single readings above which a cell is too noisy, grams. `gramsPerSecond`: of seed arriving. */
export function noiseLimit(gramsPerTurn: number, lump: number, gramsPerSecond: number): number {
  const share = Math.max(mostShareOfTurn * gramsPerTurn, leastGrams);
  return Math.hypot(share, Math.sqrt(impactsFactor * lump * gramsPerSecond));
}

const mean = (levels: readonly Level[]): number =>
  levels.reduce((sum, level) => sum + level.scatter, 0) / levels.length;

/** Standard deviation of the newest second's readings about their course, grams, when it is above `limit` and steady; else null. */
export function noiseBeyond(cell: CellTrace, limit: number): number | null {
  const newest = cell.levels.slice(-batchesLooked);
  if (newest.length < batchesLooked) {
    return null;
  }
  const variance = mean(newest);
  const most = newest.filter((level) => level.scatter > limit ** 2 / 3).length >= batchesLooked - 2;
  const steady = mean(newest.slice(-4)) > 0.45 * mean(newest.slice(0, 4));
  return variance > limit ** 2 && most && steady ? Math.sqrt(variance) : null;
}

/** True when the noise has gone down again. */
export function isQuietAgain(cell: CellTrace, limit: number): boolean {
  const newest = cell.levels.slice(-batchesLooked);
  return newest.length === batchesLooked && mean(newest) < (limit / 2) ** 2;
}
