import { noiseWhileTurning } from '../domain/rate.ts';
import { emptyWindow } from '../domain/weighing.ts';
import { beginTurning } from './moving.ts';
import { finish, type Live, type RunState, type Step } from './state.ts';
import type { GapCause, InterruptionWhy } from './types.ts';

/**
 * Times without readings. The stand counts turns and weighs on by itself, so a gap costs detail and no total; but what goes on after it must be the
 * same run, and what hangs on the scale the same catch. Where that cannot be known the run is closed as interrupted.
 */

/** A time without readings, board time since the run's first reading, and the wheel's pulses at both ends. */
export interface Gap {
  cause: GapCause;
  fromMicros: number;
  toMicros: number;
  fromNet: number;
  toNet: number;
}

/** No readings since the newest: the stand is away, or this program was. */
export interface Away {
  cause: 'cable' | 'service';
  /** Host seconds (of the run's clock) at which it began; null where nobody knows. */
  sinceSeconds: number | null;
}

/** Shorter times without readings are lost lines and no gap. */
const leastGapMicros = 500_000;
/** A gap so soon after this computer stood still, board time, comes of that: what the system had buffered is read first. */
const stallReachMicros = 5_000_000;
/** Gaps kept one by one; beyond them the last one is made to reach over the rest. */
const mostGaps = 20;
/** No drive wheel turns faster, by hand or by motor. Common practice, no source. */
const mostTurnsASecond = 10;
/** Host and board time may differ by so much over a gap: ticks of a second, the system's start, an honest oscillator. */
const clockSlackSeconds = 5;
const clockSlackShare = 0.02;
/** So much less on the scale is no noise: somebody took the bag off or emptied it. */
const leastDropGrams = 2;
const dropDeviations = 6;

/** The newest reading may follow on a gap. */
export const mayFollowGap = (before: RunState): boolean => before.away !== null || before.linesMissing > 0;

/**
 * A reading after which the gap, if there was one, is closed. `before`: the state before the reading, `next`: with it. Returns a step where the
 * gap decides what becomes of the run, else the state in which it goes on.
 */
export function afterGap(before: RunState, next: Live): { end: Step } | { next: Live; wasGap: boolean } {
  const joined: Live = { ...next, away: null, linesMissing: 0 };
  const last = before.now;
  if (last === null || (before.away === null && next.now.micros - last.micros < leastGapMicros)) {
    return { next: joined, wasGap: false };
  }
  const begun = before.start !== null || before.goSent;
  if (!begun) return { next: joined, wasGap: true };
  const marked: Live = { ...joined, gaps: withGap(before, next) };
  const why = doubtful(before, next);
  if (why !== null) return { end: finish(marked, 'interrupted', why) };
  if (before.start === null) {
    return before.away?.cause === 'service'
      ? { end: startedUnseen(before, marked) }
      : { next: marked, wasGap: true };
  }
  return { next: before.phase === 'settling' ? weighedAnew(marked) : marked, wasGap: true };
}

function withGap(before: RunState, { now }: Live): readonly Gap[] {
  const { micros, net } = before.now!;
  const gap: Gap = {
    cause: causeOf(before),
    fromMicros: micros,
    toMicros: now.micros,
    fromNet: net,
    toNet: now.net,
  };
  const last = before.gaps.at(-1);
  if (last === undefined || before.gaps.length < mostGaps) return [...before.gaps, gap];
  return [...before.gaps.slice(0, -1), { ...last, toMicros: gap.toMicros, toNet: gap.toNet }];
}

function causeOf({ away, stallMicros, now }: RunState): GapCause {
  if (away !== null) return away.cause;
  const stalled = stallMicros !== null && now!.micros - stallMicros < stallReachMicros;
  return stalled ? 'computer' : 'line';
}

/** What is weighed after a gap is weighed anew: nobody saw what became of the bag meanwhile. */
const weighedAnew = (state: Live): Live => ({
  ...state,
  window: emptyWindow,
  stoodMicros: null,
  sinceMicros: state.now.micros,
});

