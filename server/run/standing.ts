import { emptyWindow, isKnocked, isSettled, weigh } from '../domain/weighing.ts';
import {
  standingPatienceSeconds,
  startPatienceSeconds,
  stopAgainSeconds,
  tarePatienceSeconds,
} from './limits.ts';
import { beginTurning } from './moving.ts';
import { weighingWishOf } from './plan.ts';
import { finish, type Live, type Moment, type RunState, type Step, secondsSince, stay } from './state.ts';
import { weighedOn } from './still.ts';

/** Taring and waiting for Start: the wheel stands, the bag hangs still, and the newest seconds are the tare. */

/** A reading while taring or ready. `before`: the moment before this one. */
export function standingReading(state: Live, before: Moment | null): Step {
  if (state.startAskedMicros !== null) {
    return startingReading(state, before);
  }
  if (secondsSince(state, state.sinceMicros) > standingPatienceSeconds) {
    return finish(state, 'expired', '', [{ type: 'send', command: 'stop' }]);
  }
  if (state.now.state === 'turning') {
    return strayTurning(state);
  }
  const next = tared(weighedOn(forgetArming(state)));
  return stay({ ...next, phase: next.tare !== null && next.armAnswered ? 'ready' : 'taring' });
}

/** The wheel was set going, and not by this run. */
function strayTurning(state: Live): Step {
  const asked = state.stopAskedMicros;
  const next: RunState = { ...state, phase: 'taring', armKey: null, tare: null, window: emptyWindow };
  return asked !== null && secondsSince(state, asked) < stopAgainSeconds
    ? stay(next)
    : { state: { ...next, stopAskedMicros: state.now.micros }, effects: [{ type: 'send', command: 'stop' }] };
}

/** The board lets an arming go after a while; the key is worth nothing then. */
function forgetArming(state: Live): Live {
  const over = state.now.state !== 'armed' && state.now.state !== 'turning';
  return over && state.armKey !== null ? { ...state, armKey: null } : state;
}

/** Takes, renews or drops the tare; looks only when a batch of readings is complete. */
function tared(state: RunState): RunState {
  const { window } = state;
  if (window.batches.length === 0) {
    return { ...state, tare: null, restless: false };
  }
  if (window.open?.readings !== 1) {
    return state;
  }
  const wish = weighingWishOf(state.plan!);
  if (state.tare !== null && isKnocked(window, state.tare, wish)) {
    return { ...state, tare: null, restless: false, window: emptyWindow };
  }
  const weighing = weigh(window);
  if (weighing === null) {
    return state;
  }
  if (isSettled(window, weighing, wish)) {
    return { ...state, tare: weighing, restless: false };
  }
  if (state.tare !== null && !state.restless) {
    return { ...state, tare: weighing };
  }
  const patient = secondsSince(state, state.sinceMicros) <= tarePatienceSeconds;
  return patient ? state : { ...state, tare: weighing, restless: true };
}

/** A reading after Start was pressed: the wheel begins to turn, or it does not. */
function startingReading(state: Live, before: Moment | null): Step {
  const { now } = state;
  const began = state.goSent && (now.state === 'turning' || now.state === 'done' || isFreshHalt(now, before));
  if (began) {
    return beginTurning(state, before ?? now);
  }
  if (secondsSince(state, state.startAskedMicros!) <= startPatienceSeconds) {
    return stay(state);
  }
  if (state.stopAskedMicros !== null) {
    return finish(state, 'stopped', '', [{ type: 'send', command: 'stop' }]);
  }
  return {
    state: { ...state, startAskedMicros: null, goSent: false, armKey: null, note: 'not-started' },
    effects: [{ type: 'send', command: 'stop' }],
  };
}

/** The board went and has stopped again between two readings. */
function isFreshHalt(now: Moment, before: Moment | null): boolean {
  return now.state === 'halted' && now.why !== 'expired' && before?.state !== 'halted';
}
