/** How fast the wheel turns, from pulse totals and the age of the newest pulse. All in board time. */

/** Time over which the speed is smoothed, seconds: long enough to steady the figure, short enough to show a change at once. */
const smoothingSeconds = 0.4;
/** The wheel counts as standing when no pulse came for so many times the usual wait, but not before `shortestStill` seconds. */
const stillAfterWaits = 3;
const shortestStill = 1;

/** What the pulses so far tell of the speed: pulses and the time they took, fading with age. Board time, seconds. */
export interface SpeedState {
  /** Time of the newest pulse seen, board seconds, and the totals then; null until one was seen. */
  newest: { seconds: number; net: number } | null;
  /** Fading sums of pulses (forward less backward) and of the time they took. */
  pulses: number;
  seconds: number;
  /** Pulses a second now; null until two pulses were seen. */
  pulsesPerSecond: number | null;
}

/** The state before the first pulse. */
export const unknownSpeed: SpeedState = { newest: null, pulses: 0, seconds: 0, pulsesPerSecond: null };

/**
 * The state after one more reading. `seconds`: board time. `net`: pulses forward less backward. `age`: seconds since the newest
 * pulse at that time, or null when there was none for long.
 */
export function addToSpeed(state: SpeedState, seconds: number, net: number, age: number | null): SpeedState {
  if (age === null) {
    return { ...unknownSpeed, pulsesPerSecond: state.newest === null ? state.pulsesPerSecond : 0 };
  }
  const pulseSeconds = seconds - age;
  if (state.newest === null) {
    return { ...state, newest: { seconds: pulseSeconds, net } };
  }
  const passed = pulseSeconds - state.newest.seconds;
  if (net === state.newest.net || passed <= 0) {
    const { newest, pulses, seconds: took } = state;
    return { newest, pulses, seconds: took, pulsesPerSecond: waiting(state, age) };
  }
  const keep = Math.exp(-passed / smoothingSeconds);
  const pulses = state.pulses * keep + (net - state.newest.net);
  const sumSeconds = state.seconds * keep + passed;
  const newest = { seconds: pulseSeconds, net };
  return { newest, pulses, seconds: sumSeconds, pulsesPerSecond: pulses / sumSeconds };
}

/** No new pulse: the wheel turns at most one pulse in the time waited, and after a long wait it stands. */
function waiting(state: SpeedState, age: number): number | null {
  if (state.seconds === 0) {
    return age >= shortestStill && state.pulsesPerSecond !== null ? 0 : state.pulsesPerSecond;
  }
  const usual = state.pulses / state.seconds;
  if (age >= Math.max(shortestStill, stillAfterWaits / Math.abs(usual))) {
    return 0;
  }
  return Math.sign(usual) * Math.min(Math.abs(usual), 1 / age);
}

/** Turns per minute, or null until known. `pulsesPerTurn` more than 0. */
export function turnsPerMinuteNow(state: SpeedState, pulsesPerTurn: number): number | null {
  return state.pulsesPerSecond === null ? null : (state.pulsesPerSecond * 60) / pulsesPerTurn;
}

/**
 * Turns done, taking the wheel to have gone on evenly since its newest pulse, but by less than a pulse: smoother than the bare
 * count where pulses are few. `net`: pulses since the start.
 */
export function turnsBetweenPulses(
  state: SpeedState,
  net: number,
  age: number | null,
  pulsesPerTurn: number,
): number {
  const beyond = Math.min(1, (age ?? 0) * Math.abs(state.pulsesPerSecond ?? 0));
  return (net + beyond * Math.sign(state.pulsesPerSecond ?? 0)) / pulsesPerTurn;
}

/** Speeds that count as on plan, turns per minute. */
export interface SpeedBand {
  low: number;
  high: number;
}

/** Turns made so far, and those of them at a speed on plan. */
export interface PaceState {
  turns: number;
  onPlan: number;
}

/** The state before the first turn. */
export const noPace: PaceState = { turns: 0, onPlan: 0 };

/** The band about a planned ground speed (metres a second, more than 0). `metresPerTurn`: ground that one turn stands for, slip included. */
export function speedBand(metresPerSecond: number, metresPerTurn: number, tolerance: number): SpeedBand {
  const planned = (60 * metresPerSecond) / metresPerTurn;
  return { low: planned * (1 - tolerance), high: planned * (1 + tolerance) };
}

/** Where a speed lies to the band. */
export function placeIn({ low, high }: SpeedBand, turnsPerMinute: number): 'slow' | 'on-plan' | 'fast' {
  if (turnsPerMinute < low) {
    return 'slow';
  }
  return turnsPerMinute > high ? 'fast' : 'on-plan';
}

/** The state after `turns` more (0 or more) at a speed. */
export function addToPace(
  state: PaceState,
  band: SpeedBand,
  turns: number,
  turnsPerMinute: number | null,
): PaceState {
  const onPlan = turnsPerMinute !== null && placeIn(band, turnsPerMinute) === 'on-plan';
  return { turns: state.turns + turns, onPlan: state.onPlan + (onPlan ? turns : 0) };
}
