import type { Instant } from './finding.ts';
import { counted, type Magnets, unknownMagnets, withValue } from './wheel-magnets.ts';
import { type Motion, moved, unknownMotion } from './wheel-motion.ts';
import type { WheelStep } from './wheel-steps.ts';

/**
 * One account of what the wheel sensor has shown: which pulses were missed, which were false. Accounts branch at every step and
 * are weighed by how evenly the wheel would have turned; see wheel-accounts.ts.
 */
export interface Account {
  drive: 'motor' | 'hand';
  /** Logarithm of its probability, up to what all accounts share. */
  weight: number;
  missed: number;
  /** False pulses, and how many of them were counted backwards. */
  doubled: number;
  falseBackward: number;
  /** How long after the true pulse before them false ones came, on average, seconds. */
  falseDelay: number;
  /** What the newest step was held to show: nothing wrong, pulses missed, or a false one. */
  newest: 'sound' | 'missed' | 'false';
  /** Steps taken in. */
  steps: number;
  motion: Motion;
  /** True pulses since the newest believed one whose times are not known. */
  ahead: number;
  /** Number of the magnet seen last. */
  magnet: number;
  magnets: Magnets;
  /** Turns of the wheel with a known usual. */
  visits: number;
  firstMissed: Instant | null;
  firstDoubled: Instant | null;
  newestMissed: Instant | null;
  newestDoubled: Instant | null;
}

/** What may have happened in a step. */
export interface Branch {
  from: Account;
  weight: number;
  /** Spacings that the wheel went on, or null where the newest pulse is false. */
  spacings: number | null;
  missed: number;
  doubled: number;
  /** Logarithm of interval over expectation: less what is usual at the magnet, and as it is. */
  surprise: number;
  bare: number;
  motion: 'goes on' | 'jerks' | 'pauses' | 'starts anew';
}

/** What can be told before the first pulse: nothing. */
export function firstAccount(pulsesPerTurn: number, drive: 'motor' | 'hand'): Account {
  return {
    drive,
    weight: 0,
    missed: 0,
    doubled: 0,
    falseBackward: 0,
    falseDelay: 0,
    newest: 'sound',
    steps: 0,
    motion: unknownMotion,
    ahead: 0,
    magnet: 0,
    magnets: unknownMagnets(pulsesPerTurn),
    visits: 0,
    firstMissed: null,
    firstDoubled: null,
    newestMissed: null,
    newestDoubled: null,
  };
}

/** Variance of the logarithm of the speed that a jerk brings. */
export const jerkVariance = 0.5 ** 2;

/** Number of the magnet that comes by `spacings` after the account's newest. */
export function magnetAt({ magnet, magnets }: Account, spacings: number): number {
  return (magnet + spacings) % Math.max(1, magnets.usual.length);
}

/** The account that `branch` leads to, at that weight. */
export function follow(branch: Branch, weight: number, step: WheelStep, instant: Instant): Account {
  const { from, spacings, missed, doubled } = branch;
  const isFalse = spacings === null;
  const next: Account = {
    drive: from.drive,
    weight,
    missed: from.missed + missed,
    doubled: from.doubled + doubled,
    falseBackward: from.falseBackward + (branch.motion === 'starts anew' ? 0 : step.backward),
    falseDelay: from.falseDelay,
    newest: missed > 0 ? 'missed' : isFalse ? 'false' : 'sound',
    steps: from.steps + 1,
    motion: isFalse ? from.motion : motionAfter(branch, step.seconds),
    ahead: isFalse ? from.ahead : 0,
    magnet: isFalse ? from.magnet : magnetAt(from, Math.max(0, spacings)),
    magnets: isFalse ? from.magnets : magnetsAfter(branch, step),
    visits: isFalse ? from.visits : from.visits + 1 / Math.max(1, from.magnets.usual.length),
    firstMissed: from.firstMissed ?? (missed > 0 ? instant : null),
    firstDoubled: from.firstDoubled ?? (doubled > 0 ? instant : null),
    newestMissed: missed > 0 ? instant : from.newestMissed,
    newestDoubled: doubled > 0 ? instant : from.newestDoubled,
  };
  return isFalse ? falsePulse(next, step) : next;
}

/** What is known of the magnets after a true pulse: one that came by itself and on time tells of its own. */
function magnetsAfter(branch: Branch, step: WheelStep): Magnets {
  const { from, motion, spacings, missed } = branch;
  const single = step.forward + from.ahead === 1 && step.backward === 0;
  const steady = motion === 'goes on' || motion === 'jerks';
  return single && steady ? learn(branch, magnetAt(from, Math.max(0, spacings!)), missed) : from.magnets;
}

function motionAfter({ from, motion: how, spacings, surprise }: Branch, seconds: number): Motion {
  const { motion } = from;
  if (how === 'pauses') return { ...motion, seconds, acceleration: 0, fresh: 0.1 };
  if (how === 'starts anew') return { ...motion, seconds, speed: 0, acceleration: 0, fresh: 1 };
  const passed = seconds - motion.seconds;
  if (how === 'goes on') return moved(motion, passed, spacings!, surprise);
  const fresh = (motion.fresh + jerkVariance) / 4;
  return { ...motion, seconds, speed: spacings! / passed, acceleration: 0, fresh };
}

/** Two pulses in one reading come within half its length of each other, on average; a false one by itself shows its delay. */
const halfReading = 0.006;

function falsePulse(account: Account, { forward, seconds }: WheelStep): Account {
  const { ahead, magnets, magnet, doubled, motion } = account;
  const single = ahead + forward === 1;
  const delay = single ? seconds - motion.seconds : halfReading;
  const falseDelay = account.falseDelay + (delay - account.falseDelay) / doubled;
  const marked = single ? withValue(magnets.doubled, magnet, 1) : magnets.doubled;
  const timesDoubled = single ? counted(magnets.timesDoubled, magnet) : magnets.timesDoubled;
  return {
    ...account,
    falseDelay,
    ahead: ahead + forward - 1,
    magnets: { ...magnets, doubled: marked, timesDoubled },
  };
}

/** What one pulse by itself tells of its magnet and of those missing before it. */
function learn({ from, bare }: Branch, magnet: number, missed: number): Magnets {
  const { magnets, visits, motion } = from;
  const count = magnets.usual.length;
  if (count === 0) return magnets;
  let { usual, missing, timesMissing } = magnets;
  missing = withValue(missing, magnet, 0);
  for (let back = 1; back <= missed; back++) {
    const gone = (magnet - back + 4 * count) % count;
    missing = withValue(missing, gone, 1);
    timesMissing = counted(timesMissing, gone);
  }
  if (motion.fresh < 0.01 && missed === 0) {
    const off = Math.max(-0.7, Math.min(0.7, bare)) - usual[magnet]!;
    usual = withValue(usual, magnet, usual[magnet]! + off / Math.min(5, 1 + Math.floor(visits)));
  }
  const { doubled, timesDoubled } = magnets;
  return { usual, missing, doubled, timesMissing, timesDoubled };
}
