import { addToSpeed } from '../domain/speed.ts';
import { gramsFromCounts, isGoodCount } from '../domain/weighing.ts';
import type { Reading } from '../link/readings.ts';
import type { Live, Moment, RawTotals, RunState } from './state.ts';

/** The board's totals are 32 bits wide. Steps are taken the shorter way round, whether or not the link has unwrapped them. */
const totalModulus = 2 ** 32;

function step(from: number, to: number): number {
  const forward = (((to - from) % totalModulus) + totalModulus) % totalModulus;
  return forward >= totalModulus / 2 ? forward - totalModulus : forward;
}

const zero = { micros: 0, net: 0, backward: 0 };

function isSound(reading: Reading): boolean {
  const { boardMicros, forwardPulses, backwardPulses, pulseAgeMicros, counts } = reading;
  const whole = [boardMicros, forwardPulses, backwardPulses].every(Number.isSafeInteger);
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
  const cells = state.stand?.cells ?? [];
  const originCounts = state.originCounts ?? originIn(reading.counts, cells.length);
  const cellOrigins = cells.map((_, cell) => state.cellOrigins[cell] ?? goodCount(reading.counts[cell]));
  const now: Moment = {
    micros: before.micros + passed,
    net: before.net + forward - backward,
    backward: before.backward + backward,
    ageMicros: reading.pulseAgeMicros,
    state: reading.state,
    why: reading.why,
    flags: reading.flags,
    grams: originCounts === null ? null : gramsFromCounts(reading.counts, originCounts, cells),
    cellGrams: cells.map((cell, index) => {
      const count = goodCount(reading.counts[index]);
      // Plus 0, so that no load on a cell wired the other way round is 0 and not -0.
      return count === null ? null : (count - cellOrigins[index]!) * cell.gramsPerCount + 0;
    }),
  };
  const speed = addToSpeed(state.speed, now.micros / 1e6, now.net, ageSeconds(now));
  return {
    ...state,
    raw,
    originCounts,
    cellOrigins,
    now,
    speed,
    heardSeconds: state.clockSeconds,
    linkDown: false,
  };
}

const goodCount = (count: number | null | undefined) => (isGoodCount(count) ? count : null);

/** Seconds since the newest pulse, or null when there was none for long. */
export function ageSeconds({ ageMicros }: Moment): number | null {
  return ageMicros === null ? null : ageMicros / 1e6;
}

function originIn(counts: readonly (number | null)[], cells: number): number[] | null {
  return counts.length === cells && counts.every(isGoodCount) ? [...counts] : null;
}
