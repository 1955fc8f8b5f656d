import type { Batch } from './batch.ts';
import {
  type CellTrace,
  gramsPerTurnOf,
  type Level,
  learn,
  type Noise,
  type Sight,
  smoothBefore,
  withLevel,
} from './cell-trace.ts';
import { watchFlow } from './flow.ts';
import { watchLeak } from './leak.ts';
import type { TraceKnowledge } from './reading.ts';
import { type Touch, watchShakes } from './shake.ts';

/** One cell through one batch: is it alive, is it shaken, how noisy is it, and then what falls into its bag. */

/** Batches without a value, or with always the same one, after which a cell counts as dead, and good ones after which it does not. */
const blindBatches = 3;
const sameBatches = 12;
const aliveBatches = 5;
/** A converter's own noise always shows: less than this, grams², is none. */
const noNoise = 1e-12;

/** Batches that a learnt variance stands on at most. */
const mostScatterBatches = 100;
const mostLevelBatches = 80;
/** The noise of the level is not learnt while the wheel comes to speed and the first seed arrives. */
const onsetBatches = 12;
/** Seed lands while the wheel's turns of half a second ago went by faster than this; before and after, its noise is not that of turning. */
const landingTurnsPerSecond = 0.05;

/** The cell after one more batch, `index` its place among the cells, and what hands were seen to do to its bag. */
export function stepCell(
  cell: CellTrace,
  batch: Batch,
  index: number,
  knowledge: TraceKnowledge,
): { cell: CellTrace; touch: Touch | null } {
  const grams = batch.grams[index] ?? null;
  const scatter = batch.scatter[index] ?? null;
  const sight = watchSight(cell.sight, grams, scatter);
  if (sight.dead) {
    const blank = { shake: null, levels: [], falls: [null, null], stopped: null, rise: null, leak: null };
    return { cell: { ...cell, ...blank, sight, leaking: false }, touch: null };
  }
  if (grams === null || scatter === null || sight.same > 0) {
    return { cell: { ...cell, sight }, touch: null };
  }
  const flows = batch.landing > landingTurnsPerSecond;
  const seen = { ...parted(cell, batch), sight, batches: cell.batches + (batch.atRest || flows ? 1 : 0) };
  const ready = turnedOrStopped(seen, batch.atRest);
  const lump = knowledge.lumpinessGrams;
  const context = { lump, gramsPerTurn: gramsPerTurnOf(ready, knowledge) };
  const own = withoutFlow(ready, batch, grams, scatter, context.gramsPerTurn);
  const { cell: watched, calm, touch } = watchShakes(ready, batch, grams, own, context);
  const levelled = withLevel(watched, batch, grams, own, calm);
  if (!calm) {
    return { cell: levelled, touch };
  }
  const learnt = batch.atRest || flows ? learnNoise(levelled) : levelled;
  return { cell: batch.atRest ? watchLeak(learnt, lump) : watchFlow(learnt, knowledge), touch };
}

/** Seconds without a batch after which what a cell shows is not held against what it showed before. */
const longestJoin = 0.5;

/** After a gap in the readings nobody saw when what came had come: what is being watched for begins anew, what is known stays. */
function parted(cell: CellTrace, batch: Batch): CellTrace {
  const last = cell.levels[cell.levels.length - 1];
  if (last === undefined || batch.seconds - last.seconds <= longestJoin) {
    return cell;
  }
  const { rate } = cell;
  const anew = { shake: null, levels: [], falls: [null, null], rise: null, leak: null };
  return { ...cell, ...anew, rate: { turns: rate.turns, grams: rate.grams, newest: null } };
}

/** The variance within a batch less what even flow gives: that of a ramp, a twelfth of its height squared. */
function withoutFlow(
  cell: CellTrace,
  batch: Batch,
  grams: number,
  scatter: number,
  gramsPerTurn: number,
): number {
  const last = cell.levels[cell.levels.length - 1];
  if (last === undefined) {
    return scatter;
  }
  const most = 1.5 * gramsPerTurn * Math.max(0, batch.landed - last.landed);
  const ramp = Math.min(most, Math.max(0, grams - cell.offset - last.grams));
  return Math.max(scatter / 4, scatter - ramp ** 2 / 12);
}

function watchSight(sight: Sight, grams: number | null, scatter: number | null): Sight {
  const blind = grams === null ? sight.blind + 1 : 0;
  const still =
    scatter !== null && scatter < noNoise && grams !== null && Math.abs(grams - (sight.last ?? grams)) < 1e-9;
  const same = still ? sight.same + 1 : grams === null ? sight.same : 0;
  const good = blind === 0 && same === 0 ? sight.good + 1 : 0;
  const dead = blind >= blindBatches || same >= sameBatches || (sight.dead && good < aliveBatches);
  return { blind, same, good, last: grams ?? sight.last, dead };
}

/** Takes note of the wheel's beginning to move or its coming to rest. */
function turnedOrStopped(cell: CellTrace, atRest: boolean): CellTrace {
  if (atRest === cell.atRest) {
    return cell;
  }
  const next = { ...cell, atRest, batches: 0, leak: null, leaking: false };
  if (!atRest) {
    return { ...next, start: cell.start ?? smoothBefore(cell.levels, 0) };
  }
  // The bag rings on for a while: what is known of its noise at rest holds loosely.
  const level = {
    variance: Math.max(cell.resting.level.variance, 0.1 * cell.moving.level.variance),
    count: 2,
  };
  return { ...next, falls: [null, null], resting: { scatter: { ...cell.resting.scatter, count: 2 }, level } };
}

/** The noise with the newest calm level taken in. */
function learnNoise(cell: CellTrace): CellTrace {
  const { levels } = cell;
  const now = levels[levels.length - 1]!;
  const noise = cell.atRest ? cell.resting : cell.moving;
  const scatter =
    cell.stopped === null ? learn(noise.scatter, now.scatter, mostScatterBatches) : noise.scatter;
  const bend = bendOf(now, levels[levels.length - 4], levels[levels.length - 7]);
  const settled = cell.atRest || cell.batches > onsetBatches;
  const level = bend !== null && settled ? learn(noise.level, bend ** 2 / 6, mostLevelBatches) : noise.level;
  const learnt: Noise = { scatter, level };
  return cell.atRest ? { ...cell, resting: learnt } : { ...cell, moving: learnt };
}

/** Second difference of three smooth levels that have no batch in common: even flow does not show in it, noise does with six times its variance. */
function bendOf(now: Level, before: Level | undefined, first: Level | undefined): number | null {
  if (now.smooth === null || before === undefined || first === undefined) {
    return null;
  }
  return before.smooth === null || first.smooth === null
    ? null
    : now.smooth - 2 * before.smooth + first.smooth;
}
