import { type Batch, batchSeconds } from './batch.ts';
import {
  type CellTrace,
  type Level,
  levelNoise,
  noiseOf,
  type Shake,
  type Smooth,
  smoothBefore,
} from './cell-trace.ts';
import type { Instant } from './finding.ts';

/**
 * Hands on the bag. A knock shakes the readings of a tenth of a second apart and leaves the level as it was; something laid on the
 * bag, or taken off, shifts the level for good. Seed landing shakes the bag too, so that a shake is only what is far beyond the
 * usual and beyond what a dozen seeds at once would do.
 */

/** What was found to have happened to the bag. `step`: grams by which the level has shifted for good, 0 after a knock. */
export interface Touch {
  from: Instant;
  until: Instant;
  step: number;
}

/** What a batch has shown of the cell's being shaken. */
export interface ShakeStep {
  cell: CellTrace;
  calm: boolean;
  touch: Touch | null;
}

/** Times the usual variance at which a batch counts as shaken; narrow-band noise has but two degrees of freedom in a batch: e^-16 is 1e-7. */
const shakenTimes = 24;
/** The same in the first batches after the wheel has begun to move, when little is known of its noise. */
const shakenTimesAtFirst = 60;
const firstBatches = 40;
/** Seeds landing at once that are not taken for a knock. */
const seedsAtOnce = 10;
const quietBatches = 3;
/** A shake that has not calmed down by then is how it is now. */
const longestShake = 15;
/** Unless it is still fading: a large knock on a bag with little damping. */
const fadingShare = 0.25;
const longestFade = 40;
/** Standard deviations by which the level must have shifted. */
const stepSigmas = 6;

const gateOf = (cell: CellTrace, lump: number): number =>
  (cell.atRest || cell.batches > firstBatches ? shakenTimes : shakenTimesAtFirst) *
    noiseOf(cell).scatter.variance +
  (seedsAtOnce * lump) ** 2;

/** The cell after one more batch, `grams` as the cell showed them; its level is not appended yet. */
export function watchShakes(
  cell: CellTrace,
  batch: Batch,
  grams: number,
  scatter: number,
  context: { lump: number; gramsPerTurn: number },
): ShakeStep {
  if (cell.shake === null) {
    const gate = gateOf(cell, context.lump);
    const before = scatter > gate ? smoothBefore(cell.levels, 1) : gentleStep(cell, batch, grams, context);
    if (before === null) {
      return { cell, calm: scatter <= gate, touch: null };
    }
    const since = { turns: batch.turns, seconds: batch.seconds };
    const shake = { before, since, gate, batches: 1, quiet: 0, sum: scatter };
    return { cell: { ...cell, shake }, calm: false, touch: null };
  }
  const shake = {
    ...cell.shake,
    batches: cell.shake.batches + 1,
    quiet: scatter < cell.shake.gate / 5 ? cell.shake.quiet + 1 : 0,
    sum: cell.shake.sum + scatter,
  };
  if (shake.quiet >= quietBatches) {
    return settled(cell, shake, batch, grams, context);
  }
  const fading = scatter < (fadingShare * shake.sum) / shake.batches && shake.batches < longestFade;
  if (shake.batches >= longestShake && !fading) {
    return { cell: { ...accustomed(cell, shake), shake: null }, calm: true, touch: null };
  }
  return { cell: { ...cell, shake }, calm: false, touch: null };
}

/** The level has gone up more than flow, or down more than no flow, can account for, without a shake: the level before, or null. */
function gentleStep(
  cell: CellTrace,
  batch: Batch,
  grams: number,
  { lump, gramsPerTurn }: { lump: number; gramsPerTurn: number },
): Smooth | null {
  const before = cell.levels[cell.levels.length - 8];
  const one = cell.levels[cell.levels.length - 1];
  const two = cell.levels[cell.levels.length - 2];
  if (
    before === undefined ||
    before.smooth === null ||
    one === undefined ||
    two === undefined ||
    cell.leaking
  ) {
    return null;
  }
  const now = (grams - cell.offset + one.grams + two.grams) / 3;
  const middle = cell.levels[cell.levels.length - 4];
  if (cell.atRest && creeps(before.smooth, middle?.smooth ?? null, now)) {
    return null;
  }
  const flow = gramsPerTurn * (batch.landed - before.landed);
  const noise = stepSigmas * 1.2 * Math.hypot(Math.SQRT2 * levelNoise(cell), Math.sqrt(lump * flow));
  const slack = noise + 10 * lump + (cell.atRest ? 0 : 0.15 * gramsPerTurn);
  const change = now - before.smooth;
  return change > 1.6 * flow + slack || change < -(0.6 * flow + slack) ? (before as Smooth) : null;
}

/** As much of a change in either half of it: that is seed running in, no step. */
function creeps(before: number, middle: number | null, now: number): boolean {
  const part = middle === null ? 0.5 : (middle - before) / (now - before);
  return part > 0.15 && part < 0.85;
}

/** Quiet again: has the level shifted? */
function settled(
  cell: CellTrace,
  shake: Shake,
  batch: Batch,
  grams: number,
  { lump, gramsPerTurn }: { lump: number; gramsPerTurn: number },
): ShakeStep {
  const newest = [grams - cell.offset, ...cell.levels.slice(1 - quietBatches).map((level) => level.grams)];
  const now = newest.reduce((sum, value) => sum + value, 0) / newest.length;
  const flow = gramsPerTurn * Math.max(0, batch.landed - shake.before.landed);
  const change = now - shake.before.smooth - flow;
  const noise = Math.hypot(Math.SQRT2 * levelNoise(cell), Math.sqrt(lump * flow), 0.1 * flow);
  const least = Math.max(stepSigmas * noise, 6 * lump);
  // Down by less than the flow may be seed that did not come.
  const shifted = (change > least && !runsIn(cell, shake, newest, change, batch)) || change < -(least + flow);
  const touch = {
    from: shake.since,
    until: { turns: batch.turns, seconds: batch.seconds },
    step: shifted ? change : 0,
  };
  const offset = cell.offset + touch.step;
  const levels = shifted
    ? cell.levels.map((level) => moved(level, touch.step, shake.since.seconds))
    : cell.levels;
  return { cell: { ...cell, offset, levels, shake: null }, calm: true, touch };
}

/** With the wheel at rest: still rising at the pace of the whole rise. */
function runsIn(
  cell: CellTrace,
  shake: Shake,
  newest: readonly number[],
  change: number,
  batch: Batch,
): boolean {
  const pace = change / (batch.seconds - shake.before.seconds);
  const now = (newest[0]! - newest[1]!) / (batchSeconds * (newest.length - 1));
  return cell.atRest && now > stillRising * pace;
}

const stillRising = 0.3;

const moved = (level: Level, step: number, since: number): Level =>
  level.seconds >= since ? { ...level, grams: level.grams - step } : level;

/** What was taken for a shake is how noisy it is now. */
function accustomed(cell: CellTrace, shake: Shake): CellTrace {
  const variance = shake.sum / shake.batches;
  const noise = noiseOf(cell);
  const learnt = {
    scatter: { variance, count: longestShake },
    level: { variance: Math.max(noise.level.variance, variance / 12), count: quietBatches },
  };
  return cell.atRest ? { ...cell, resting: learnt } : { ...cell, moving: learnt };
}
