import { refuse } from '../run/session-refusals.ts';
import type { Outcome } from '../run/session-types.ts';
import type { StartBody } from './messages.ts';
import type { CheckActBody } from './stand-messages.ts';

/** Longest time from the sending of what a page shows to the arrival of its start, milliseconds: pages are told once a second at least. */
const longestMillis = 5000;

const late = refuse(
  'not-ready',
  'This start came late: the page had not heard from the stand for some seconds, or the network held it back. Nothing was started. Keep clear, look, then press Start again.',
);
const otherRun = refuse(
  'not-ready',
  'This start was meant for another run than the one in hand. Nothing was started. Look at the page, then press Start again.',
);

/**
 * Why a start must not turn the wheel now, or null. A network that comes back delivers what was pressed long before, when nobody expects it any more;
 * and a page left open may show a run that is over. `run`: the number of the run in hand; `now` and the start's own time on the service's clock.
 */
export function whyNotNow(start: StartBody, run: string | null, now: number): Outcome<never> | null {
  if (start === null) return null;
  if (start.run !== run) return otherRun;
  return isLate(start.sentAt, now) ? late : null;
}

/** Whether what was sent at `sentAt` is answered too late now, or was sent by a service before this one. */
const isLate = (sentAt: number, now: number): boolean => sentAt > now || now - sentAt > longestMillis;

const lateAnswer = refuse(
  'refused',
  'This answer came late, for the network held it back. Nothing was done. Look at what it asks now, then answer.',
);

/** Why an answer to the check of the stand must do nothing now, or null: the same, but for what only stops or leaves out. */
export function whyNoAnswerNow({ do: word, sentAt }: CheckActBody, now: number): Outcome<never> | null {
  const harmless = word === 'no' || word === 'skip';
  return harmless || sentAt === undefined || !isLate(sentAt, now) ? null : lateAnswer;
}
