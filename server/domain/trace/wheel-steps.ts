import type { TraceReading } from './reading.ts';

/**
 * Readings into steps of the wheel: how many pulses came until the newest one, and when that was. A reading shows the time of its
 * newest pulse alone, so a step may hold several.
 */
export interface WheelStep {
  /** Board time of the newest pulse, seconds since the run's first reading. */
  seconds: number;
  /** Forward pulses since the step before, 1 or more, and backward ones among them. */
  forward: number;
  backward: number;
  /** Nothing joins this step to the one before: the board's time cannot be trusted in between. */
  torn: boolean;
}

export interface StepReader {
  micros: number;
  forward: number;
  backward: number;
  lost: number;
  /** Pulses that no step has told of yet, since their time is not known. */
  pendingForward: number;
  pendingBackward: number;
  torn: boolean;
}

export const noStepReader: StepReader = {
  micros: -1,
  forward: 0,
  backward: 0,
  lost: 0,
  pendingForward: 0,
  pendingBackward: 0,
  torn: true,
};

/** The board sends a reading at the latest 100 ms after the one before; where none was lost, a longer wait is the clock's. */
export const longestWaitMicros = 130_000;
/** How fast the wheel went in a longer time without readings nobody knows. */
const longestJoinMicros = 500_000;
/** A pulse may seem older than the reading that first shows it is, by so much at most. */
const ageSlackMicros = 500;

/** The reader after one more reading, and the step that it completes, if any. */
export function readStep(
  state: StepReader,
  reading: TraceReading,
): { reader: StepReader; step: WheelStep | null } {
  const { micros, forward, backward, lost, ageMicros } = reading;
  const first = state.micros < 0;
  const wait = micros - state.micros;
  const newForward = first ? 0 : forward - state.forward;
  const newBackward = first ? 0 : backward - state.backward;
  const next: StepReader = {
    micros,
    forward,
    backward,
    lost,
    pendingForward: state.pendingForward + newForward,
    pendingBackward: state.pendingBackward + newBackward,
    torn: state.torn || wait <= 0 || wait > (lost === state.lost ? longestWaitMicros : longestJoinMicros),
  };
  const timed =
    newForward > 0 && newBackward === 0 && ageMicros !== null && ageMicros <= wait + ageSlackMicros;
  if (!timed) return { reader: next, step: null };
  const step = {
    seconds: (micros - ageMicros) / 1e6,
    forward: next.pendingForward,
    backward: next.pendingBackward,
    torn: next.torn,
  };
  next.pendingForward = 0;
  next.pendingBackward = 0;
  next.torn = false;
  return { reader: next, step };
}
