/** What a run has shown of each magnet of the wheel, by its number counted from where the run began. */
export interface Magnets {
  /** Usual surprise (logarithm of interval over expectation) at each magnet: uneven turning and magnets off their place. */
  usual: number[];
  /** Whether it was missing, or seen twice, when it last came by: 1 or 0. */
  missing: number[];
  doubled: number[];
}

/** More magnets than this are not told apart: with so many, neighbours tell enough of each other. */
export const mostMagnets = 72;

export function unknownMagnets(pulsesPerTurn: number): Magnets {
  const count = pulsesPerTurn <= mostMagnets ? pulsesPerTurn : 0;
  return { usual: Array(count).fill(0), missing: Array(count).fill(0), doubled: Array(count).fill(0) };
}

/** `list` with `value` at `index`; the same list where nothing changes. */
export function withValue(list: number[], index: number, value: number): number[] {
  if (index >= list.length || list[index] === value) return list;
  const copy = list.slice();
  copy[index] = value;
  return copy;
}
