import type { Batch } from './batch.ts';
import type { Instant } from './finding.ts';
import type { TraceKnowledge } from './reading.ts';

/** What is kept of one load cell: its newest levels, its noise, what it catches per turn, and where the detectors stand. */

/** A cell at one batch, with what hands and steps put on it taken away. */
export interface Level {
  seconds: number;
  turns: number;
  /** Turns whose seed has landed. */
  landed: number;
  grams: number;
  /** Mean of this and the two batches before; null within three batches of a shake or a gap. */
  smooth: number | null;
  scatter: number;
}

/** A level whose smooth grams are known. */
export type Smooth = Level & { smooth: number };

/** Levels kept: long enough to leave the newest second and a half out of what the rate is learnt from. */
export const levelsKept = 24;

/** A variance learnt as it goes, grams², and the batches that it stands on. */
export interface Learnt {
  variance: number;
  count: number;
}

export interface Noise {
  /** Of single readings within a tenth of a second. */
  scatter: Learnt;
  /** Of the mean over three batches about its own slow course. */
  level: Learnt;
}

/** Batches in a row without a good value, or with always the same one. */
export interface Sight {
  blind: number;
  same: number;
  good: number;
  last: number | null;
  dead: boolean;
}

/** A cell being shaken: what it showed before, and whether it calms down. */
export interface Shake {
  before: Smooth;
  since: Instant;
  gate: number;
  batches: number;
  quiet: number;
  /** Sum of the scatter since, to learn from should it stay so. */
  sum: number;
}

/** A sum that grows while something is wrong, and where it last stood at nothing. Grams. */
export interface Cusum {
  grams: number;
  since: Smooth;
}

/** What the cell catches per turn: turns and grams of even flow, and how far they were added up. */
export interface Rate {
  turns: number;
  grams: number;
  newest: Smooth | null;
}

export interface CellTrace {
  /** Grams that hands and steps have put on the cell. */
  offset: number;
  sight: Sight;
  shake: Shake | null;
  levels: readonly Level[];
  moving: Noise;
  resting: Noise;
  /** Whether the wheel was at rest at the newest batch, and for how many batches it has been so or not. */
  atRest: boolean;
  batches: number;
  rate: Rate;
  /** The newest level before the wheel first moved. */
  start: Smooth | null;
  /** One for flow that ends, one for flow that is halved. */
  falls: readonly (Cusum | null)[];
  /** Where the flow is thought to have stopped; null while it flows. */
  stopped: Smooth | null;
  /** Less flows than at first, which has been said: grams a turn before that; null while it flows as ever. */
  full: number | null;
  rise: Cusum | null;
  leak: Cusum | null;
  leaking: boolean;
}

/** Weight of what was known before, in batches. */
const priorCount = 6;
/** Usual turns a second, for what is foretold of the noise before the wheel has moved. */
const usualTurnsPerSecond = 0.75;

/** A cell before its first batch. */
export function noCell(knowledge: TraceKnowledge): CellTrace {
  const { expectedGramsPerTurn, cells, lumpinessGrams, standingNoiseGrams } = knowledge;
  const still = standingNoiseGrams ** 2;
  const impacts = (lumpinessGrams * usualTurnsPerSecond * expectedGramsPerTurn) / cells;
  const noise = (scatter: number, level: number): Noise => ({
    scatter: { variance: scatter, count: priorCount },
    level: { variance: level, count: priorCount },
  });
  return {
    offset: 0,
    sight: { blind: 0, same: 0, good: 0, last: null, dead: false },
    shake: null,
    levels: [],
    moving: noise(still + 0.02 + impacts, 0.02 + 0.3 * impacts),
    resting: noise(still, still / 24),
    atRest: true,
    batches: 0,
    rate: { turns: 0, grams: 0, newest: null },
    start: null,
    falls: [null, null],
    stopped: null,
    full: null,
    rise: null,
    leak: null,
    leaking: false,
  };
}

export const noiseOf = (cell: CellTrace): Noise => (cell.atRest ? cell.resting : cell.moving);

/** Standard deviation of a smooth level, grams. */
export const levelNoise = (cell: CellTrace): number => Math.sqrt(noiseOf(cell).level.variance);

export const isSmooth = (level: Level | undefined): level is Smooth =>
  level !== undefined && level.smooth !== null;

/** The newest smooth level but for the `skip` newest batches; null when there is none. */
export function smoothBefore(levels: readonly Level[], skip: number): Smooth | null {
  for (let i = levels.length - 1 - skip; i >= 0; i--) {
    const level = levels[i];
    if (isSmooth(level)) {
      return level;
    }
  }
  return null;
}

/** Turns for which the expected rate counts, against those of the run itself. */
const priorTurns = 0.5;

/** Grams a turn that the cell catches, from the run and, early, from what was expected. More than 0. */
export function gramsPerTurnOf(cell: CellTrace, knowledge: TraceKnowledge): number {
  const expected = knowledge.expectedGramsPerTurn / knowledge.cells;
  const { turns, grams } = cell.rate;
  return Math.max(0.02 * expected, (priorTurns * expected + grams) / (priorTurns + turns));
}

/** A variance with one more squared deviation, which counts for nine times the variance at most. */
export function learn({ variance, count }: Learnt, squared: number, most: number): Learnt {
  const next = Math.min(count + 1, most);
  return { variance: variance + (Math.min(squared, 9 * variance) - variance) / next, count: next };
}

/** The cell with the batch's level appended; `grams` as the cell showed it. */
export function withLevel(
  cell: CellTrace,
  batch: Batch,
  grams: number,
  scatter: number,
  calm: boolean,
): CellTrace {
  const { seconds, turns, landed } = batch;
  const { levels } = cell;
  const clean = grams - cell.offset;
  const one = levels[levels.length - 1];
  const two = levels[levels.length - 2];
  const joined = calm && one !== undefined && two !== undefined && seconds - two.seconds < 0.35;
  const smooth = joined ? (clean + one.grams + two.grams) / 3 : null;
  const level = { seconds, turns, landed, grams: clean, smooth, scatter };
  return { ...cell, levels: [...levels.slice(1 - levelsKept), level] };
}
