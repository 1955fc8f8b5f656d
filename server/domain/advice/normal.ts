const rootTwoPi = Math.sqrt(2 * Math.PI);

/** Density of the standard normal distribution at `z`. */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / rootTwoPi;
}

/**
 * Probability that a standard normal deviate does not exceed `z` (any number). Error below 1e-15; beyond 8 either way it is 0 or 1.
 * Source: G. Marsaglia, Evaluating the Normal Distribution, Journal of Statistical Software 11(4), 2004: 1/2 + density x (z + z³/3 +
 * z⁵/(3·5) + ...).
 */
export function normalProbability(z: number): number {
  if (z < -8) return 0;
  if (z > 8) return 1;
  const square = z * z;
  let term = z;
  let sum = z;
  for (let odd = 3; Math.abs(term) > 1e-17 * Math.abs(sum); odd += 2) {
    term *= square / odd;
    sum += term;
  }
  return 0.5 + sum * normalDensity(z);
}
