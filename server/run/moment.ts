import { addToSpeed } from '../domain/speed.ts';
import { type CellLine, gramsFromCounts, isGoodCount } from '../domain/weighing.ts';
import type { Reading } from '../link/readings.ts';
import { copied } from './copied.ts';
import type { Live, Moment, RawTotals, RunState } from './state.ts';

/**
 * The board's totals are 32 bits wide. Steps are taken forward, whether or not the link has unwrapped them; one that would lead round to just before
 * where it came from is a step back.
 */
const totalModulus = 2 ** 32;
/** Farther back no line comes late: 4 minutes. The rest of the 71 minutes is left for a run that is taken up after long. */
const farthestBack = 2 ** 28;

function step(from: number, to: number): number {
  const plain = to - from;
  // Nearly always: no total went round.
  if (plain >= 0 && plain < totalModulus - farthestBack) return plain;
  const forward = ((plain % totalModulus) + totalModulus) % totalModulus;
  return forward >= totalModulus - farthestBack ? forward - totalModulus : forward;
}

const zero = { micros: 0, net: 0, backward: 0 };

function isSound(reading: Reading): boolean {
  const { boardMicros, forwardPulses, backwardPulses, pulseAgeMicros, counts } = reading;
  const whole =
    Number.isSafeInteger(boardMicros) &&
    Number.isSafeInteger(forwardPulses) &&
    Number.isSafeInteger(backwardPulses);
  const soundAge = pulseAgeMicros === null || (Number.isFinite(pulseAgeMicros) && pulseAgeMicros >= 0);
  return whole && soundAge && Array.isArray(counts);
}

/**
 * The state with one more reading taken in, relative to the run's first. Null when the reading says nothing new: it is no later
 * than the one before, or no reading at all.
 */
export function withReading(state: RunState, reading: Reading): Live | null {
  if (!isSound(reading)) {
    return null;
  }
  const raw: RawTotals = {
    boardMicros: reading.boardMicros,
    forwardPulses: reading.forwardPulses,
    backwardPulses: reading.backwardPulses,
  };
  const last = state.raw ?? raw;
  const before = state.now ?? zero;
  const passed = step(last.boardMicros, raw.boardMicros);
  const forward = step(last.forwardPulses, raw.forwardPulses);
  const backward = step(last.backwardPulses, raw.backwardPulses);
  if (state.now !== null && (passed <= 0 || forward < 0 || backward < 0)) {
    return null;
  }
  const cells = state.stand?.cells ?? noCells;
  const originCounts = state.originCounts ?? originIn(reading.counts, cells.length);
  const cellOrigins = originsWith(state.cellOrigins, reading.counts, cells.length);
  const now: Moment = {
    micros: before.micros + passed,
    net: before.net + forward - backward,
    backward: before.backward + backward,
    ageMicros: reading.pulseAgeMicros,
    state: reading.state,
    why: reading.why,
    flags: reading.flags,
    grams: originCounts === null ? null : gramsFromCounts(reading.counts, originCounts, cells),
    cellGrams: gramsOfCells(reading.counts, cellOrigins, cells),
  };
  const speed = addToSpeed(state.speed, now.micros / 1e6, now.net, ageSeconds(now));
  const next = copied(state);
  next.raw = raw;
  next.originCounts = originCounts;
  next.cellOrigins = cellOrigins;
  next.now = now;
  next.speed = speed;
  next.heardSeconds = state.clockSeconds;
  next.linkDown = false;
  return next as Live;
}

const noCells: readonly CellLine[] = [];

/** Each cell's first good count; the same list where nothing was missing in it. */
function originsWith(
  origins: readonly (number | null)[],
  counts: readonly (number | null)[],
  cells: number,
): readonly (number | null)[] {
  if (origins.length === cells && !origins.includes(null)) return origins;
  return Array.from({ length: cells }, (_, cell) => origins[cell] ?? goodCount(counts[cell]));
}

/** Load on each cell since its first good count. */
function gramsOfCells(
  counts: readonly (number | null)[],
  origins: readonly (number | null)[],
  cells: readonly CellLine[],
): (number | null)[] {
  const grams: (number | null)[] = [];
  for (let cell = 0; cell < cells.length; cell++) {
    const count = goodCount(counts[cell]);
    // Plus 0, so that no load on a cell wired the other way round is 0 and not -0.
    grams.push(count === null ? null : (count - origins[cell]!) * cells[cell]!.gramsPerCount + 0);
  }
  return grams;
}

const goodCount = (count: number | null | undefined) => (isGoodCount(count) ? count : null);

/** Seconds since the newest pulse, or null when there was none for long. */
export function ageSeconds({ ageMicros }: Moment): number | null {
  return ageMicros === null ? null : ageMicros / 1e6;
}

function originIn(counts: readonly (number | null)[], cells: number): number[] | null {
  return counts.length === cells && counts.every(isGoodCount) ? [...counts] : null;
}
