import type { RunPhase } from '../../../server/run/types.ts';
import type { LiveState } from './live.ts';

/** What a person can do to a run. */
export const acts = ['arm', 'start', 'stop', 'abort'] as const;
export type Act = (typeof acts)[number];

export type Hint =
  | 'no-page'
  | 'no-stand'
  | 'connect'
  | 'save-plan'
  | 'arm'
  | 'arm-again'
  | 'use-setting'
  | 'taring'
  | 'start-motor'
  | 'start-hand'
  | 'turning-motor'
  | 'turning-hand'
  | 'settling';

export interface Situation {
  allowed: Record<Act, boolean>;
  /** The one obvious next act; null while there is nothing to do but wait. */
  next: Act | 'connect' | 'save-plan' | null;
  hint: Hint;
}

const underWay: readonly RunPhase[] = ['taring', 'ready', 'turning', 'settling'];
const canTurn: readonly RunPhase[] = ['taring', 'ready', 'turning'];

/** True while the wheel turns or could be made to, as far as this page knows. */
export const mayTurn = (state: LiveState): boolean =>
  state.run !== null && canTurn.includes(state.run.figures.phase);

/** What can be done now, and what to do next. Stop is never taken away: the page may know less than there is. */
export function situation(state: LiveState, planHasChanges: boolean): Situation {
  const { run, link } = state;
  const none = { arm: false, start: false, stop: true, abort: false };
  if (state.socket !== 'open' || run === null) return { allowed: none, next: null, hint: 'no-page' };
  const { phase } = run.figures;
  const running = { ...none, abort: underWay.includes(phase) };
  const connected = link?.condition === 'connected';
  if (running.abort && !connected) return { allowed: running, next: null, hint: 'no-stand' };
  switch (phase) {
    case 'taring':
      return { allowed: running, next: null, hint: 'taring' };
    case 'ready':
      return { allowed: { ...running, start: true }, next: 'start', hint: `start-${run.plan.mode}` };
    case 'turning':
      return { allowed: running, next: 'stop', hint: `turning-${run.plan.mode}` };
    case 'settling':
      return { allowed: running, next: null, hint: 'settling' };
    default:
      if (!connected) return { allowed: none, next: 'connect', hint: 'connect' };
      if (planHasChanges) return { allowed: none, next: 'save-plan', hint: 'save-plan' };
      return { allowed: { ...none, arm: true }, next: 'arm', hint: phase === 'idle' ? 'arm' : 'arm-again' };
  }
}

/**
 * Whether a key stops the run: Escape always, the space bar unless it is writing a space. No key is bound to start: starting takes a press on the
 * Start button itself.
 */
export function isStopKey(key: string, inTextField: boolean, state: LiveState): boolean {
  if (!mayTurn(state)) return false;
  return key === 'Escape' || (key === ' ' && !inTextField);
}
