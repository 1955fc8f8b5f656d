/** Seeded random numbers for tests: uniform from xorshift32 (Marsaglia 2003), normal by Box and Muller (1958). */
export function noiseFrom(seed: number): () => number {
  let x = seed * 2654435761 || 1;
  const uniform = () => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return ((x >>> 0) + 0.5) / 2 ** 32;
  };
  for (let skip = 0; skip < 10; skip += 1) uniform();
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

export const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

export const spread = (values: readonly number[]) => {
  const centre = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1));
};
