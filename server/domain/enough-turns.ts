import { checked } from './error.ts';
import { normalQuantile } from './statistics.ts';
import { type Grams, grams, type Turns, turns } from './units.ts';

/** How many turns make a test good enough, and what decides it. */

/** What is known of stand and seed before the test. All doubts are standard uncertainties. */
export interface TestNoise {
  /** Catch per turn at the wanted rate, more than 0, all rows caught together. */
  gramsPerTurn: Grams;
  /** Of the difference of tare and final weight, 0 or more; see `weighingDoubt`. */
  weighing: Grams;
  /** Of the count of turns, in turns, 0 or more; see `countingDoubt`. */
  counting: number;
  /** Variance of a catch per gram caught, more than 0, as `lumpiness` or `mixLumpiness` gives it. */
  lumpiness: Grams;
  /** Relative doubt that no number of turns takes away, 0 or more: the scale's slope, repeatability of the metering. */
  fixed: number;
}

/** What limits a test. */
export type TestLimit = 'scale' | 'counting' | 'seed-sampling' | 'fixed';

/** How many turns are enough, or that none are. */
export interface EnoughTurns {
  /** Fewest turns (a fraction) at which all doubts together stay within the tolerance; null when no number is enough. */
  turns: Turns | null;
  /** Catch at these turns. */
  caught: Grams | null;
  /** The doubt that decides. */
  binds: TestLimit;
  /** Fewest turns for each doubt if it were alone. */
  alone: { scale: Turns; counting: Turns; seedSampling: Turns };
  /** All this in words, with what to do. */
  sentence: string;
}

/**
 * Doubt of the difference of two weighings from a display `step` (0 or more) and a standard `noise` of each (0 or more), grams:
 * sqrt(2 (noise² + step² / 12)). Source: JCGM 100:2008, 4.3.7 and F.2.2.1: half a step either way, evenly spread.
 * @throws DomainError for figures below 0.
 */
export function weighingDoubt(step: Grams, noise: Grams): Grams {
  checked(step, { least: 0 }, 'The step of the scale', 'step');
  checked(noise, { least: 0 }, 'The noise of the scale', 'noise');
  return grams(Math.sqrt(2 * (noise ** 2 + step ** 2 / 12)));
}

/**
 * Doubt of a count of turns from `pulsesPerTurn` (1 or more), in turns: where between two pulses the wheel stood at the start and at
 * the end, each anywhere: 1 / (pulses x sqrt(6)). Source: JCGM 100:2008, 4.3.7: difference of two even spreads.
 * @throws DomainError for fewer than 1 pulse a turn.
 */
export function countingDoubt(pulsesPerTurn: number): number {
  checked(pulsesPerTurn, { least: 1 }, 'The pulses per turn', 'pulsesPerTurn');
  return 1 / (pulsesPerTurn * Math.sqrt(6));
}

function checkedNoise(noise: TestNoise): void {
  checked(noise.gramsPerTurn, { above: 0 }, 'The catch per turn', 'gramsPerTurn');
  checked(noise.weighing, { least: 0 }, 'The doubt of the weighing', 'weighing');
  checked(noise.counting, { least: 0 }, 'The doubt of the turns', 'counting');
  checked(noise.lumpiness, { above: 0 }, 'The lumpiness', 'lumpiness');
  checked(noise.fixed, { least: 0 }, 'The fixed doubt', 'fixed');
}

/**
 * Fewest turns N at which the rate of one test stays within `tolerance` (a fraction, above 0 to 1) with the given `confidence` (above 0,
 * below 1): z² ((u_m / (r N))² + (u_N / N)² + L / (r N) + fixed²) = tolerance², solved for N.
 * Source: law of propagation of uncertainty, JCGM 100:2008, 5.1.6; z the normal deviate of the confidence.
 * @throws DomainError for figures out of range.
 */
export function enoughTurns(noise: TestNoise, tolerance: number, confidence = 0.95): EnoughTurns {
  checkedNoise(noise);
  checked(tolerance, { above: 0, most: 1 }, 'The tolerance as a fraction', 'tolerance');
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  const wanted = tolerance / normalQuantile(0.5 + confidence / 2);
  const scale = noise.weighing / noise.gramsPerTurn;
  const seed = noise.lumpiness / noise.gramsPerTurn;
  const alone = {
    scale: turns(scale / wanted),
    counting: turns(noise.counting / wanted),
    seedSampling: turns(seed / wanted ** 2),
  };
  const room = wanted ** 2 - noise.fixed ** 2;
  if (room <= 0) {
    return { turns: null, caught: null, binds: 'fixed', alone, sentence: unreachable };
  }
  const single = scale ** 2 + noise.counting ** 2;
  const count = turns((seed + Math.sqrt(seed ** 2 + 4 * room * single)) / (2 * room));
  const binds = largestAt(count, scale, noise.counting, seed, noise.fixed);
  return {
    turns: count,
    caught: grams(noise.gramsPerTurn * count),
    binds,
    alone,
    sentence: `${inWords(count)}. ${advice[binds]}`,
  };
}

/** The largest of the relative variances after `count` turns. */
function largestAt(count: number, scale: number, counting: number, seed: number, fixed: number): TestLimit {
  const variances: [TestLimit, number][] = [
    ['scale', (scale / count) ** 2],
    ['counting', (counting / count) ** 2],
    ['seed-sampling', seed / count],
    ['fixed', fixed ** 2],
  ];
  return variances.reduce((most, each) => (each[1] > most[1] ? each : most))[0];
}

const unreachable =
  'No number of turns is enough: the scale and the metering themselves repeat less well than the tolerance asks. Repeat the test and take the mean, or allow more.';

const advice: Record<TestLimit, string> = {
  scale: 'The scale decides: a finer scale, or more rows caught together, would do it in fewer turns.',
  counting:
    'The count of turns decides: start and stop at a mark on the wheel, or use a sensor with more pulses a turn.',
  'seed-sampling':
    'The seed decides: so few seeds fall that chance shows. More rows caught together would do it in fewer turns.',
  fixed: 'How well scale and metering repeat decides: more turns help little, repeated tests do.',
};

function inWords(count: number): string {
  const whole = Math.max(1, Math.ceil(count));
  return whole === 1 ? 'One turn is enough' : `${whole} turns are enough`;
}
