/** Counters that wrap on the wire, made into plain integers that go on growing. */

export const sequenceModulus = 2 ** 16;
export const totalModulus = 2 ** 32;

/** Steps from `last` on to the wrapped `raw`, 0 to modulus - 1. `last` may be unwrapped already. */
export function stepsForward(last: number, raw: number, modulus: number): number {
  const steps = (raw - last) % modulus;
  return steps < 0 ? steps + modulus : steps;
}

/** Steps from `last` to the wrapped `raw` the shorter way round: -modulus/2 to below modulus/2. */
export function stepsNearest(last: number, raw: number, modulus: number): number {
  const steps = stepsForward(last, raw, modulus);
  return steps >= modulus / 2 ? steps - modulus : steps;
}

/** Board time and wheel pulses at one moment. */
export interface Totals {
  boardMicros: number;
  forwardPulses: number;
  backwardPulses: number;
}

const keys = ['boardMicros', 'forwardPulses', 'backwardPulses'] as const;

/** Totals that stand at or after `last`, from the wrapped ones in `raw`. */
export function unwrapForward(last: Totals, raw: Totals): Totals {
  const next = { ...last };
  for (const key of keys) next[key] += stepsForward(last[key], raw[key], totalModulus);
  return next;
}

/** Totals nearest to `last`, before or after it, from the wrapped ones in `raw`. */
export function unwrapNearest(last: Totals, raw: Totals): Totals {
  const next = { ...last };
  for (const key of keys) next[key] += stepsNearest(last[key], raw[key], totalModulus);
  return next;
}

/** True where any total went back. */
export function wentBack(last: Totals, next: Totals): boolean {
  return keys.some((key) => next[key] < last[key]);
}
