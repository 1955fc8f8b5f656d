import { isGoodCount } from './weighing.ts';

/** Health of a scale from a stretch of raw readings: what is gathered, reading by reading. It stays the same size however long the stretch. */

/** Readings of one stretch of time, summed. Seconds and counts from the first good reading. */
interface Block {
  number: number;
  readings: number;
  seconds: number;
  counts: number;
}

/** What has been gathered so far; a value, never changed in place. */
export interface HealthRecord {
  /** Readings that came, good or not. */
  readings: number;
  /** Of these: without a value. */
  missing: number;
  /** Of these: at either end of the converter's range. */
  clipped: number;
  /** Board time of the first and the newest, and the longest time between two, microseconds. */
  firstMicros: number | null;
  lastMicros: number | null;
  longestGapMicros: number;
  /** First good count and its time, from which the others are taken. */
  origin: { micros: number; count: number } | null;
  /** Smallest and largest good count. */
  least: number;
  most: number;
  /** The newest reading's count, if it was good. */
  newest: number | null;
  /** Good readings that followed a good one: how many, sum of squared differences. */
  pairs: number;
  differenceSquares: number;
  /** Distinct counts among the first `sampled` good readings, rising. */
  distinct: readonly number[];
  sampled: number;
  /** Stretches of `blockMicros` each, oldest first, and the one still filling. */
  blocks: readonly Block[];
  open: Block | null;
  blockMicros: number;
}

/** Good readings looked through for distinct values: enough to tell a stuck or coarse converter from a sound one. */
export const distinctSample = 256;

/** Once there are so many blocks, neighbours are joined and blocks last twice as long. */
const mostBlocks = 64;

/** The record before the first reading. */
export const emptyHealth: HealthRecord = {
  readings: 0,
  missing: 0,
  clipped: 0,
  firstMicros: null,
  lastMicros: null,
  longestGapMicros: 0,
  origin: null,
  least: Number.POSITIVE_INFINITY,
  most: Number.NEGATIVE_INFINITY,
  newest: null,
  pairs: 0,
  differenceSquares: 0,
  distinct: [],
  sampled: 0,
  blocks: [],
  open: null,
  blockMicros: 50_000,
};

/** `sorted` with `value` at its place; itself where it holds it already. */
function withValue(sorted: readonly number[], value: number): readonly number[] {
  const at = sorted.findIndex((each) => each >= value);
  if (at < 0) {
    return [...sorted, value];
  }
  return sorted[at] === value ? sorted : [...sorted.slice(0, at), value, ...sorted.slice(at)];
}

/** Neighbouring blocks joined. */
function joined(blocks: readonly Block[]): Block[] {
  const halves = new Map<number, Block>();
  for (const block of blocks) {
    const number = Math.floor(block.number / 2);
    const other = halves.get(number) ?? { number, readings: 0, seconds: 0, counts: 0 };
    halves.set(number, {
      number,
      readings: other.readings + block.readings,
      seconds: other.seconds + block.seconds,
      counts: other.counts + block.counts,
    });
  }
  return [...halves.values()];
}

const grown = (block: Block, micros: number, counts: number): Block => ({
  number: block.number,
  readings: block.readings + 1,
  seconds: block.seconds + micros / 1e6,
  counts: block.counts + counts,
});

/** The blocks with one more good reading, `micros` and `counts` after the origin. */
function withReading(record: HealthRecord, micros: number, counts: number) {
  let { blocks, open, blockMicros } = record;
  if (open !== null && open.number === Math.floor(micros / blockMicros)) {
    return { blocks, open: grown(open, micros, counts), blockMicros };
  }
  blocks = open === null ? blocks : [...blocks, open];
  while (blocks.length >= mostBlocks) {
    blocks = joined(blocks);
    blockMicros *= 2;
  }
  const number = Math.floor(micros / blockMicros);
  const last = blocks.at(-1);
  if (last?.number === number) {
    return { blocks: blocks.slice(0, -1), open: grown(last, micros, counts), blockMicros };
  }
  return { blocks, open: { number, readings: 1, seconds: micros / 1e6, counts }, blockMicros };
}

/**
 * The record with one more reading: `micros` of board time, never going back, and the converter's `count`, null where it gave none. Several cells
 * have a record each.
 */
export function addToHealth(record: HealthRecord, micros: number, count: number | null): HealthRecord {
  const came = {
    ...record,
    readings: record.readings + 1,
    firstMicros: record.firstMicros ?? micros,
    lastMicros: micros,
    longestGapMicros: Math.max(record.longestGapMicros, micros - (record.lastMicros ?? micros)),
  };
  if (!isGoodCount(count)) {
    const clipped = Number.isInteger(count);
    return {
      ...came,
      newest: null,
      missing: came.missing + (clipped ? 0 : 1),
      clipped: came.clipped + (clipped ? 1 : 0),
    };
  }
  const origin = record.origin ?? { micros, count };
  const looking = record.sampled < distinctSample;
  const difference = record.newest === null ? 0 : count - record.newest;
  return {
    ...came,
    origin,
    least: Math.min(record.least, count),
    most: Math.max(record.most, count),
    newest: count,
    pairs: record.pairs + (record.newest === null ? 0 : 1),
    differenceSquares: record.differenceSquares + difference ** 2,
    distinct: looking ? withValue(record.distinct, count) : record.distinct,
    sampled: record.sampled + (looking ? 1 : 0),
    ...withReading(record, micros - origin.micros, count - origin.count),
  };
}
