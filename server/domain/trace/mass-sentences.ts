/** What the scale tells, in sentences for a mechanic: what was seen, and what to look at. */

export const grams = (value: number): string =>
  Math.abs(value) >= 10 ? `${Math.round(value)} g` : `${Number(value.toPrecision(2))} g`;
const percent = (share: number): string => `${Math.round(100 * Math.abs(share))} %`;

/** "The bag" where there is one, "Bag 3" where there are several. */
export const bagName = (cell: number, cells: number): string => (cells === 1 ? 'the bag' : `bag ${cell + 1}`);
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const cellName = (cell: number, cells: number): string =>
  cells === 1 ? 'the load cell' : `the load cell of bag ${cell + 1}`;

export const massSentences = {
  flowStopped: (cells: number) =>
    `The wheel turns and nothing falls into ${cells === 1 ? 'the bag' : 'any bag'}. Look whether the hopper is empty, seed ` +
    `bridges over the meter, a gate is shut${cells === 1 ? ' or the tube is blocked' : ''}.`,
  tubeBlocked: (cell: number, cells: number, share: number) =>
    share < 0.15
      ? `Nothing falls into bag ${cell + 1} while the other${cells === 2 ? ' fills' : 's fill'}. Look for a blockage in its tube, boot or meter outlet.`
      : `Bag ${cell + 1} gets only ${percent(share)} of what it got before, the others as much as ever. Look for a blockage in its tube, boot or meter outlet.`,
  leak: (cell: number, cells: number, gramsPerSecond: number) =>
    `${capital(bagName(cell, cells))} gains ${grams(gramsPerSecond * 60)} a minute though the wheel stands. Look for seed running through the meter: a worn gate, a shutter not closed.`,
  knocked: (cell: number, cells: number) =>
    `${capital(bagName(cell, cells))} was knocked: the reading swung and came back. The catch is not changed by it; keep hands off the bag while it weighs.`,
  leanedOn: (cell: number, cells: number, step: number) =>
    step > 0
      ? `The reading of ${bagName(cell, cells)} jumped up by ${grams(step)} and stayed there, with no seed to account for it. Look whether something lies or leans on the bag or its hook.`
      : `The reading of ${bagName(cell, cells)} jumped down by ${grams(-step)} and stayed there. Look whether something lifts the bag or holds it, or seed was spilled.`,
  touching: (cell: number, cells: number, atGrams: number, lost: number) =>
    `From a catch of ${grams(atGrams)} on ${bagName(cell, cells)} shows ${percent(lost)} less a turn, all at once. Look whether it touches the floor or the frame; if it hangs free, its tube is partly blocked.`,
  drifts: (change: number, sudden: boolean) =>
    sudden
      ? `The catch per turn ${change > 0 ? 'rose' : 'fell'} by ${percent(change)} at one point of the run and stayed so. Look at the gate and the lever, and whether seed reaches the meter freely.`
      : `The catch per turn ${change > 0 ? 'crept up' : 'crept down'} by ${percent(change)} over the run. Look at the level in the hopper and whether the mix separates: top it up, stir it and repeat.`,
  dead: (cell: number, cells: number, stuck: boolean) =>
    stuck
      ? `${capital(cellName(cell, cells))} always gives the same value, which no live cell does. Look at its amplifier board and its wires.`
      : `${capital(cellName(cell, cells))} gives no value, or one at the end of its range. Look for a loose wire, a wrong plug or an overloaded cell.`,
  noisy: (cell: number | null, cells: number, sigma: number) =>
    `${cell === null ? 'The whole scale' : capital(bagName(cell, cells))} shakes by ${grams(sigma)} from reading to reading, too much to judge the run by. Look for a machine running on the same floor, wind on the bag, or a loose mount.`,
} as const;
