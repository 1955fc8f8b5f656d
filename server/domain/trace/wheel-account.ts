import type { Instant } from './finding.ts';
import { counted, type Magnets, unknownMagnets, withValue } from './wheel-magnets.ts';
import { expectedSpeed, type Motion, moved, unknownMotion } from './wheel-motion.ts';
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

/** Accounts less likely by this factor (natural logarithm) are given up. */
export const hopeless = 14;

/** Chances before anything is known of this wheel: a pulse missed or false; the motion jerked (logarithm); the wheel held up for a while. */
const rareFault = 0.001;
const jerkChance = { motor: Math.log(0.003), hand: Math.log(0.01) };
/** Logarithm of the chance that one fault is followed by another at once. */
const another = Math.log(0.3);
/** A motor does not tire. */
const pauseChance = { motor: 5e-5, hand: 5e-4 };
const reverseChance = 0.01;
/** A pulse that seems missed right beside one that seems false is one pulse off its place, nearly always. */
const bothChance = 1e-4;
/** How much a magnet that failed when it last came by is trusted to fail again. */
const failsAgain = 0.7;
const jerkVariance = 0.5 ** 2;
/** A wheel is not held up and set off again in less, seconds. */
const shortestPause = 0.25;
const mostMissedAtOnce = 3;
/** Density of the logarithm of an interval in which the wheel was held up or rolled back. */
const pauseDensity = 0.2;

const ofLog = (variance: number, error: number) =>
  -0.5 * ((error * error) / variance + Math.log(2 * Math.PI * variance));

/** Everything that may have happened to `account` in `step`; the wheel's speed is known. */
export function branchesOf(account: Account, step: WheelStep): Branch[] {
  const passed = step.seconds - account.motion.seconds;
  const expected = expectedSpeed(account.motion, passed) * passed;
  const counted = step.forward + account.ahead;
  const forwards = [
    ...trueNewest(account, counted, expected),
    ...falseNewest(account, counted, expected),
    ...heldUp(account, counted, passed, expected),
  ];
  if (step.backward === 0) return forwards;
  // Backward pulses are either false, or the wheel rolled back.
  const falsely = step.backward * chances(account).doubled;
  const { backward } = step;
  const chattered = forwards.map((branch) => ({
    ...branch,
    weight: branch.weight + falsely,
    doubled: branch.doubled + backward,
  }));
  const weight = account.weight + Math.log(reverseChance * pauseDensity);
  return [...chattered, { ...plain(account, weight, counted - backward), motion: 'starts anew' }];
}

const plain = (from: Account, weight: number, spacings: number | null): Branch => {
  return { from, weight, spacings, missed: 0, doubled: 0, surprise: 0, bare: 0, motion: 'goes on' };
};

/** What a branch holds to have happened, before it is weighed. */
type Event = Pick<Branch, 'missed' | 'doubled'> & { spacings: number; chance: number };

/** The newest pulse is true; before it some were missed, or were false, or neither. */
function trueNewest(account: Account, counted: number, expected: number): Branch[] {
  const { magnet, magnets, newest } = account;
  const fault = chances(account);
  const branches: Branch[] = [];
  let best = Number.NEGATIVE_INFINITY;
  const add = (event: Event) => {
    const branch = weighed(account, event, counted === 1, expected);
    best = Math.max(best, branch.weight);
    if (branch.weight >= best - hopeless) branches.push(branch);
  };
  const next = (magnet + 1) % Math.max(1, magnets.missing.length);
  const failed = counted === 1 && magnets.missing[next] === 1;
  add({ spacings: counted, missed: 0, doubled: 0, chance: failed ? Math.log(1 - failsAgain) : 0 });
  const beside = newest === 'false' ? Math.log(bothChance) : 0;
  for (let missed = 1; missed <= mostMissedAtOnce; missed++) {
    const chance = (failed ? Math.log(failsAgain) : fault.missed) + beside + (missed - 1) * another;
    add({ spacings: counted + missed, missed, doubled: 0, chance });
  }
  for (let doubled = 1; doubled < Math.min(4, counted); doubled++) {
    add({ spacings: counted - doubled, missed: 0, doubled, chance: fault.doubled + (doubled - 1) * another });
  }
  return branches;
}

