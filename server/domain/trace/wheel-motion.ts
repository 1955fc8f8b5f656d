/**
 * The wheel's motion as its pulses show it: where it is expected to have come to, and how well such expectations have held in this
 * run. Speeds in spacings of the sensor's pulses per second.
 */
export interface Motion {
  /** Time of the newest pulse that is believed, seconds. */
  seconds: number;
  /** Speed at that time, 0 while unknown, and its change per second. */
  speed: number;
  acceleration: number;
  /** Variance of the logarithm of interval over expectation, learnt from this run, and how much it rests on. */
  variance: number;
  learnt: number;
  /** Further variance while the motion is young: after standstill, or when what drives the wheel has changed. */
  fresh: number;
}

export const unknownMotion: Motion = {
  seconds: 0,
  speed: 0,
  acceleration: 0,
  variance: 0.15 ** 2,
  learnt: 4,
  fresh: 1,
};

/** An acceleration lasts about so long, seconds. */
const accelerationLasts = 0.5;
const memory = 16;
const leastVariance = 0.015 ** 2;
/** Share of a surprise that goes into the speed and into its change. */
const speedGain = 0.7;
const accelerationGain = 0.5;

/** Mean speed expected over the next `passed` seconds; above 0 where the speed is known. */
export function expectedSpeed({ speed, acceleration }: Motion, passed: number): number {
  const reach = accelerationLasts * (1 - Math.exp(-passed / accelerationLasts));
  return Math.max(speed / 4, speed + (acceleration * reach) / 2);
}

/** The motion after a believed pulse that came `passed` seconds and `spacings` (1 or more) after the one before. */
export function moved(motion: Motion, passed: number, spacings: number, surprise: number): Motion {
  const seconds = motion.seconds + passed;
  const seen = spacings / passed;
  if (motion.speed === 0) return { ...motion, seconds, speed: seen, acceleration: 0 };
  const mean = expectedSpeed(motion, passed);
  const kept = Math.exp(-passed / accelerationLasts);
  const acceleration = kept * motion.acceleration + (accelerationGain * (seen - mean)) / passed;
  const speed = Math.max(seen / 4, mean + speedGain * (seen - mean) + (acceleration * passed) / 2);
  const learnt = Math.min(memory, motion.learnt + 1);
  // A single surprise counts for no more than three of the usual ones.
  const square = Math.min(surprise ** 2, 9 * motion.variance);
  const young = motion.fresh > 0.01;
  const variance = young
    ? motion.variance
    : Math.max(leastVariance, motion.variance + (square - motion.variance) / learnt);
  return {
    seconds,
    speed,
    acceleration,
    variance,
    learnt: young ? motion.learnt : learnt,
    fresh: motion.fresh / 4,
  };
}
