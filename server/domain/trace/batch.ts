import { addToSpeed, type SpeedState, turnsBetweenPulses, unknownSpeed } from '../speed.ts';
import type { TracePhase, TraceReading } from './reading.ts';

/** Readings gathered into tenths of a second: whatever looks at the scale works on these. */

export const batchSeconds = 0.1;
const batchMicros = batchSeconds * 1e6;

/** Seed reaches the bag and shows on the scale about so long after it left the meter: a fall of half a metre to two. Common practice, no source. */
const landingSeconds = 0.45;
/** Batches for which places of the wheel are kept: longer than seed falls. */
const placesKept = 8;

/** The wheel counts as at rest once its pulses are so old: what was falling has landed, whatever of a pulse it still rolled. */
export function restSeconds(pulsesPerTurn: number): number {
  return 1.2 + 1.7 / Math.sqrt(pulsesPerTurn);
}

/** One closed batch. */
export interface Batch {
  /** Middle of its readings, since the run's first reading. */
  seconds: number;
  phase: TracePhase;
  atRest: boolean;
  /** Turns of the wheel, and the turns whose seed has landed; the latter never goes back. */
  turns: number;
  landed: number;
  /** Turns a second, at the time when that seed was metered. */
  landing: number;
  /** Per cell: mean grams, and the variance of single readings about it, grams²; null with less than half of them good. */
  grams: readonly (number | null)[];
  scatter: readonly (number | null)[];
}

interface Place {
  seconds: number;
  turns: number;
}

/** The batch now filling. Grams are summed less `base`, for the sake of the squares. */
interface Open {
  number: number;
  readings: number;
  micros: number;
  base: readonly number[];
  good: readonly number[];
  sums: readonly number[];
  squares: readonly number[];
  newest: TraceReading;
}

export interface Batching {
  open: Open | null;
  speed: SpeedState;
  places: readonly Place[];
  landed: number;
}

export const noBatches: Batching = { open: null, speed: unknownSpeed, places: [], landed: 0 };

/** The state with one more reading, and the batch that it closed, if any. */
export function addToBatches(
  state: Batching,
  reading: TraceReading,
  pulsesPerTurn: number,
): { state: Batching; closed: Batch | null } {
  const number = Math.floor(reading.micros / batchMicros);
  const { open } = state;
  if (open !== null && open.number === number) {
    const { speed, places, landed } = state;
    return { state: { open: filled(open, reading), speed, places, landed }, closed: null };
  }
  const base = open === null ? reading.cellGrams.map((grams) => grams ?? 0) : baseAfter(open);
  const zeros = base.map(() => 0);
  const empty = { number, readings: 0, micros: 0, base, good: zeros, sums: zeros, squares: zeros };
  const fresh = filled({ ...empty, newest: reading }, reading);
  return open === null
    ? { state: { ...state, open: fresh }, closed: null }
    : close({ ...state, open: fresh }, open, pulsesPerTurn);
}

function filled(open: Open, reading: TraceReading): Open {
  const good = open.good.slice();
  const sums = open.sums.slice();
  const squares = open.squares.slice();
  for (let cell = 0; cell < sums.length; cell++) {
    const grams = reading.cellGrams[cell];
    if (grams === null || grams === undefined) {
      continue;
    }
    const off = grams - open.base[cell]!;
    good[cell]!++;
    sums[cell]! += off;
    squares[cell]! += off * off;
  }
  const { number, base } = open;
  const micros = open.micros + reading.micros;
  return { number, readings: open.readings + 1, micros, base, good, sums, squares, newest: reading };
}

const baseAfter = (open: Open): number[] =>
  open.base.map((base, cell) => base + (open.good[cell]! > 0 ? open.sums[cell]! / open.good[cell]! : 0));

function close(state: Batching, open: Open, pulsesPerTurn: number): { state: Batching; closed: Batch } {
  const { newest } = open;
  const seconds = open.micros / open.readings / 1e6;
  const net = newest.forward - newest.backward;
  const age = newest.ageMicros === null ? null : newest.ageMicros / 1e6;
  const speed = addToSpeed(state.speed, newest.micros / 1e6, net, age);
  const middleAge = age === null ? null : age - (newest.micros / 1e6 - seconds);
  const turns = turnsBetweenPulses(speed, net, middleAge, pulsesPerTurn);
  const places = [...state.places.slice(1 - placesKept), { seconds, turns }];
  const landed = Math.max(state.landed, turnsAt(places, seconds - landingSeconds));
  const means = baseAfter(open);
  const mostlyGood = open.good.map((good) => 2 * good >= open.readings);
  const still = speed.pulsesPerSecond === null || speed.pulsesPerSecond === 0;
  const closed = {
    seconds,
    phase: newest.phase,
    atRest: newest.phase !== 'turning' && still && (age === null || age >= restSeconds(pulsesPerTurn)),
    turns,
    landed,
    landing: (landed - state.landed) / batchSeconds,
    grams: means.map((mean, cell) => (mostlyGood[cell] ? mean : null)),
    scatter: open.good.map((good, cell) => {
      const enough = mostlyGood[cell] && good >= 3;
      return enough ? Math.max(0, open.squares[cell]! - open.sums[cell]! ** 2 / good) / (good - 1) : null;
    }),
  };
  return { state: { ...state, speed, places, landed }, closed };
}

/** Where the wheel was at `seconds`, between the places kept. */
function turnsAt(places: readonly Place[], seconds: number): number {
  for (let i = places.length - 1; i > 0; i--) {
    const before = places[i - 1]!;
    const after = places[i]!;
    if (before.seconds <= seconds) {
      const part = (seconds - before.seconds) / (after.seconds - before.seconds);
      return before.turns + Math.min(1, part) * (after.turns - before.turns);
    }
  }
  return places[0]!.turns;
}
