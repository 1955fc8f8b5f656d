import { addToClockWatch, type ClockWatch, clockFindings, noClockWatch } from './clock.ts';
import type { Finding } from './finding.ts';
import { addToPulsation, noPulsation, type Pulsation, pulsationFindings } from './pulsation.ts';
import type { TraceKnowledge, TraceReading } from './reading.ts';
import { senseFindings } from './wheel-findings.ts';
import { addToReversals, noReversals, type Reversals, reversalFindings } from './wheel-reversal.ts';
import { addToWheelSense, noWheelSense, type WheelSense } from './wheel-sense.ts';

/** What the wheel sensor and the clock tell. */
export interface WheelTrace {
  sense: WheelSense;
  reversals: Reversals;
  clock: ClockWatch;
  pulsation: Pulsation;
}

export function noWheelTrace(knowledge: TraceKnowledge): WheelTrace {
  const { pulsesPerTurn } = knowledge;
  return {
    pulsation: noPulsation(knowledge),
    sense: noWheelSense(pulsesPerTurn),
    reversals: noReversals(pulsesPerTurn),
    clock: noClockWatch(pulsesPerTurn),
  };
}

export function addToWheelTrace(state: WheelTrace, reading: TraceReading): WheelTrace {
  return {
    sense: addToWheelSense(state.sense, reading),
    reversals: addToReversals(state.reversals, reading),
    clock: addToClockWatch(state.clock, reading),
    pulsation: addToPulsation(state.pulsation, reading),
  };
}

/** Nothing of this waits for the end. */
export function endOfWheelTrace(state: WheelTrace): WheelTrace {
  return state;
}

/** Instants count from the run's first reading. */
export function wheelFindings(state: WheelTrace): Finding[] {
  const sense = senseFindings(state.sense);
  // Where false pulses come, single ones that seem to go backward are of their kind.
  const { pulses, times } = state.reversals;
  const chatter = pulses === times && sense.some(({ kind }) => kind === 'pulses-doubled');
  return [
    ...sense,
    ...(chatter ? [] : reversalFindings(state.reversals)),
    ...clockFindings(state.clock),
    ...pulsationFindings(state.pulsation),
  ];
}