/** How well the wheel's motion bears out an event, evenly or with a jerk, whichever is likelier. `single`: the step has one pulse. */
function weighed(account: Account, event: Event, single: boolean, expected: number): Branch {
  const { motion, magnets } = account;
  const { spacings, missed, doubled, chance } = event;
  const usual = single ? (magnets.usual[at(account, spacings)] ?? 0) : 0;
  const bare = Math.log(spacings / expected);
  // The longer the step, the less the speed before it tells.
  const reach = 1 + ((spacings - 1) / 2) ** 2;
  const variance = motion.variance * reach + motion.fresh;
  const told = usual * usual > variance / 9;
  // What is usual at a magnet may have been a chance: it is believed no more than its absence.
  const before = account.weight + chance - (told ? Math.LN2 : 0);
  const surprise = told && Math.abs(bare) < Math.abs(bare - usual) ? bare : bare - usual;
  const even = before + ofLog(variance, surprise);
  const jerky = before + jerkChance[account.drive] + ofLog(variance + jerkVariance, surprise);
  const weight = Math.max(even, jerky);
  const how = jerky > even ? 'jerks' : 'goes on';
  return { from: account, weight, spacings, missed, doubled, surprise, bare, motion: how };
}

/** The newest pulse is false: it may come anywhere between two true ones. */
function falseNewest(account: Account, counted: number, expected: number): Branch[] {
  const into = expected - (counted - 1);
  if (into <= 0 || into >= 1.2) return [];
  const again = account.magnets.doubled[account.magnet] === 1;
  const chance = again ? Math.log(failsAgain) : chances(account).doubled;
  const beside = account.newest === 'missed' ? Math.log(bothChance) : 0;
  const weight = account.weight + chance + beside + Math.log(expected);
  return [{ ...plain(account, weight, null), doubled: 1 }];
}

/** The wheel was held up, and goes on as before or starts anew. */
function heldUp(account: Account, counted: number, passed: number, expected: number): Branch[] {
  const late = passed * (1 - counted / expected);
  if (late < shortestPause) return [];
  const branch = plain(
    account,
    account.weight + Math.log(pauseChance[account.drive] * pauseDensity),
    counted,
  );
  return [
    { ...branch, motion: 'pauses' },
    { ...branch, motion: 'starts anew' },
  ];
}

/** Logarithms of the chance of a fault, learnt from what this account holds to have happened. */
function chances({ missed, doubled, steps }: Account): { missed: number; doubled: number } {
  const of = (count: number) => Math.log(rareFault + count / (steps + 50));
  return { missed: of(missed), doubled: of(doubled) };
}

function at({ magnet, magnets }: Account, spacings: number): number {
  return (magnet + spacings) % Math.max(1, magnets.usual.length);
}

/** The account that `branch` leads to. */
export function follow(branch: Branch, step: WheelStep, instant: Instant): Account {
  const { from, weight, spacings, missed, doubled } = branch;
  const next: Account = {
    ...from,
    weight,
    steps: from.steps + 1,
    missed: from.missed + missed,
    doubled: from.doubled + doubled,
    falseBackward: from.falseBackward + (branch.motion === 'starts anew' ? 0 : step.backward),
    newest: missed > 0 ? 'missed' : spacings === null ? 'false' : 'sound',
    firstMissed: from.firstMissed ?? (missed > 0 ? instant : null),
    firstDoubled: from.firstDoubled ?? (doubled > 0 ? instant : null),
    newestMissed: missed > 0 ? instant : from.newestMissed,
    newestDoubled: doubled > 0 ? instant : from.newestDoubled,
  };
  if (spacings === null) return falsePulse(next, step);
  const single = step.forward + from.ahead === 1 && step.backward === 0;
  const steady = branch.motion === 'goes on' || branch.motion === 'jerks';
  const magnet = at(from, Math.max(0, spacings));
  const visits = from.visits + 1 / Math.max(1, from.magnets.usual.length);
  const magnets = single && steady ? learn(branch, magnet, missed) : from.magnets;
  return { ...next, motion: motionAfter(branch, step.seconds), ahead: 0, magnet, magnets, visits };
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
  return { ...magnets, usual, missing, timesMissing };
}
