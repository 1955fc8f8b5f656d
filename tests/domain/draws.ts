/** Seeded draws for tests of coverage. */

/** Uniform numbers above 0 and below 1, by the generator mulberry32 (T. Ettinger, public domain). */
export function uniformsFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (((mixed ^ (mixed >>> 14)) >>> 0) + 0.5) / 2 ** 32;
  };
}

/** Count of independent arrivals where `mean` are expected: exponential gaps, added up until the time is over. */
export function poissonDraw(uniform: () => number, mean: number): number {
  let count = -1;
  let time = 0;
  while (time <= mean) {
    count += 1;
    time -= Math.log(uniform());
  }
  return count;
}

/** Share of `draws` for which `hit` is true. */
export function shareOf(draws: number, hit: () => boolean): number {
  let hits = 0;
  for (let draw = 0; draw < draws; draw += 1) {
    hits += Number(hit());
  }
  return hits / draws;
}
