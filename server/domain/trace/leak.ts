import { type CellTrace, levelNoise, type Smooth, smoothBefore } from './cell-trace.ts';

/**
 * Seed that falls though the wheel stands: a cumulative sum of what the cell gains, less what its zero may wander. A seed or two that
 * were late are no leak.
 */

/** A zero wanders by less, grams a second. */
const wanderGramsPerSecond = 0.01;
const noiseSigmas = 4.5;
const lateSeeds = 2;

/** The cell after one more calm batch with the wheel at rest, its level appended. */
export function watchLeak(cell: CellTrace, lump: number): CellTrace {
  const now = cell.levels[cell.levels.length - 1]!;
  const before = smoothBefore(cell.levels, 1);
  if (now.smooth === null || before === null || cell.leaking) {
    return cell;
  }
  const gained = now.smooth - before.smooth - wanderGramsPerSecond * (now.seconds - before.seconds);
  const grams = (cell.leak?.grams ?? 0) + gained;
  const leak = grams > 0 ? { grams, since: cell.leak?.since ?? before } : null;
  const enough = noiseSigmas * Math.SQRT2 * levelNoise(cell) + lateSeeds * lump;
  return {
    ...cell,
    leak,
    leaking: leak !== null && leak.grams > enough && spread(leak.since, now as Smooth),
  };
}

/** Something that came all at once is no leak. */
const spread = (since: Smooth, now: Smooth): boolean => now.seconds - since.seconds >= 0.35;
