import type { TracePhase, TraceReading } from '../domain/trace/reading.ts';
import { addToTrace, endOfTrace, noTrace, type TraceState } from '../domain/trace/trace.ts';
import { standingNoiseGrams } from './limits.ts';
import { lumpinessOf, targetCatchOf } from './plan.ts';
import type { Moment, RunState, Step } from './state.ts';
import type { RunPhase, RunPlan, StandFacts } from './types.ts';

/** The trace reads along from the first reading of a run to the last, whatever the run makes of it. */

/** The trace of a run that begins. */
export function freshTrace(plan: RunPlan, stand: StandFacts): TraceState {
  return noTrace({
    pulsesPerTurn: stand.pulsesPerTurn,
    cells: stand.cells.length,
    expectedGramsPerTurn: targetCatchOf(plan, 1),
    lumpinessGrams: lumpinessOf(plan),
    standingNoiseGrams,
    drive: plan.mode,
  });
}

/** The step with the trace brought up to it: a reading taken in is added, the end of the run settles what is found. */
export function traced(before: RunState, step: Step): Step {
  const { state } = step;
  if (state.trace === null || state === before) {
    return step;
  }
  let { trace } = state;
  if (state.now !== null && state.now !== before.now) {
    trace = addToTrace(trace, traceReading(state, state.now));
  }
  if (state.phase === 'finished' && before.phase !== 'finished') {
    trace = endOfTrace(trace);
  }
  // A state that is not `before` was made in this very step: nobody else has seen it, and one more copy of it would cost a tenth of a reading.
  state.trace = trace;
  return step;
}

const phases: Record<RunPhase, TracePhase> = {
  idle: 'before',
  taring: 'before',
  ready: 'before',
  turning: 'turning',
  settling: 'after',
  finished: 'after',
};

/** The newest reading as the trace takes it. */
export function traceReading(state: RunState, now: Moment): TraceReading {
  return {
    micros: now.micros,
    forward: now.net + now.backward,
    backward: now.backward,
    ageMicros: now.ageMicros,
    cellGrams: now.cellGrams,
    // A run that ends before the wheel was set going never left what comes before.
    phase: state.start === null ? ('before' as const) : phases[state.phase],
    flags: now.flags,
    // Whatever the board said while the link was down is lost, though nobody could count it.
    lost: state.lostLines + state.linkLosses,
    hostSeconds: state.clockSeconds,
    refused: state.refusedReadings,
  };
}
