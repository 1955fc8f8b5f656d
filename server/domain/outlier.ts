import { grubbsTest } from './grubbs.ts';
import { mean } from './sample.ts';
import { percent } from './share.ts';
import type { DoubtedValue } from './spread.ts';
import { normalQuantile } from './statistics.ts';
import { capital } from './words.ts';

/** Outliers among runs and rows: offered to people, never left out by themselves. */

/** A value that lies far from the others. */
export interface OfferedOutlier {
  /** Its place in the list, from 0. */
  index: number;
  name: string;
  /** How far it lies from the mean of the others, as a fraction of that mean; negative below it. */
  away: number;
  /** Probability that chance puts one of so many values so far out, at most. */
  probability: number;
  /** For people: what is offered. */
  sentence: string;
}

const significance = 0.05;

/**
 * The value that Grubbs' test finds too far out at 5 %, if it also lies farther from the mean of the others than its own doubt
 * explains: rounded figures deceive the test alone. Null for fewer than three values, or when none is. `names` and `values` (any unit, each
 * with the doubt that chance gives it, 0 where unknown) are in one order; `what` chooses the advice.
 * Source: `grubbsTest`; the second condition is ours, the normal deviate at 5 % shared among the values.
 * @throws DomainError `not-a-number`.
 */
export function offerOutlier(
  names: readonly string[],
  values: readonly DoubtedValue[],
  what: 'run' | 'row',
): OfferedOutlier | null {
  if (values.length < 3) {
    return null;
  }
  const { index, probability, outlying } = grubbsTest(
    values.map((each) => each.value),
    significance,
  );
  const others = mean(values.toSpliced(index, 1).map((each) => each.value));
  const away = values[index]!.value / others - 1;
  // The doubt of the others' mean comes on top: one more over their number.
  const doubt = values[index]!.doubt * Math.sqrt(1 + 1 / (values.length - 1));
  const chance = doubt * normalQuantile(1 - significance / (2 * values.length));
  if (!outlying || Math.abs(values[index]!.value - others) <= chance) {
    return null;
  }
  const name = names[index]!;
  const sentence = `${capital(name)} gave ${percent(Math.abs(away))} % ${away < 0 ? 'less' : 'more'} than the others, more than chance explains. ${outlierAdvice[what]}`;
  return { index, name, away, probability, sentence };
}

const outlierAdvice = {
  run: 'Look what was different in it: if something went wrong, set it aside; if not, keep it, for it belongs to what the drill does.',
  row: 'Look at its meter, gate and tube before trusting the mean.',
};