/** Why what comes after the gap cannot be taken for the same run; null where it can. */
function doubtful(before: RunState, next: Live): InterruptionWhy | null {
  if (next.now.state === 'armed')
    return before.start === null && before.away?.cause !== 'service' ? null : 'rearmed';
  if (clocksDisagree(before, next)) return 'clock';
  if (countersLeapt(before, next)) return 'leapt';
  return bagEmptied(before, next) ? 'emptied' : null;
}

/** The board's time goes round in 71 minutes: only the host's time tells whether it has. */
function clocksDisagree(before: RunState, next: Live): boolean {
  const since = before.away?.sinceSeconds ?? null;
  if (before.away?.cause !== 'service' || since === null || before.clockSeconds === null) return false;
  const byBoard = (next.now.micros - before.now!.micros) / 1e6;
  const byHost = before.clockSeconds - since;
  return Math.abs(byBoard - byHost) > clockSlackSeconds + clockSlackShare * byHost;
}

function countersLeapt(before: RunState, { now, stand, presetPulses }: Live): boolean {
  const last = before.now!;
  const pulsesPerTurn = stand!.pulsesPerTurn;
  const pulses = Math.abs(now.net - last.net) + (now.backward - last.backward);
  const most = mostTurnsASecond * pulsesPerTurn * ((now.micros - last.micros) / 1e6);
  const made = now.net - (before.start?.net ?? last.net);
  // The board itself ends a run at the preset count; a turn more is what may have come before `go`.
  return pulses > most || (now.state === 'turning' && made > presetPulses + pulsesPerTurn);
}

function bagEmptied(before: RunState, { now }: Live): boolean {
  const last = before.now!.grams;
  if (last === null || now.grams === null) return false;
  const noise = before.rate === null ? 0 : noiseWhileTurning(before.rate, 1);
  return last - now.grams > leastDropGrams + dropDeviations * noise;
}

/** The start was sent, or may have been, just before this program ended: did the wheel go? */
function startedUnseen(before: RunState, next: Live): Step {
  const { now } = next;
  const last = before.now!;
  const moved = now.net !== last.net;
  const began = now.state === 'turning' || now.state === 'done' || (now.state === 'halted' && moved);
  return began ? beginTurning({ ...next, goSent: true }, last) : finish(next, 'interrupted', 'not-started');
}

/**
 * This program ended in mid-run and has come back after so many host seconds; `clockSeconds` is the run's clock from now on. The readings until
 * then are all there; what the board did meanwhile its next reading tells.
 */
export function resumed(state: RunState, awaySeconds: number, clockSeconds: number): RunState {
  const perhapsStarted = state.phase === 'ready' && state.armKey !== null;
  return {
    ...state,
    goSent: state.goSent || perhapsStarted,
    linkDown: true,
    linkLosses: state.linkLosses + 1,
    clockSeconds,
    heardSeconds: clockSeconds,
    away: { cause: 'service', sinceSeconds: clockSeconds - awaySeconds },
  };
}

/** Whether anything would be gained by going on with a run that was cut off: it was started, or may have been. */
export function canBeTakenUp(state: RunState): boolean {
  if (state.phase === 'turning' || state.phase === 'settling') return true;
  return state.now !== null && (state.goSent || (state.phase === 'ready' && state.armKey !== null));
}

/** What the board's number of armings, as it introduces itself anew, says about the run: null where it may be the same. */
export function armedAnew(state: RunState, armings: number | undefined): 'reset' | InterruptionWhy | null {
  const key = state.armKey === null ? null : Number(state.armKey);
  if (key === null || (state.start === null && !state.goSent)) return null;
  if (armings === undefined) return state.away?.cause === 'service' ? 'cannot-tell' : null;
  if (armings === key % 256) return null;
  return armings === 0 ? 'reset' : 'rearmed';
}
