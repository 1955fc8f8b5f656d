import type { EvidenceSeries, Finding, FindingKind, Instant } from './finding.ts';
import { addToMassTrace, endOfMassTrace, type MassTrace, massFindings, noMassTrace } from './mass-trace.ts';
import type { TraceKnowledge, TraceReading } from './reading.ts';
import {
  addToWheelTrace,
  endOfWheelTrace,
  noWheelTrace,
  type WheelTrace,
  wheelFindings,
} from './wheel-trace.ts';

/**
 * The trace of a run: reads along from the first reading of the run to the last, and says what it found. Plain data of bounded size,
 * replaced and never changed; the same readings give the same findings, live or replayed.
 */
export interface TraceState {
  /** What the scale tells, and what the wheel sensor and the clock tell. Instants in both count from the run's first reading. */
  mass: MassTrace;
  wheel: WheelTrace;
  /** When the wheel was set going, counted from the run's first reading; null before. */
  start: Instant | null;
  /** Of the newest reading. */
  newest: Instant;
  pulsesPerTurn: number;
}

/** The trace before the first reading. */
export function noTrace(knowledge: TraceKnowledge): TraceState {
  return {
    mass: noMassTrace(knowledge),
    wheel: noWheelTrace(knowledge),
    start: null,
    newest: { turns: 0, seconds: 0 },
    pulsesPerTurn: knowledge.pulsesPerTurn,
  };
}

/** The trace with one more reading; readings come in the order of their `micros`. Constant time and memory. */
export function addToTrace(state: TraceState, reading: TraceReading): TraceState {
  return {
    mass: addToMassTrace(state.mass, reading),
    wheel: addToWheelTrace(state.wheel, reading),
    // The wheel's start is counted from the last reading before it.
    start: state.start ?? (reading.phase === 'before' ? null : state.newest),
    newest: {
      turns: (reading.forward - reading.backward) / state.pulsesPerTurn,
      seconds: reading.micros / 1e6,
    },
    pulsesPerTurn: state.pulsesPerTurn,
  };
}

/** The trace at the end of the run: what can only be told from the whole is settled, what still goes on is closed. Call once. */
export function endOfTrace(state: TraceState): TraceState {
  return { ...state, mass: endOfMassTrace(state.mass), wheel: endOfWheelTrace(state.wheel) };
}

/**
 * What was found until now, in order of time. Instants count from the wheel's start (below 0: before it); while the wheel has not
 * been set going, from the run's first reading.
 */
export function traceFindings(state: TraceState): Finding[] {
  const zero = state.start ?? { turns: 0, seconds: 0 };
  const wheel = wheelFindings(state.wheel);
  const miscounted = wheel.some(({ kind }) => kind === 'pulses-missed' || kind === 'pulses-doubled');
  const mass = massFindings(state.mass).filter(({ kind }) => !miscounted || !perTurn.includes(kind));
  return [...mass, ...wheel]
    .map((finding) => since(zero, finding))
    .sort((one, other) => one.from.seconds - other.from.seconds);
}

/** Findings that rest on grams per turn: worth nothing where the turns are miscounted. */
const perTurn: readonly FindingKind[] = ['flow-drifts', 'bag-touching'];

function since(zero: Instant, finding: Finding): Finding {
  const { from, until, evidence } = finding;
  const shift = evidence.x === 'turns' || evidence.x === 'seconds' ? zero[evidence.x] : 0;
  const moved = (series: EvidenceSeries) => ({ ...series, x: series.x.map((x) => x - shift) });
  return {
    ...finding,
    from: less(from, zero),
    until: until === null ? null : less(until, zero),
    evidence: shift === 0 ? evidence : { ...evidence, series: evidence.series.map(moved) },
  };
}

const less = (instant: Instant, zero: Instant): Instant => ({
  turns: instant.turns - zero.turns,
  seconds: instant.seconds - zero.seconds,
});
