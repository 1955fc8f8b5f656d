import { refuse } from '../run/session-refusals.ts';
import type { Outcome } from '../run/session-types.ts';
import type { StartBody } from './messages.ts';

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
  return start.sentAt <= now && now - start.sentAt <= longestMillis ? null : late;
}
