import {
  type CellTrace,
  type Cusum,
  gramsPerTurnOf,
  levelNoise,
  type Smooth,
  smoothBefore,
} from './cell-trace.ts';
import type { TraceKnowledge } from './reading.ts';

/**
 * Whether seed comes as it did. Cumulative sums after E. S. Page, Biometrika 41 (1954) 100-115: for seeds that arrive independently
 * (compound Poisson), the likelihood ratio of a flow of the share `s` against a full one grows by (1 - s) for each gram that should
 * have come and falls by ln(1/s) for each gram that did, both over the lumpiness; so in grams the sum grows by the `allowed` share
 * (1 - s) / ln(1/s) of what should have come, less what did, and the threshold is lumpiness x ln(1/false) / ln(1/s), and what the
 * scale's own noise may add.
 */

const falseChance = 5e-6;
const kinds = [0.15, 0.5].map((share) => ({
  allowed: (1 - share) / Math.log(1 / share),
  steepness: Math.log(1 / share),
}));

/**
 * What such a sum exceeds by chance: lumps alone have an exponential tail, of `steepness` over the lumpiness; the scale's noise at
 * both ends broadens it, or rules it. The tail of an exponential and a normal variate together (Chernoff's bound).
 */
function threshold(steepness: number, lump: number, noise: number): number {
  const odds = Math.log(1 / falseChance);
  const rate = steepness / lump;
  const both = odds / rate + rate * noise ** 2;
  return 2 * rate * noise ** 2 < both ? both : 2 * noise * Math.sqrt(odds);
}

/** Turns of the run that the rate must stand on before a fall from it can be told. */
const fewestTurns = 0.7;
/** The usual rate is that of about so many turns. */
const usualTurns = 12;
/** Fall and response differ from what was taken for granted: turns' worth of seed that may be late. */
const lateTurns = 0.08;
/** Even flow is there once so many turns have landed. */
const onsetTurns = 0.6;
/** The newest second and a half is left out of the rate: a fall in it has not been seen yet. */
const delayBatches = 15;

/** The cell after one more calm batch while the wheel moves, its level appended. */
export function watchFlow(cell: CellTrace, knowledge: TraceKnowledge): CellTrace {
  const now = cell.levels[cell.levels.length - 1]!;
  const before = smoothBefore(cell.levels, 1);
  if (now.smooth === null || before === null) {
    return cell;
  }
  const here = now as Smooth;
  if (cell.stopped !== null) {
    return watchReturn(cell, before, here, knowledge);
  }
  const learnt = learnRate(cell);
  if (learnt.rate.turns < fewestTurns) {
    return nothingCame(learnt, here, knowledge) ? stoppedAt(learnt, learnt.start!) : learnt;
  }
  return watchFalls(learnt, before, here, knowledge);
}

function watchFalls(cell: CellTrace, before: Smooth, now: Smooth, knowledge: TraceKnowledge): CellTrace {
  const gramsPerTurn = gramsPerTurnOf(cell, knowledge);
  const due = gramsPerTurn * (now.landed - before.landed);
  const came = now.smooth - before.smooth;
  const noise = levelNoise(cell);
  const falls = kinds.map(({ allowed }, i) => grown(cell.falls[i]!, allowed * due - came, now));
  const fallen = falls.find(
    (fall, i) =>
      fall !== null &&
      fall.grams > threshold(kinds[i]!.steepness, knowledge.lumpinessGrams, noise) + lateTurns * gramsPerTurn,
  );
  const next = { ...cell, falls };
  return fallen ? stoppedAt(next, fallen.since) : next;
}

/** A cumulative sum with one more addend; null at nothing. */
function grown(sum: Cusum | null, addend: number, now: Smooth): Cusum | null {
  const grams = (sum?.grams ?? 0) + addend;
  return grams > 0 ? { grams, since: sum?.since ?? now } : null;
}

const stoppedAt = (cell: CellTrace, since: Smooth): CellTrace => ({
  ...cell,
  stopped: since,
  falls: [null, null],
  rise: null,
  rate: { ...cell.rate, newest: null },
});

/** Adds what has come by a second and a half ago to the rate. */
function learnRate(cell: CellTrace): CellTrace {
  const { rate, start } = cell;
  const level = cell.levels[cell.levels.length - 1 - delayBatches];
  if (level === undefined || level.smooth === null) {
    return cell;
  }
  const smooth = level as Smooth;
  if (rate.newest === null) {
    const even = start === null || smooth.landed - start.landed >= onsetTurns;
    return even ? { ...cell, rate: { ...rate, newest: smooth } } : cell;
  }
  const turns = rate.turns + smooth.landed - rate.newest.landed;
  const grams = rate.grams + smooth.smooth - rate.newest.smooth;
  // What is long ago fades, so that a flow that creeps is no fall.
  const keep = Math.min(1, usualTurns / turns);
  return { ...cell, rate: { turns: keep * turns, grams: keep * grams, newest: smooth } };
}

/** Lowest share of the expected rate at which seed can be said to come at all, and what counts as nothing. */
const lowestShare = 0.45;
const nothingShare = 0.1;

const noiseSigmas = 3.2;

/** From the start on nothing has come, though even a third of the expected would show. */
function nothingCame(
  cell: CellTrace,
  now: Smooth,
  { expectedGramsPerTurn, cells, lumpinessGrams }: TraceKnowledge,
): boolean {
  const earlier = cell.levels[cell.levels.length - 3];
  if (cell.start === null || earlier === undefined) {
    return false;
  }
  const due = (expectedGramsPerTurn / cells) * (earlier.landed - cell.start.landed);
  const came = now.smooth - cell.start.smooth;
  const noise = levelNoise(cell);
  const enough = Math.max(noiseSigmas * noise, 8 * lumpinessGrams);
  return lowestShare * due > enough && came < nothingShare * due + noise * 0.5;
}

/** While nothing flows: has it come back? */
function watchReturn(cell: CellTrace, before: Smooth, now: Smooth, knowledge: TraceKnowledge): CellTrace {
  const gramsPerTurn = gramsPerTurnOf(cell, knowledge);
  const due = gramsPerTurn * (now.landed - before.landed);
  const rise = grown(cell.rise, now.smooth - before.smooth - 0.4 * due, now);
  const enough = 4 * knowledge.lumpinessGrams + noiseSigmas * Math.SQRT2 * levelNoise(cell);
  if (rise === null || rise.grams <= enough) {
    return { ...cell, rise };
  }
  // From now on as if the missing seed had come: the levels go on where they would be.
  const missing =
    gramsPerTurn * (rise.since.landed - cell.stopped!.landed) - (rise.since.smooth - cell.stopped!.smooth);
  return { ...cell, stopped: null, rise: null, levels: [], offset: cell.offset - missing };
}
