import { addToRate, freshRate } from '../domain/rate.ts';
import { addToPace, type PaceState, turnsBetweenPulses, turnsPerMinuteNow } from '../domain/speed.ts';
import { emptyWindow, isSettled, weigh } from '../domain/weighing.ts';
import type { EndReason } from '../link/readings.ts';
import { copied } from './copied.ts';
import { onsetSeconds, settlePatienceSeconds, stopAgainSeconds, wheelPatienceSeconds } from './limits.ts';
import { ageSeconds } from './moment.ts';
import { rateKnowledgeOf, speedBandOf, weighingWishOf } from './plan.ts';
import { finish, type Live, type Moment, type Step, secondsSince, stay } from './state.ts';
import { weighedOn, wheelStands } from './still.ts';
import type { RunOutcome } from './types.ts';

/** The wheel turns, then coasts, and the catch comes to rest. */

/** The first reading of a board that has gone. `before`: the last moment before it went; the wheel's start is counted from there. */
export function beginTurning(state: Live, before: Moment): Step {
  const start = { micros: before.micros, net: before.net, backward: before.backward };
  const { plan, tare } = state;
  const rate = tare === null ? null : freshRate(rateKnowledgeOf(plan!, tare));
  const next = {
    ...state,
    phase: 'turning' as const,
    start,
    rate,
    startAskedMicros: null,
    window: emptyWindow,
  };
  return turningReading(next, before);
}

/** `before`: the last moment before this reading. */
export function turningReading(state: Live, before: Moment): Step {
  const { now } = state;
  if (now.state === 'idle' || now.state === 'armed') {
    return finish(state, 'board-reset', '-');
  }
  const movedMicros = state.movedMicros ?? firstMove(state);
  const pace = paced(state, before);
  const next = copied(state) as Live;
  next.movedMicros = movedMicros;
  next.pace = pace;
  next.rate = estimated(state, movedMicros);
  if (now.state !== 'turning') {
    return stay({ ...next, phase: 'settling', sinceMicros: now.micros, window: emptyWindow });
  }
  if (state.stopAskedMicros !== null && secondsSince(state, state.stopAskedMicros) >= stopAgainSeconds) {
    return { state: { ...next, stopAskedMicros: now.micros }, effects: [{ type: 'send', command: 'stop' }] };
  }
  return stay(next);
}

/** When the wheel first moved, if that is now. */
function firstMove({ now, start }: Live): number | null {
  return now.net === start!.net ? null : now.micros;
}

/** How many turns were made at a speed on plan. */
function paced(state: Live, before: Moment): PaceState {
  const band = speedBandOf(state.plan!);
  const turns = (state.now.net - before.net) / state.stand!.pulsesPerTurn;
  if (band === null || turns <= 0) {
    return state.pace;
  }
  return addToPace(state.pace, band, turns, turnsPerMinuteNow(state.speed, state.stand!.pulsesPerTurn));
}

/** The rate as it forms, from readings in which seed arrives evenly. */
function estimated({ now, stand, tare, start, rate, speed }: Live, movedMicros: number | null) {
  if (movedMicros === null || tare === null || rate === null) {
    return rate;
  }
  const { pulsesPerTurn } = stand!;
  const turns = turnsBetweenPulses(speed, now.net - start!.net, ageSeconds(now), pulsesPerTurn);
  const even = now.micros - movedMicros >= onsetSeconds * 1e6;
  const grams = even && now.grams !== null ? now.grams - tare.grams : null;
  return addToRate(rate, now.micros, turns, grams);
}

export function settlingReading(state: Live): Step {
  const next = weighedOn(state);
  if (!wheelStands(state)) {
    const tired = secondsSince(state, state.sinceMicros) > wheelPatienceSeconds;
    return tired ? finish({ ...next, restless: true }, outcomeOf(state.now)) : stay(next);
  }
  const weighing = next.window.open?.readings === 1 ? weigh(next.window) : null;
  if (weighing !== null && isSettled(next.window, weighing, weighingWishOf(state.plan!))) {
    return finish({ ...next, final: weighing, restless: state.restless }, outcomeOf(state.now));
  }
  // Patience runs from when the wheel came to stand: until then the window is empty and starts anew.
  const standing = state.stoodMicros ?? state.now.micros;
  if (secondsSince(state, standing) > settlePatienceSeconds) {
    return finish({ ...next, final: weigh(next.window), restless: true }, outcomeOf(state.now));
  }
  return stay({ ...next, stoodMicros: standing });
}

const outcomes: Partial<Record<EndReason, RunOutcome>> = {
  preset: 'complete',
  button: 'stop-button',
  silent: 'host-silent',
  reverse: 'reversed',
  stalled: 'stalled',
};

/** How the board says that the turning ended. */
function outcomeOf(now: Moment): RunOutcome {
  return now.state === 'done' ? 'complete' : (outcomes[now.why] ?? 'stopped');
}
