import { addToClockWatch, type ClockWatch, clockFindings, noClockWatch } from './clock.ts';
import type { Finding } from './finding.ts';
import { addToPulsation, noPulsation, type Pulsation } from './pulsation.ts';
import { pulsationFindings } from './pulsation-findings.ts';
import type { TraceKnowledge, TraceReading } from './reading.ts';
import { senseFindings } from './wheel-findings.ts';
import {
  addToReversals,
  endOfReversals,
  noReversals,
  type Reversals,
  reversalFindings,
} from './wheel-reversal.ts';
import { addToWheelSense, noWheelSense, type WheelSense } from './wheel-sense.ts';

/** What the wheel sensor and the clock tell. */
export interface WheelTrace {
  sense: WheelSense;
  reversals: Reversals;
  clock: ClockWatch;
  pulsation: Pulsation;
}

/** Before the first reading. */
export function noWheelTrace(knowledge: TraceKnowledge): WheelTrace {
  const { pulsesPerTurn } = knowledge;
  return {
    pulsation: noPulsation(knowledge),
    sense: noWheelSense(knowledge),
    reversals: noReversals(pulsesPerTurn),
    clock: noClockWatch(pulsesPerTurn),
  };
}

/** The trace after one more reading. Constant time and memory. */
export function addToWheelTrace(state: WheelTrace, reading: TraceReading): WheelTrace {
  return {
    sense: addToWheelSense(state.sense, reading),
    reversals: addToReversals(state.reversals, reading),
    clock: addToClockWatch(state.clock, reading),
    pulsation: addToPulsation(state.pulsation, reading),
  };
}

/** What waited for what would come next is settled. */
export function endOfWheelTrace(state: WheelTrace): WheelTrace {
  const { last } = state.clock;
  return last === null ? state : { ...state, reversals: endOfReversals(state.reversals, last) };
}

/** Instants count from the run's first reading. */
export function wheelFindings(state: WheelTrace): Finding[] {
  const clock = clockFindings(state.clock);
  // Where the times of pulses are wrong, nothing is told from them.
  const untimely = state.clock.troubles.age !== undefined;
  const pulses = untimely ? [] : ofPulses(senseFindings(state.sense), state);
  return [...pulses, ...clock, ...pulsationFindings(state.pulsation)];
}

/** So few false pulses may be the wheel turning round over a magnet. */
const fewFalse = 3;

/** False pulses and rolling back look alike where there are few of either: each is told by the one there is more of. */
function ofPulses(sense: Finding[], { reversals, sense: { accounts, chatter } }: WheelTrace): Finding[] {
  const back = reversalFindings(reversals);
  if (back.length === 0) return sense;
  const chatters = sense.some(({ kind }) => kind === 'pulses-doubled');
  if (
    chatters &&
    reversals.pulses > reversals.times &&
    accounts[0]!.doubled < fewFalse &&
    (chatter?.times ?? 0) < fewFalse
  ) {
    return [...sense.filter(({ kind }) => kind !== 'pulses-doubled'), ...back];
  }
  return chatters && reversals.pulses === reversals.times ? sense : [...sense, ...back];
}
