import type { JournalEntry } from '../../server/records/types.ts';
import { replay } from '../../server/run/session-replay.ts';

/** Measured from a bundle, as the program itself is built: module by module the same code takes twice as long. */

/** Rounds: the first ones are spent on the compiler of Node. */
const rounds = 20;

/** Milliseconds that a journal takes from its lines to its figures and its chart, best of twenty. */
export function replayMillis(journal: readonly JournalEntry[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const from = performance.now();
    replay(journal);
    best = Math.min(best, performance.now() - from);
  }
  return best;
}
