import { type Account, type Branch, jerkVariance, magnetAt } from './wheel-account.ts';
import { expectedSpeed } from './wheel-motion.ts';
import type { WheelStep } from './wheel-steps.ts';

/** What may have happened between two steps of the wheel, and how likely each is. */

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
  const fault = chances(account);
  const forwards = trueNewest(account, counted, expected, fault);
  addFalseNewest(forwards, account, counted, expected, fault);
  addHeldUp(forwards, account, counted, passed, expected);
  if (step.backward === 0) return forwards;
  // Backward pulses are either false, or the wheel rolled back.
  const falsely = step.backward * fault.doubled;
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
function trueNewest(account: Account, counted: number, expected: number, fault: Fault): Branch[] {
  const { magnet, magnets, newest } = account;
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
  const usual = single ? (magnets.usual[magnetAt(account, spacings)] ?? 0) : 0;
  const bare = Math.log(spacings / expected);
  // The longer the step, the less the speed before it tells.
  const reach = 1 + (spacings - 1) ** 2;
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
function addFalseNewest(
  branches: Branch[],
  account: Account,
  counted: number,
  expected: number,
  fault: Fault,
): void {
  const into = expected - (counted - 1);
  if (into <= 0 || into >= 1.2) return;
  const again = account.magnets.doubled[account.magnet] === 1;
  const chance = again ? Math.log(failsAgain) : fault.doubled;
  const beside = account.newest === 'missed' ? Math.log(bothChance) : 0;
  const weight = account.weight + chance + beside + Math.log(expected);
  branches.push({ ...plain(account, weight, null), doubled: 1 });
}

/** The wheel was held up, and goes on as before or starts anew. */
function addHeldUp(
  branches: Branch[],
  account: Account,
  counted: number,
  passed: number,
  expected: number,
): void {
  const late = passed * (1 - counted / expected);
  if (late < shortestPause) return;
  const branch = plain(
    account,
    account.weight + Math.log(pauseChance[account.drive] * pauseDensity),
    counted,
  );
  branches.push({ ...branch, motion: 'pauses' }, { ...branch, motion: 'starts anew' });
}

/** Logarithms of the chance of a fault. */
interface Fault {
  missed: number;
  doubled: number;
}

/** Learnt from what this account holds to have happened. */
function chances({ missed, doubled, steps }: Account): Fault {
  const of = (count: number) => Math.log(rareFault + count / (steps + 50));
  return { missed: of(missed), doubled: of(doubled) };
}
