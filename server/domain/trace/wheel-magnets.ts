/** What a run has shown of each magnet of the wheel, by its number counted from where the run began. */
export interface Magnets {
  /** Usual surprise (logarithm of interval over expectation) at each magnet: uneven turning and magnets off their place. */
  usual: number[];
  /** Whether it was missing, or seen twice, when it last came by: 1 or 0. */
  missing: number[];
  doubled: number[];
  /** How often each was. */
  timesMissing: number[];
  timesDoubled: number[];
}

/** More magnets than this are not told apart: with so many, neighbours tell enough of each other. */
export const mostMagnets = 72;

/** Nor are those of another shaft that do not come round with the wheel: `pulsesPerTurn` is no whole number then. */
const toldApart = (pulsesPerTurn: number): boolean =>
  Number.isInteger(pulsesPerTurn) && pulsesPerTurn <= mostMagnets;

export function unknownMagnets(pulsesPerTurn: number): Magnets {
  const count = toldApart(pulsesPerTurn) ? pulsesPerTurn : 0;
  const none: number[] = Array(count).fill(0);
  return { usual: none, missing: none, doubled: none, timesMissing: none, timesDoubled: none };
}

/** `list` with `value` at `index`; the same list where nothing changes. */
export function withValue(list: number[], index: number, value: number): number[] {
  if (index >= list.length || list[index] === value) return list;
  const copy = list.slice();
  copy[index] = value;
  return copy;
}

/** `list` with one more at `index`. */
export const counted = (list: number[], index: number): number[] =>
  withValue(list, index, (list[index] ?? 0) + 1);

/** Number of places of the turn, few of all, at which nearly all of `times` happened; 0 where there are none such. */
export function placesOf(times: number[]): number {
  const all = times.reduce((sum, count) => sum + count, 0);
  const most = Math.max(1, Math.floor(times.length / 8));
  const often = [...times]
    .sort((one, other) => other - one)
    .slice(0, most)
    .filter((count) => count >= 3);
  const explained = often.reduce((sum, count) => sum + count, 0);
  return explained >= 0.8 * all ? often.length : 0;
}
