import { addToWindow, emptyWindow } from '../domain/weighing.ts';
import { copied } from './copied.ts';
import { fallSeconds } from './limits.ts';
import type { Live, RunState } from './state.ts';

/** True when the wheel has stood for long enough that no seed is falling any more. */
export function wheelStands(state: Live): boolean {
  const { ageMicros } = state.now;
  const moving = state.speed.pulsesPerSecond !== null && state.speed.pulsesPerSecond !== 0;
  return !moving && (ageMicros === null || ageMicros >= fallSeconds * 1e6);
}

/** The window with this reading, or an empty one while the wheel moves. A reading without a weight adds nothing. */
export function weighedOn(state: Live): RunState {
  if (!wheelStands(state)) {
    return { ...state, window: emptyWindow };
  }
  if (state.now.grams === null) {
    return state;
  }
  const next = copied(state);
  next.window = addToWindow(state.window, state.now.micros, state.now.grams);
  return next;
}
