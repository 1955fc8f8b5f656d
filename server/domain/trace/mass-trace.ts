import type { Finding } from './finding.ts';
import type { TraceKnowledge, TraceReading } from './reading.ts';

/** What the scale tells. */
export interface MassTrace {
  knowledge: TraceKnowledge;
}

export function noMassTrace(knowledge: TraceKnowledge): MassTrace {
  return { knowledge };
}

export function addToMassTrace(state: MassTrace, _reading: TraceReading): MassTrace {
  return state;
}

export function endOfMassTrace(state: MassTrace): MassTrace {
  return state;
}

/** Instants count from the run's first reading. */
export function massFindings(_state: MassTrace): Finding[] {
  return [];
}
