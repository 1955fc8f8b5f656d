import type { Instant } from './finding.ts';
import { type Account, type Branch, firstAccount, follow } from './wheel-account.ts';
import { branchesOf, hopeless } from './wheel-branches.ts';
import type { WheelStep } from './wheel-steps.ts';

/**
 * The likeliest accounts of what the sensor has shown, best first. Among them always the best that has no pulse missed and the
 * best that has none doubled: what these are worth less is the evidence that pulses were missed or doubled. A Bayesian search
 * with a beam, in the manner of multiple-hypothesis tracking (Reid 1979, IEEE Trans. Autom. Control 24, 843; from memory).
 */
export type Accounts = readonly Account[];

export const firstAccounts = (pulsesPerTurn: number, drive: 'motor' | 'hand'): Accounts => [
  firstAccount(pulsesPerTurn, drive),
];

const mostAccounts = 8;

/** The accounts after one more step, which brought the count to `instant`. */
export function weigh(accounts: Accounts, step: WheelStep, instant: Instant): Accounts {
  const branches: Branch[] = [];
  for (const account of accounts) {
    for (const branch of begins(account, step) ?? branchesOf(account, step)) branches.push(branch);
  }
  const kept = best(branches);
  if (kept.length === 0) return accounts;
  const top = kept[0]!.weight;
  const followed = kept.map((branch) => follow(branch, branch.weight - top, step, instant));
  return followed.map((account) => agreeing(account, followed[0]!));
}

/** Speeds this near each other are the same motion. */
const sameMotion = 0.02;

/**
 * Accounts that agree on the motion share the best one's idea of how uneven it is. Otherwise one that went wrong in the past would
 * lose, pulse for pulse, for remembering that, and the past would be counted many times over.
 */
function agreeing(account: Account, best: Account): Account {
  const { motion } = account;
  const { seconds, speed, variance, learnt } = best.motion;
  const agrees = motion.seconds === seconds && Math.abs(motion.speed - speed) < sameMotion * speed;
  return agrees && motion.variance !== variance
    ? { ...account, motion: { ...motion, variance, learnt } }
    : account;
}

/** Where nothing is known of the speed, or nothing joins this step to the one before, it tells nothing. */
function begins(account: Account, step: WheelStep): Branch[] | null {
  const { motion, weight } = account;
  const same = { from: account, weight, missed: 0, doubled: 0, surprise: 0, bare: 0, spacings: step.forward };
  if (step.torn || motion.seconds === 0 || step.seconds <= motion.seconds) {
    return [{ ...same, motion: 'starts anew' }];
  }
  return motion.speed === 0 ? [{ ...same, motion: step.backward > 0 ? 'starts anew' : 'goes on' }] : null;
}

/** The best of each kind of end, no more than `mostAccounts`, best first. */
function best(branches: Branch[]): Branch[] {
  branches.sort((one, other) => other.weight - one.weight);
  const top = branches[0]?.weight ?? 0;
  const kept: Branch[] = [];
  const seen: number[] = [];
  let neverMissed = 0;
  let neverDoubled = 0;
  for (const branch of branches) {
    const { missed, doubled } = countsAfter(branch);
    const hopeful = branch.weight >= top - hopeless && kept.length < mostAccounts;
    const needed = (missed === 0 && neverMissed < 2) || (doubled === 0 && neverDoubled < 2);
    if (!hopeful && !needed) continue;
    const end = endOf(branch, missed, doubled);
    if (seen.includes(end)) continue;
    seen.push(end);
    kept.push(branch);
    if (missed === 0) neverMissed++;
    if (doubled === 0) neverDoubled++;
  }
  return kept;
}

/** Branches with the same number come to the same: of them only the best is kept. */
function endOf({ motion, spacings, from }: Branch, missed: number, doubled: number): number {
  const anew = motion === 'pauses' ? 1 : motion === 'starts anew' ? 2 : 0;
  return (
    (((missed * 1e5 + doubled) * 64 + Math.min(63, from.ahead)) * 2 + (spacings === null ? 1 : 0)) * 3 + anew
  );
}

const countsAfter = ({ from, missed, doubled }: Branch) => ({
  missed: from.missed + missed,
  doubled: from.doubled + doubled,
});

/** Natural logarithm of how many times likelier it is that some pulses were missed (or doubled) than that none was. */
export function evidence(accounts: Accounts, of: 'missed' | 'doubled'): number {
  let total = 0;
  let none = Number.NEGATIVE_INFINITY;
  for (const account of accounts) {
    total += Math.exp(account.weight);
    if (account[of] === 0) none = Math.max(none, account.weight);
  }
  return Math.log(total) - none;
}

/** Mean and standard deviation over the accounts of how many pulses were missed (or doubled). */
export function countOf(accounts: Accounts, of: 'missed' | 'doubled'): { mean: number; deviation: number } {
  let total = 0;
  let sum = 0;
  let squares = 0;
  for (const account of accounts) {
    const share = Math.exp(account.weight);
    total += share;
    sum += share * account[of];
    squares += share * account[of] ** 2;
  }
  const mean = sum / total;
  return { mean, deviation: Math.sqrt(Math.max(0, squares / total - mean ** 2)) };
}
