import type { SendResult } from '../link/commands.ts';
import type { Outcome, SessionProblem } from './session-types.ts';

/** What the session says where it cannot do what is asked. */

export const refuse = (code: SessionProblem['code'], message: string): Outcome<never> => ({
  ok: false,
  problem: { code, message },
});

export const runUnderWay = refuse(
  'run-under-way',
  'A run is under way already. Stop it or throw it away first.',
);

export const notConfirmed =
  'The stand has not confirmed Stop. Press the red button on the stand, which cuts the power by wire, and keep clear of the wheel.';

export const notReached =
  'No stand is connected, so Stop could not reach it. A motor stops by itself after one second without the computer; if it does not, press the red button on the stand.';

/** What the run should hear of a command that did not get its yes; null where the next readings tell more than we know. */
export function refusalWord(command: 'arm' | 'go' | 'stop', result: SendResult): string | null {
  if (result.ok || command === 'stop' || result.failure === 'overtaken') return null;
  if (result.failure === 'refused') return result.word;
  // A start without an answer may have been taken: the wheel may be turning.
  return command === 'go' && result.failure === 'no-answer' ? null : result.sentence;
}
