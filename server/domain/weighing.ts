import { combineDoubts, type Doubt } from './statistics.ts';

/** A load cell's straight line: grams = (count - zero) x gramsPerCount. The zero cancels where a tare is taken. */
export interface CellLine {
  gramsPerCount: number;
}

/** Largest count of a 24-bit converter either way; a value at either end may be anything beyond. */
const countLimits = { least: -8_388_608, most: 8_388_607 } as const;

/** True when the converter gave a value and that value lies inside its range. */
export function isGoodCount(count: number | null | undefined): count is number {
  return Number.isInteger(count) && count! > countLimits.least && count! < countLimits.most;
}

/**
 * Load on all cells together, grams, relative to the load at which they read `origin`. Null unless every cell has a good count.
 * One bag on several cells or one bag a cell: the sum is the same.
 */
export function gramsFromCounts(
  counts: readonly (number | null)[],
  origin: readonly number[],
  cells: readonly CellLine[],
): number | null {
  if (counts.length !== cells.length || origin.length !== cells.length) {
    return null;
  }
  let grams = 0;
  for (let index = 0; index < cells.length; index++) {
    const count = counts[index];
    if (!isGoodCount(count)) {
      return null;
    }
    grams += (count - origin[index]!) * cells[index]!.gramsPerCount;
  }
  return Number.isFinite(grams) ? grams : null;
}

/** Readings are gathered into short batches, and a weighing looks at the newest few of them: memory stays constant. */
const batchMicros = 100_000;
const mostBatches = 32;
/** Fewest batches that make a weighing: one second's worth. */
const fewestBatches = 10;

/** The mean of the readings that fell into one tenth of a second. */
interface Batch {
  seconds: number;
  grams: number;
}

/** The newest few seconds of a load that ought to stand still. */
export interface StillWindow {
  batches: readonly Batch[];
  /** The batch now filling. */
  open: { number: number; readings: number; seconds: number; grams: number } | null;
}

/** The window before the first reading. */
export const emptyWindow: StillWindow = { batches: [], open: null };

/** The window with one more reading: `micros` of board time, never going back, and `grams`. */
export function addToWindow(window: StillWindow, micros: number, grams: number): StillWindow {
  const number = Math.floor(micros / batchMicros);
  const seconds = micros / 1e6;
  const { open } = window;
  if (open !== null && open.number === number) {
    return {
      batches: window.batches,
      open: {
        number,
        readings: open.readings + 1,
        seconds: open.seconds + seconds,
        grams: open.grams + grams,
      },
    };
  }
  const fresh = { number, readings: 1, seconds, grams };
  if (open === null) {
    return { batches: window.batches, open: fresh };
  }
  const closed = { seconds: open.seconds / open.readings, grams: open.grams / open.readings };
  return { batches: [...window.batches.slice(1 - mostBatches), closed], open: fresh };
}

/** A change of the load within a window, with its standard error. Grams. */
export interface Shift {
  grams: number;
  standardError: number;
}

