import type { Gathered } from './evidence.ts';
import type { AdvicePrior } from './types.ts';

/** Spreads of offset and bend as fractions of the target, and how likely such drills are. */
export interface Shape {
  offset: number;
  bend: number;
  chance: number;
}

/**
 * What is believed of a drill before any rate. Common practice, no source: meters leak or starve a little about their closed mark, and
 * their curves are near a straight line; one in ten is quite unlike that.
 */
const shapes: readonly Shape[] = [
  { offset: 0.16, bend: 1e-5, chance: 0.45 },
  { offset: 0.16, bend: 0.07, chance: 0.45 },
  { offset: 0.5, bend: 0.2, chance: 0.1 },
];
/** Straight, to within what nobody sees. */
export const straight = shapes[0]!;
export const mild = shapes[1]!;

/** Steps of the repeatability about the one stated, in natural logarithms, and how sure the stated one is. */
const repeatabilityStep = 0.4;
const repeatabilitySteps = [-4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7, 8] as const;
const repeatabilityDoubt = 0.4;
/** Belief in a quite different one, relative to that in the stated one. */
const surprise = 0.002;
/** So many hand-counted runs, the newest, are asked whether they were miscounted: a bound for the work. */
const mostDoubtful = 10;

/** One way in which a drill and its runs may be. */
export interface Hypothesis {
  repeatability: number;
  shape: Shape;
  miscounted: { name: string; factor: number } | null;
  logPrior: number;
}

/** Every combination of repeatability, shape, and at most one miscounted run. */
export function hypothesesFor({ evidence }: Gathered, prior: AdvicePrior): Hypothesis[] {
  const counts: { miscounted: Hypothesis['miscounted']; logPrior: number }[] = [
    { miscounted: null, logPrior: 0 },
  ];
  const doubtful = evidence.filter(({ turns, miscountChance }) => miscountChance > 0 && turns > 1);
  for (const { name, turns, miscountChance } of doubtful.slice(-mostDoubtful)) {
    const logPrior = Math.log(miscountChance / 2 / (1 - miscountChance));
    for (const factor of [turns / (turns + 1), turns / (turns - 1)]) {
      counts.push({ miscounted: { name, factor }, logPrior });
    }
  }
  return repeatabilitySteps.flatMap((step) => {
    const repeatability = prior.repeatability * Math.exp(repeatabilityStep * step);
    const ofStep = logRepeatabilityPrior(repeatabilityStep * step);
    return counts.flatMap(({ miscounted, logPrior }) =>
      shapes.map((shape) => ({
        repeatability,
        shape,
        miscounted,
        logPrior: ofStep + logPrior + Math.log(shape.chance),
      })),
    );
  });
}

/** Logarithm of the belief in a repeatability so many logarithms off the stated one: near it, and a little of it anywhere. */
function logRepeatabilityPrior(off: number): number {
  return Math.log(Math.exp(-0.5 * (off / repeatabilityDoubt) ** 2) + surprise);
}
