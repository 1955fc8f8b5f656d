import type { Finding, Instant } from './finding.ts';
import { type TraceReading, turnsOf } from './reading.ts';

/**
 * Whether the wheel rolled back, how often and how far, from the pulses that the direction sensor tells backward. Without such a
 * sensor nothing can be told.
 */
export interface Reversals {
  pulsesPerTurn: number;
  micros: number;
  forward: number;
  backward: number;
  /** Time of the newest forward pulse and the wait before it, seconds; null before the first. */
  forwardSeconds: number | null;
  wait: number;
  /** Backward pulses since then, and where they began. */
  rolling: number;
  began: Instant | null;
  /** Time of the newest of them. */
  newestSeconds: number;
  /** How often it rolled back for sure, the one under way included, and how many pulses in all. */
  times: number;
  pulses: number;
  counted: boolean;
  /** Backward total when the newest count was made. */
  newestBackward: number;
  first: Instant | null;
  newest: Instant | null;
  /** Turns over the newest reversals, for a picture. */
  way: { seconds: number[]; turns: number[] };
}

/** Chatter can look like a pulse backward; a wheel needs longer than that to turn round, seconds and usual waits for a pulse. */
const shortestTurnRound = 0.12;
const waitsToTurnRound = 2;
/** Two pulses backward so far apart, seconds, with none forward between, are no chatter either. */
const chatterSeconds = 0.02;
/** Without a pulse forward for so long, seconds, it has turned round for sure. */
const surelyTurned = 1;
const mostWay = 60;

/** Before the first reading. `pulsesPerTurn` 1 or more. */
export function noReversals(pulsesPerTurn: number): Reversals {
  return {
    pulsesPerTurn,
    micros: -1,
    forward: 0,
    backward: 0,
    forwardSeconds: null,
    wait: 0,
    rolling: 0,
    began: null,
    newestSeconds: 0,
    times: 0,
    pulses: 0,
    counted: false,
    newestBackward: 0,
    first: null,
    newest: null,
    way: { seconds: [], turns: [] },
  };
}

/** The reversals after one more reading. */
export function addToReversals(state: Reversals, reading: TraceReading): Reversals {
  const { micros, forward, backward, ageMicros } = reading;
  if (state.micros < 0) return { ...state, micros, forward, backward };
  const forwards = forward - state.forward;
  const backwards = backward - state.backward;
  if (forwards === 0 && backwards === 0 && state.rolling === 0) return state;
  const seconds = micros / 1e6;
  const next = after(state, micros, forward, backward);
  if (forwards > 0 && backwards === 0) {
    const at = seconds - (ageMicros ?? 0) / 1e6;
    next.wait = state.forwardSeconds === null ? 0 : at - state.forwardSeconds;
    next.forwardSeconds = at;
    next.rolling = 0;
    next.began = null;
    next.counted = false;
  } else if (backwards > 0) {
    const instant = { turns: turnsOf(reading, state.pulsesPerTurn), seconds };
    // A forward pulse in the same reading ends what was before.
    const fresh = forwards > 0 || state.began === null;
    next.rolling = fresh ? backwards : state.rolling + backwards;
    next.counted = fresh ? false : state.counted;
    next.began = fresh ? instant : state.began;
    next.newestSeconds = seconds;
  }
  if (next.rolling === 0) return next;
  if (!next.counted && !turnedRound(next, seconds)) return next;
  return backwards > 0 || !next.counted ? rolled(next, reading) : next;
}

/** A fresh copy at newer totals; written out, since a spread takes many times as long and nearly every reading needs one. */
const after = (state: Reversals, micros: number, forward: number, backward: number): Reversals => ({
  pulsesPerTurn: state.pulsesPerTurn,
  micros,
  forward,
  backward,
  forwardSeconds: state.forwardSeconds,
  wait: state.wait,
  rolling: state.rolling,
  began: state.began,
  newestSeconds: state.newestSeconds,
  times: state.times,
  pulses: state.pulses,
  counted: state.counted,
  newestBackward: state.newestBackward,
  first: state.first,
  newest: state.newest,
  way: state.way,
});

function turnedRound({ forwardSeconds, wait, began, newestSeconds }: Reversals, seconds: number): boolean {
  const since = seconds - (forwardSeconds ?? Number.NEGATIVE_INFINITY);
  const enough = Math.min(surelyTurned, Math.max(shortestTurnRound, waitsToTurnRound * wait));
  return since >= enough || newestSeconds - began!.seconds > chatterSeconds;
}

/** At the end of the run: a wheel that has gone backward last has rolled back. */
export function endOfReversals(state: Reversals, reading: TraceReading): Reversals {
  const pending = state.rolling > 0 && !state.counted;
  const since = reading.micros / 1e6 - (state.forwardSeconds ?? Number.NEGATIVE_INFINITY);
  return pending && since > shortestTurnRound ? rolled(state, reading) : state;
}

function rolled(state: Reversals, reading: TraceReading): Reversals {
  const { counted, rolling, way, pulses } = state;
  const seconds = reading.micros / 1e6;
  const turns = turnsOf(reading, state.pulsesPerTurn);
  // All of the roll on its first count, afterwards what is new.
  const more = counted ? reading.backward - state.newestBackward : rolling;
  return {
    ...state,
    counted: true,
    times: state.times + (counted ? 0 : 1),
    pulses: pulses + more,
    newestBackward: reading.backward,
    first: state.first ?? state.began,
    newest: { turns, seconds },
    way: {
      seconds: [...way.seconds, seconds].slice(-mostWay),
      turns: [...way.turns, turns].slice(-mostWay),
    },
  };
}

/** Share of the turns done from which on having rolled back makes the rate doubtful. */
const spoilingShare = 0.01;

/** One finding for all times that the wheel rolled back, or none. */
export function reversalFindings(state: Reversals): Finding[] {
  const { first, newest, times, pulses, pulsesPerTurn, way } = state;
  if (first === null || newest === null) return [];
  const back = pulses / pulsesPerTurn;
  const done = Math.max(state.forward / pulsesPerTurn, 1e-9);
  const often = times === 1 ? 'once' : `${times} times`;
  return [
    {
      kind: 'wheel-reversed',
      cell: null,
      from: first,
      until: newest,
      sure: Math.min(0.9999, 1 - 0.1 ** (1 + pulses)),
      spoils: back > spoilingShare * done,
      evidence: {
        x: 'seconds',
        y: 'turns',
        series: [{ role: 'seen', x: way.seconds, y: way.turns.map((turns) => turns - first.turns) }],
      },
      sentence:
        `The wheel rolled back ${often}, by ${back.toFixed(2)} turns in all; that was taken off the count, but the ` +
        'seed that had already fallen was not. Look for a wheel that is out of balance or a chain that winds up, and turn it forwards only.',
    },
  ];
}