/** What a still load weighs and how well that is known. */
export interface Weighing {
  /** Relative to whatever the readings were relative to. */
  grams: number;
  /** Standard error of that mean, with its degrees of freedom; grown where noise hangs together over time or the load drifts. */
  doubt: Doubt;
  /** Change over the window on the best straight line, grams, and what noise alone would make of it. */
  drift: Shift;
  /** Middle third of the window less the outer two, grams: a slow swing shows here when it is about to turn. */
  bend: Shift;
  /** Board time of the middle of the window, and its length, seconds. */
  seconds: number;
  span: number;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Standard error of the mean of `values` when they are taken in blocks of `size`; a rest too short for a block is left out at the old end. */
function blockedError(values: readonly number[], size: number): Doubt {
  const blocks: number[] = [];
  for (let end = values.length; end >= size; end -= size) {
    blocks.push(mean(values.slice(end - size, end)));
  }
  const centre = mean(blocks);
  const squares = blocks.reduce((sum, block) => sum + (block - centre) ** 2, 0);
  const degreesOfFreedom = blocks.length - 1;
  return { standard: Math.sqrt(squares / degreesOfFreedom / blocks.length), degreesOfFreedom };
}

/**
 * Standard error of the mean of values that may hang together: the largest that blocks of 1, 2, 4 ... values give, as long as five
 * blocks are left. For independent values all sizes agree; for a swinging bag or a drift the larger blocks tell.
 * Source: H. Flyvbjerg and H. G. Petersen, J. Chem. Phys. 91 (1989) 461-466, the blocking method.
 */
function errorOfMean(values: readonly number[]): Doubt {
  let largest = blockedError(values, 1);
  for (let size = 2; values.length / size >= 5; size *= 2) {
    const next = blockedError(values, size);
    if (next.standard > largest.standard) {
      largest = next;
    }
  }
  return largest;
}

/** The weighing that the window amounts to, or null when it is shorter than a second. */
export function weigh(window: StillWindow): Weighing | null {
  const { batches } = window;
  if (batches.length < fewestBatches) {
    return null;
  }
  const values = batches.map((batch) => batch.grams);
  const times = batches.map((batch) => batch.seconds);
  return {
    grams: mean(values),
    doubt: errorOfMean(values),
    drift: driftOf(times, values),
    bend: bendOf(values),
    seconds: mean(times),
    span: times[times.length - 1]! - times[0]!,
  };
}

/** Change from the first to the last on the least-squares line. */
function driftOf(times: readonly number[], values: readonly number[]): Shift {
  const centre = mean(times);
  const level = mean(values);
  const spread = times.reduce((sum, time) => sum + (time - centre) ** 2, 0);
  const slope = times.reduce((sum, time, i) => sum + (time - centre) * (values[i]! - level), 0) / spread;
  const residuals = times.reduce(
    (sum, time, i) => sum + (values[i]! - level - slope * (time - centre)) ** 2,
    0,
  );
  const span = times[times.length - 1]! - times[0]!;
  return {
    grams: slope * span,
    standardError: Math.sqrt(residuals / (values.length - 2) / spread) * span,
  };
}

/** Middle third against the rest, with the noise seen within the thirds. */
function bendOf(values: readonly number[]): Shift {
  const third = Math.floor(values.length / 3);
  const parts = [values.slice(0, third), values.slice(third, -third), values.slice(-third)] as const;
  const [first, middle, last] = parts;
  const squares = parts.reduce((sum, part) => {
    const centre = mean(part);
    return sum + part.reduce((within, value) => within + (value - centre) ** 2, 0);
  }, 0);
  const variance = squares / (values.length - 3);
  return {
    grams: mean(middle) - (mean(first) + mean(last)) / 2,
    standardError: Math.sqrt(variance * (1 / middle.length + 1 / (2 * third))),
  };
}

/** Standard deviation of a mean over `seconds` of the same load, from the noise that the weighing saw. Grams; seconds more than 0. */
export function noiseOver(weighing: Weighing, seconds: number): number {
  const batchSeconds = batchMicros / 1e6;
  return weighing.doubt.standard * Math.sqrt((weighing.span + batchSeconds) / seconds);
}

/**
 * Doubt of the difference of two weighings some time apart: both standard errors, and what the zero of the scale may have wandered
 * in between, `zeroDrift` (standard, grams a minute). Source: JCGM 100:2008, 5.1.2.
 */
export function differenceDoubt(before: Weighing, after: Weighing, zeroDrift: number): Doubt {
  const minutes = Math.abs(after.seconds - before.seconds) / 60;
  const wandered = { standard: zeroDrift * minutes, degreesOfFreedom: Number.POSITIVE_INFINITY };
  return combineDoubts([before.doubt, after.doubt, wandered]);
}

/** What is good enough for the weighing in hand, grams. */
export interface WeighingWish {
  /** Standard error below which more waiting gains nothing. */
  standardError: number;
  /** Drift or swing over the window that does not matter. */
  drift: number;
}

/**
 * True when waiting longer would gain nothing: the load neither drifts nor swings by more than its own noise lets one see (twice the
 * standard error) or than matters, and the mean is as good as wished, or the window is full and will not get better.
 */
export function isSettled(window: StillWindow, weighing: Weighing, wish: WeighingWish): boolean {
  const moves = [weighing.drift, weighing.bend].some(
    ({ grams, standardError }) => Math.abs(grams) > Math.max(2 * standardError, wish.drift),
  );
  const full = window.batches.length >= mostBatches;
  return !moves && (full || weighing.doubt.standard <= wish.standardError);
}

/** Times its own noise by which a load must leave its weighing before someone has touched it. */
const knockSigmas = 8;

/** True when the newest batch lies far from an earlier `weighing` of the same load: farther than noise goes, and than is wished. */
export function isKnocked(window: StillWindow, weighing: Weighing, wish: WeighingWish): boolean {
  const newest = window.batches[window.batches.length - 1];
  const noise = Math.hypot(noiseOver(weighing, batchMicros / 1e6), weighing.doubt.standard);
  const far = Math.max(knockSigmas * noise, wish.standardError);
  return newest !== undefined && Math.abs(newest.grams - weighing.grams) > far;
}
