import type { RateState } from '../domain/rate.ts';
import type { SpeedState } from '../domain/speed.ts';
import { noPace, type PaceState, unknownSpeed } from '../domain/speed.ts';
import type { TraceState } from '../domain/trace/trace.ts';
import type { StillWindow, Weighing } from '../domain/weighing.ts';
import { emptyWindow } from '../domain/weighing.ts';
import type { BoardState, EndReason } from '../link/readings.ts';
import type { Away, Gap } from './gap.ts';
import type { RunEffect, RunOutcome, RunPhase, RunPlan, StandFacts } from './types.ts';

/** The board's totals as they were sent, from which the next reading's steps are taken. */
export interface RawTotals {
  boardMicros: number;
  forwardPulses: number;
  backwardPulses: number;
}

/** A reading relative to the run's first: whole microseconds and pulses; grams, or null where the scale gave no good value. */
export interface Moment {
  micros: number;
  /** Pulses forward less backward. */
  net: number;
  backward: number;
  ageMicros: number | null;
  state: BoardState;
  why: EndReason;
  flags: number;
  grams: number | null;
  /** On each cell, from that cell's first good value; null where it gave none. */
  cellGrams: readonly (number | null)[];
}

/** A run at one moment: plain data, of bounded size, replaced and never changed. */
export interface RunState {
  phase: RunPhase;
  outcome: RunOutcome | null;
  plan: RunPlan | null;
  stand: StandFacts | null;
  presetPulses: number;

  raw: RawTotals | null;
  /** Counts of the first reading in which every cell had a good value. */
  originCounts: number[] | null;
  /** First good count of each cell. */
  cellOrigins: readonly (number | null)[];
  now: Moment | null;
  lostLines: number;
  /** Lines lost since the newest reading. */
  linesMissing: number;
  /** Times without readings so far, and the one that lasts. */
  gaps: readonly Gap[];
  away: Away | null;
  /** Board time of the newest reading when this computer had stood still. */
  stallMicros: number | null;
  /** Readings that were no later than the one before, or no readings at all. */
  refusedReadings: number;

  /** Key of the arming in force, as far as is known. */
  armKey: string | null;
  armTries: number;
  /** True once the board has taken an arming of this run: it is the right board, fit to turn. */
  armAnswered: boolean;
  /** Board time at which Start was pressed, until the wheel turns or the start is called off. */
  startAskedMicros: number | null;
  goSent: boolean;
  startTries: number;
  stopAskedMicros: number | null;

  /** Since when the present wait has lasted: taring and ready together, or settling. */
  sinceMicros: number;
  /** Since when the wheel has stood while settling. */
  stoodMicros: number | null;
  window: StillWindow;
  tare: Weighing | null;
  /** Totals when the wheel was set going. */
  start: { micros: number; net: number; backward: number } | null;
  /** Board time of the first pulse after that. */
  movedMicros: number | null;
  speed: SpeedState;
  /** From the moment the wheel was set going. */
  rate: RateState | null;
  /** Turns made at a speed on plan, and at any. */
  pace: PaceState;
  /** From the first reading on. */
  trace: TraceState | null;
  final: Weighing | null;
  /** The catch (or the tare) was taken though it would not come to rest. */
  restless: boolean;

  linkDown: boolean;
  /** Times that the link was lost in this run. */
  linkLosses: number;
  clockSeconds: number | null;
  /** Host time of the newest reading. */
  heardSeconds: number | null;
  /** Word that explains the outcome: the board's refusal, letters of a reset, or a sentence about the plan. */
  note: string;
}

/** A run that has had a reading. */
export type Live = RunState & { now: Moment };

export interface Step {
  state: RunState;
  effects: RunEffect[];
}

/** No run yet. */
export function initialRun(): RunState {
  return {
    phase: 'idle',
    outcome: null,
    plan: null,
    stand: null,
    presetPulses: 0,
    raw: null,
    originCounts: null,
    cellOrigins: [],
    now: null,
    lostLines: 0,
    linesMissing: 0,
    gaps: [],
    away: null,
    stallMicros: null,
    refusedReadings: 0,
    armKey: null,
    armTries: 0,
    armAnswered: false,
    startAskedMicros: null,
    goSent: false,
    startTries: 0,
    stopAskedMicros: null,
    sinceMicros: 0,
    stoodMicros: null,
    window: emptyWindow,
    tare: null,
    start: null,
    movedMicros: null,
    speed: unknownSpeed,
    rate: null,
    pace: noPace,
    trace: null,
    final: null,
    restless: false,
    linkDown: false,
    linkLosses: 0,
    clockSeconds: null,
    heardSeconds: null,
    note: '',
  };
}

export const stay = (state: RunState): Step => ({ state, effects: [] });

/** Ends the run. What was measured stays in the state. */
export function finish(state: RunState, outcome: RunOutcome, note = '', first: RunEffect[] = []): Step {
  return {
    state: { ...state, phase: 'finished', outcome, note, startAskedMicros: null, armKey: null },
    effects: [...first, { type: 'close' }],
  };
}

/** Seconds of board time from `micros` to the newest reading. */
export function secondsSince(state: RunState, micros: number): number {
  return ((state.now?.micros ?? micros) - micros) / 1e6;
}
