import type { Finding } from './finding.ts';
import type { TraceKnowledge, TraceReading } from './reading.ts';

/** What the wheel sensor and the clock tell. */
export interface WheelTrace {
  knowledge: TraceKnowledge;
}

export function noWheelTrace(knowledge: TraceKnowledge): WheelTrace {
  return { knowledge };
}

export function addToWheelTrace(state: WheelTrace, _reading: TraceReading): WheelTrace {
  return state;
}

export function endOfWheelTrace(state: WheelTrace): WheelTrace {
  return state;
}

/** Instants count from the run's first reading. */
export function wheelFindings(_state: WheelTrace): Finding[] {
  return [];
}
