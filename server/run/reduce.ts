import { DomainError } from '../domain/error.ts';
import { emptyWindow } from '../domain/weighing.ts';
import { hasFlag } from './flags.ts';
import { afterGap, armedAnew, mayFollowGap, resumed } from './gap.ts';
import { latestTickSeconds, returnPatienceSeconds, silencePatienceSeconds } from './limits.ts';
import { withReading } from './moment.ts';
import { settlingReading, turningReading } from './moving.ts';
import { checkPlan, presetPulsesOf } from './plan.ts';
import { standingReading } from './standing.ts';
import { finish, initialRun, type Live, type Moment, type RunState, type Step, stay } from './state.ts';
import { freshTrace, traced } from './traced.ts';
import type { InterruptionWhy, RunEffect, RunInput, RunPhase } from './types.ts';

export { figures, tracePoint } from './figures.ts';
export { initialRun, type RunState, type Step } from './state.ts';

const stop: RunEffect = { type: 'send', command: 'stop' };
const standing: ReadonlySet<RunPhase> = new Set(['taring', 'ready']);
const underWay: ReadonlySet<RunPhase> = new Set(['taring', 'ready', 'turning', 'settling']);

/**
 * The run after one more input, and what the shell is to do. Pure; takes any input in any phase; never throws. A finished run stays
 * as it is until `begin`. The same inputs from `initialRun()` on give the same state to the last digit.
 */
export function reduce(state: RunState, input: RunInput): Step {
  return traced(state, moveOn(state, input));
}

function moveOn(state: RunState, input: RunInput): Step {
  if (input.type === 'begin') {
    return underWay.has(state.phase) ? stay(state) : begun(input);
  }
  if (input.type === 'command' && input.command === 'stop') {
    return stopPressed(state);
  }
  if (!underWay.has(state.phase)) {
    return stay(state);
  }
  switch (input.type) {
    case 'reading':
      return read(state, input.reading);
    case 'armed':
      return armed(state, input.key);
    case 'refused':
      return refused(state, input.command, input.word);
    case 'command':
      return input.command === 'start' ? startPressed(state) : finish(state, 'aborted', '', [stop]);
    case 'link-lost':
      return linkLost(state);
    case 'link-back':
      return linkBack(state, input.armings);
    case 'resumed':
      return Number.isFinite(input.awaySeconds) && Number.isFinite(input.clockSeconds)
        ? stay(resumed(state, input.awaySeconds, input.clockSeconds))
        : stay(state);
    case 'board-reset':
      return finish(state, 'board-reset', input.reset);
    case 'gap':
      return missed(state, wholeLines(input.lines));
    case 'clock':
      return ticked(state, input.seconds);
    case 'interrupted':
      return interrupted(state, input.why);
    default:
      return stay(state);
  }
}

function begun({ plan, stand }: Extract<RunInput, { type: 'begin' }>): Step {
  const fresh: RunState = { ...initialRun(), phase: 'taring', plan, stand };
  try {
    checkPlan(plan, stand);
  } catch (error) {
    const sentence = error instanceof DomainError ? error.message : 'The plan cannot be read.';
    return finish({ ...initialRun(), plan: null, stand: null }, 'refused', sentence);
  }
  const state = {
    ...fresh,
    presetPulses: presetPulsesOf(plan, stand),
    armTries: 1,
    trace: freshTrace(plan, stand),
  };
  return { state, effects: [arm(state)] };
}

function arm(state: RunState): RunEffect {
  return { type: 'send', command: 'arm', mode: state.plan!.mode, pulses: state.presetPulses };
}

function read(state: RunState, reading: Extract<RunInput, { type: 'reading' }>['reading']): Step {
  const next = withReading(state, reading);
  if (next === null) {
    return stay({ ...state, refusedReadings: state.refusedReadings + 1 });
  }
  if (!mayFollowGap(state)) {
    return taken(next, state.now);
  }
  const gap = afterGap(state, next);
  // At which speed the turns of a gap were made nobody knows: they count for none.
  return 'end' in gap
    ? gap.end
    : taken(gap.next, gap.wasGap && state.start !== null ? gap.next.now : state.now);
}

/** `before`: the moment before this reading. */
function taken(next: Live, before: Moment | null): Step {
  switch (next.phase) {
    case 'turning':
      return turningReading(next, before ?? next.now);
    case 'settling':
      return settlingReading(next);
    default:
      return standingReading(next, before);
  }
}

function missed(state: RunState, lines: number): Step {
  return stay({
    ...state,
    lostLines: state.lostLines + lines,
    linesMissing: state.linesMissing + lines,
  });
}

