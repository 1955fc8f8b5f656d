import { type CheckMass, checkMassOfClass, type MassClass } from '../../server/domain/check-masses.ts';
import { calibrateScale } from '../../server/domain/scale-calibration.ts';
import { slopeDoubtParts, weighedLoad } from '../../server/domain/scale-doubt.ts';
import type { CalibrationStep } from '../../server/domain/scale-steps.ts';
import { halfWidthOfAll } from '../../server/domain/statistics.ts';
import { grams } from '../../server/domain/units.ts';
import { uniformsFrom } from './draws.ts';
import { noiseFrom } from './noise.ts';

/** An imagined scale and what its calibration says of it: each draw a new scale, new masses, a new calibration and an unknown load. */

export interface ImaginedScale {
  massClass: MassClass;
  /** Standard deviation from placing to placing, grams. */
  placing: number;
  /** Standard error of a weighing's readings, grams. */
  noise: number;
  /** Standard deviation, from scale to scale, of the loop between up and down at half load, grams. */
  hysteresis: number;
  /** Standard deviation, from scale to scale, of the creep after a long time, relative to the load. */
  creep: number;
}

const countsPerGram = 420;
const creepSeconds = 60;

/** Nominal masses on the scale, step by step: up, the largest load once, and down again. */
export const upAndDown: readonly (readonly number[])[] = [
  [],
  [50],
  [100],
  [200],
  [100, 200],
  [500],
  [200, 500],
  [500],
  [100, 200],
  [200],
  [100],
  [50],
  [],
];

/** A scale drawn at random: gives the counts of a load that was come to going up or down, creep and all. */
function drawScale(kind: ImaginedScale, normal: () => number, uniform: () => number) {
  const zero = 1e5 * normal();
  const loop = kind.hysteresis * normal();
  const creep = kind.creep * normal();
  const span = 700;
  return (load: number, down: boolean): number => {
    const waited = 5 + 55 * uniform();
    const share = Math.min(1, load / span);
    const shown =
      load * (1 + creep * (1 - Math.exp(-waited / creepSeconds))) +
      (down ? loop * 4 * share * (1 - share) : 0) +
      Math.hypot(kind.placing, kind.noise) * normal();
    return zero + countsPerGram * shown;
  };
}

/** Masses as their class allows them to be: anywhere within the tolerance. */
function trueMasses(masses: readonly CheckMass[], uniform: () => number): Map<number, number> {
  return new Map(
    masses.map(({ grams: nominal, standardDoubt }) => [
      Number(nominal),
      nominal + Math.sqrt(3) * standardDoubt * (2 * uniform() - 1),
    ]),
  );
}

const total = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

/** Shares of `draws` in which the stated 95 % intervals of an unknown load and of the slope hold the truth. */
export function heldShares(kind: ImaginedScale, draws: number, seed: number, plan = upAndDown) {
  const normal = noiseFrom(seed);
  const uniform = uniformsFrom(seed);
  const standardError = kind.noise * countsPerGram;
  const masses = [...new Set(plan.flat())].map((each) => checkMassOfClass(kind.massClass, grams(each)));
  const names = new Map(masses.map(({ grams: nominal, name }) => [Number(nominal), name]));
  let loads = 0;
  let slopes = 0;
  for (let draw = 0; draw < draws; draw += 1) {
    const scale = drawScale(kind, normal, uniform);
    const truth = trueMasses(masses, uniform);
    const steps = plan.map((on, i): CalibrationStep => {
      const down = total(on) < total(plan[i - 1] ?? []);
      const counts = scale(total(on.map((each) => truth.get(each)!)), down);
      return { masses: on.map((each) => names.get(each)!), counts, standardError };
    });
    const calibration = calibrateScale({ masses, steps });
    const unknown = 20 + 680 * uniform();
    const { low, high } = weighedLoad(calibration, scale(unknown, false), standardError);
    loads += low <= unknown && unknown <= high ? 1 : 0;
    const error = Math.abs(calibration.gramsPerCount * countsPerGram - 1);
    slopes += error <= halfWidthOfAll(slopeDoubtParts(calibration), 0.95) ? 1 : 0;
  }
  return { loads: loads / draws, slopes: slopes / draws };
}
