import type { JournalEntry } from '../../server/records/types.ts';
import { replay } from '../../server/run/session-replay.ts';

/**
 * A program that is sent a journal and tells how many milliseconds it takes from its lines to its figures and its chart. Built and run as the command that
 * computes records anew is: one file, a process of its own; module by module the same code takes twice as long.
 */

/** Rounds: the first ones are spent on the compiler of Node. */
const rounds = 20;

process.once('message', (journal: readonly JournalEntry[]) => {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const from = performance.now();
    replay(journal);
    best = Math.min(best, performance.now() - from);
  }
  process.send?.(best, () => process.disconnect());
});