function linkLost(state: RunState): Step {
  return stay({
    ...calledOff(state),
    linkDown: true,
    linkLosses: state.linkLosses + 1,
    away: state.away ?? { cause: 'cable', sinceSeconds: null },
  });
}

function linkBack(state: RunState, armings: number | undefined): Step {
  const why = armedAnew(state, armings);
  if (why === 'reset') return finish(state, 'board-reset', '-');
  if (why !== null) return finish(state, 'interrupted', why);
  return stay({ ...calledOff(state), linkDown: false });
}

function interrupted(state: RunState, why: InterruptionWhy | undefined): Step {
  const away = state.away ?? { cause: 'service' as const, sinceSeconds: null };
  return finish(why === undefined ? state : { ...state, away }, 'interrupted', why);
}

function armed(state: RunState, key: string): Step {
  if (!standing.has(state.phase)) {
    return stay(state);
  }
  const next = { ...state, armKey: key, armAnswered: true };
  return state.startAskedMicros !== null && !state.goSent ? go(next, key) : stay(next);
}

function go(state: RunState, key: string): Step {
  return { state: { ...state, goSent: true }, effects: [{ type: 'send', command: 'go', key }] };
}

/** Times that an arming is tried before a refusal counts. */
const mostTries = 2;

function refused(state: RunState, command: 'arm' | 'go' | 'stop', word: string): Step {
  if (!standing.has(state.phase) || command === 'stop') {
    return stay(state);
  }
  if (command === 'arm') {
    const again = word === 'state' && state.armTries < mostTries;
    return again ? rearmed(state, [stop]) : finish(state, 'refused', word);
  }
  if (state.startAskedMicros === null) {
    return stay(state);
  }
  // The arming has run out between the last reading and `go`.
  const again = (word === 'key' || word === 'state') && state.startTries === 0;
  return again ? rearmed({ ...state, goSent: false }, []) : finish(state, 'refused', word, [stop]);
}

function rearmed(state: RunState, first: RunEffect[]): Step {
  const next = { ...state, armKey: null, armTries: state.armTries + 1, startTries: state.startTries + 1 };
  return { state: next, effects: [...first, arm(next)] };
}

function startPressed(state: RunState): Step {
  const { now, armKey } = state;
  const stopOpen = hasFlag(state, 'stopOpen');
  if (
    state.phase !== 'ready' ||
    state.startAskedMicros !== null ||
    now === null ||
    stopOpen ||
    state.linkDown
  ) {
    return stay(state);
  }
  const next = {
    ...state,
    startAskedMicros: now.micros,
    stopAskedMicros: null,
    goSent: false,
    startTries: 0,
    note: '',
  };
  return armKey === null ? rearmed(next, []) : go(next, armKey);
}

/** Stop always reaches the board, whatever the run is at. */
function stopPressed(state: RunState): Step {
  if (standing.has(state.phase)) {
    return state.goSent ? stopping(state) : finish(state, 'stopped', '', [stop]);
  }
  return state.phase === 'turning' ? stopping(state) : { state, effects: [stop] };
}

function stopping(state: RunState): Step {
  return { state: { ...state, stopAskedMicros: state.now?.micros ?? 0 }, effects: [stop] };
}

/** No start is carried over a lost link, and no tare either. A `go` that is on its way is waited for: the wheel may be turning. */
function calledOff(state: RunState): RunState {
  if (!standing.has(state.phase) || state.goSent) {
    return state;
  }
  return { ...state, startAskedMicros: null, armKey: null, phase: 'taring', tare: null, window: emptyWindow };
}

const wholeLines = (lines: number) => (Number.isSafeInteger(lines) ? Math.max(0, lines) : 0);

function ticked(state: RunState, seconds: number): Step {
  if (!Number.isFinite(seconds)) {
    return stay(state);
  }
  // While this computer stood still nothing could be heard: that time is not the board's silence.
  const stood = Math.max(0, seconds - (state.clockSeconds ?? seconds) - latestTickSeconds);
  const heard = (state.heardSeconds ?? seconds) + stood;
  const next = {
    ...state,
    clockSeconds: seconds,
    heardSeconds: heard,
    stallMicros: stood > 0 ? (state.now?.micros ?? null) : state.stallMicros,
  };
  const patience = state.away?.cause === 'service' ? returnPatienceSeconds : silencePatienceSeconds;
  return seconds - heard > patience ? finish(next, 'link-lost') : stay(next);
}
