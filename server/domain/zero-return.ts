import { checked } from './error.ts';
import { type Standing, standingOf } from './scale-health-report.ts';
import { type Doubt, halfWidth } from './statistics.ts';
import { differenceDoubt, type Weighing } from './weighing.ts';

/** Whether the zero came back once the bag was off. */
export interface ZeroReturn {
  /** Zero after less zero before, grams. */
  grams: number;
  /** Of that: both weighings' noise and what the zero may have wandered in between. */
  doubt: Doubt;
  /** 'within': it came back. 'beyond': it did not. 'unclear': noise and time do not let one tell. */
  standing: Standing;
  sentence: string;
}

const say = (grams: number): string => `${Number(Math.abs(grams).toPrecision(2))} g`;

/**
 * Compares the empty scale `before` and `after` a run (grams, from the same origin, board time on both). `zeroDrift`: standard wander of the
 * zero, grams a minute, from 0. `limit`: what does not matter, grams, more than 0. At 95 % confidence. A zero that wandered no farther than it
 * usually does tells of no fault; one that stands off tells of creep, of seed left hanging, or of something that touched.
 * Source: JCGM 100:2008, 5.1.2 (doubt of a difference); the rule of three answers is ours.
 * @throws DomainError `out-of-range`, `not-a-number`.
 */
export function zeroReturn(before: Weighing, after: Weighing, zeroDrift: number, limit: number): ZeroReturn {
  checked(zeroDrift, { least: 0 }, 'The wander of the zero', 'zeroDrift');
  checked(limit, { above: 0 }, 'The zero shift that does not matter', 'limit');
  const grams = after.grams - before.grams;
  const doubt = differenceDoubt(before, after, zeroDrift);
  const half = halfWidth(doubt, 0.95);
  const standing = standingOf(grams, half, limit);
  return { grams, doubt, standing, sentence: sentenceFor(standing, grams, half) };
}

function sentenceFor(standing: Standing, grams: number, half: number): string {
  if (standing === 'within') {
    return 'The empty scale came back to its zero.';
  }
  const off = `The empty scale shows ${say(grams)} ${grams > 0 ? 'more' : 'less'} than before the run`;
  return standing === 'beyond'
    ? `${off}: look for seed left in bag holder or tube, for something that touches, and weigh the catch again.`
    : `${off}, give or take ${say(half)}: noise and time do not let one tell whether it came back. Weigh zero for longer, and sooner.`;
}
