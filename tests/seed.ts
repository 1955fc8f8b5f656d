import fc from 'fast-check';

/**
 * Properties draw the same inputs at every run, so that a change that fails is at fault itself and not the day's luck. `CATCHBENCH_SEED=wander`
 * draws afresh, `CATCHBENCH_SEED=<number>` draws again what a wandering run printed.
 */
const asked = process.env.CATCHBENCH_SEED ?? '20261125';
if (asked !== 'wander') {
  const seed = Number(asked);
  if (!Number.isInteger(seed)) throw new Error(`CATCHBENCH_SEED is a whole number or wander, not ${asked}`);
  fc.configureGlobal({ seed });
}
