const first = 250;
const longest = 8000;

/**
 * Milliseconds to wait before attempt number `attempt` (0 is the first retry): doubling from 0.25 s, at most 8 s, and spread over
 * the upper half so that many pages do not all come back at once. `random` is a number from 0 to below 1.
 */
export function backoffMillis(attempt: number, random: number): number {
  const ceiling = Math.min(longest, first * 2 ** Math.min(attempt, 20));
  return Math.round(ceiling * (0.5 + random / 2));
}
