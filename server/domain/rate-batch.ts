/**
 * Readings gathered into short batches, and mass set against the turns that it came from: seed lands a moment after it was metered. Constant
 * memory, whatever the length of a run.
 */

/** Short beside a turn, and long enough that seeds' ringing of the bag (some 6 Hz) mostly averages out. */
export const batchMicros = 200_000;

/**
 * The scale shows a seed so many batches after the meter let it go: a fall of 0.3 to 0.5 s, less what the falling seed's momentum shows early.
 * Common practice, no source. What this is wrong by is a constant offset of the mass, which the filter takes out.
 */
const lagBatches = 1;

/** Turns over one batch: their mean, and those of its last reading. */
interface BatchTurns {
  number: number;
  mean: number;
  last: number;
}

/** `grams` is null once a reading without a weight is among them. */
interface OpenBatch {
  number: number;
  readings: number;
  turns: number;
  grams: number | null;
  last: number;
}

/** Batches so far: the open one, and those whose seed is still in the air. */
export interface BatchState {
  /** Board time of the first reading: batches are counted from it. */
  originMicros: number | null;
  /** The batch now filling: sums over its readings. */
  open: OpenBatch | null;
  /** Turns of the newest batches, oldest first: those whose seed is still in the air. */
  turning: readonly BatchTurns[];
  /** Farthest that the wheel has been: turning back takes no seed out of the bag, and making up for it gives none. */
  farthest: number;
  /** Turns up to which the mass has been followed. */
  followed: number;
  /** Number of the batch that was handed on last. */
  handed: number | null;
}

/** Before the first reading. */
export const noBatches: BatchState = {
  originMicros: null,
  open: null,
  turning: [],
  farthest: 0,
  followed: 0,
  handed: null,
};

/** The mean mass of one batch, and the turns that it came from. */
export interface MassBatch {
  readings: number;
  grams: number;
  /** Turns from the end of the batch before to the beginning of this one, and over this one. 0 or more. */
  gapTurns: number;
  widthTurns: number;
  /** From the middle of the batch before to the middle of this one. */
  seconds: number;
}

/**
 * The state after one more reading, and the batch that it completes, if any. `micros`: board time, never going back. `turns` since the start.
 * `grams` since the start, or null where the reading gives no weight to go by: its batch is then no weighing, but its turns count.
 */
export function addToBatches(
  state: BatchState,
  micros: number,
  turns: number,
  grams: number | null,
): { state: BatchState; batch: MassBatch | null } {
  const originMicros = state.originMicros ?? micros;
  const number = Math.floor((micros - originMicros) / batchMicros);
  const farthest = Math.max(state.farthest, turns);
  const { open } = state;
  if (open !== null && open.number === number) {
    const { turning, followed, handed } = state;
    const filled = withReading(open, farthest, grams);
    return { state: { originMicros, open: filled, turning, farthest, followed, handed }, batch: null };
  }
  const empty = { number, readings: 0, turns: 0, grams: 0, last: 0 };
  const closed = open === null ? { state, batch: null } : closeBatch(state, open);
  return {
    state: { ...closed.state, originMicros, farthest, open: withReading(empty, farthest, grams) },
    batch: closed.batch,
  };
}

function withReading(open: OpenBatch, turns: number, grams: number | null): OpenBatch {
  return {
    number: open.number,
    readings: open.readings + 1,
    turns: open.turns + turns,
    grams: open.grams === null || grams === null ? null : open.grams + grams,
    last: turns,
  };
}

function closeBatch(state: BatchState, open: OpenBatch) {
  const closing = { number: open.number, mean: open.turns / open.readings, last: open.last };
  const turning = [...state.turning.slice(-lagBatches), closing];
  const source = turning.find(({ number }) => number === open.number - lagBatches);
  // After a gap in the readings it is not known which turns the mass came from.
  if (source === undefined || open.grams === null) {
    return { state: { ...state, turning }, batch: null };
  }
  const begin = Math.max(state.followed, 2 * source.mean - source.last);
  const batch: MassBatch = {
    readings: open.readings,
    grams: open.grams / open.readings,
    gapTurns: begin - state.followed,
    widthTurns: Math.max(0, source.last - begin),
    seconds: ((open.number - (state.handed ?? open.number)) * batchMicros) / 1e6,
  };
  const followed = Math.max(begin, source.last);
  return { state: { ...state, turning, followed, handed: open.number }, batch };
}
