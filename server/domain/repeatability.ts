import { checked, DomainError } from './error.ts';
import { type OneWayAnalysis, oneWay } from './one-way.ts';
import { checkedRuns, type RepeatedRun, relativeRates } from './repeats.ts';
import { squaredDeviations } from './sample.ts';
import { percent } from './share.ts';
import { type RealSpread, realSpread } from './spread.ts';
import { type Doubt, halfWidthOfAll } from './statistics.ts';

/** How well a drill repeats, learnt over many runs, and what follows: how often to repeat a test, and whether days differ. */

/** How runs at one setting repeat, from several settings together. Relative: fractions of the rate. */
export interface PooledRepeatability {
  /** Standard deviation of a single run, weighing and seed sampling included. */
  spread: Doubt;
  /** What the metering alone adds beyond these. */
  beyond: RealSpread;
  /** The same as a doubt: what `summarizeRepeats` takes as its prior. */
  prior: Doubt;
}

/**
 * Repeatability from runs repeated at one setting or several; each setting counts with its own mean. Settings with a single run are
 * allowed but say nothing. Source: pooled variance, JCGM 100:2008, 4.2.4 and H.5.2.5 (s_b²); `realSpread` for what is beyond chance.
 * @throws DomainError `too-few` when no setting has two runs, `out-of-range` for rates not above 0 or runs without any doubt of their own.
 */
export function pooledRepeatability(settings: readonly (readonly RepeatedRun[])[]): PooledRepeatability {
  const groups = settings.map((runs) => relativeRates(checkedRuns(runs)));
  const degreesOfFreedom = groups.reduce((sum, group) => sum + group.length - 1, 0);
  if (!(degreesOfFreedom > 0)) {
    throw new DomainError(
      'too-few',
      'No setting was run twice: repeat one to see how well the drill repeats.',
      'settings',
    );
  }
  const squares = groups.reduce((sum, group) => sum + squaredDeviations(group.map((each) => each.value)), 0);
  const beyond = realSpread(groups);
  return {
    spread: { standard: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom },
    beyond,
    prior: { standard: beyond.standard, degreesOfFreedom },
  };
}

/** How often a test must be repeated. */
export interface RepeatsNeeded {
  /** Fewest runs whose mean is good enough; null when no number up to a hundred is. */
  runs: number | null;
  sentence: string;
}

const mostRuns = 100;

/**
 * Fewest runs at one setting whose mean lies within `tolerance` (a fraction, above 0 to 1) of the rate with the given `confidence` (above 0,
 * below 1). `one` is the relative doubt of a single run from what differs between runs, `common` that from what all share. After n
 * runs the spread rests on n - 1 degrees of freedom, or on those of `one` where these are more.
 * Source: half-width as `halfWidthOfAll`, JCGM 100:2008, 4.2.3: doubt over sqrt(n).
 * @throws DomainError for figures out of range.
 */
export function repeatsNeeded(
  one: Doubt,
  common: Doubt,
  tolerance: number,
  confidence = 0.95,
): RepeatsNeeded {
  checked(one.standard, { least: 0 }, 'The doubt of a run', 'one');
  checked(common.standard, { least: 0 }, 'The doubt that all runs share', 'common');
  checked(tolerance, { above: 0, most: 1 }, 'The tolerance as a fraction', 'tolerance');
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  const halfAfter = (runs: number) => {
    const degreesOfFreedom = Math.max(one.degreesOfFreedom, runs - 1);
    return halfWidthOfAll(
      [{ standard: one.standard / Math.sqrt(runs), degreesOfFreedom }, common],
      confidence,
    );
  };
  for (let runs = 1; runs <= mostRuns; runs += 1) {
    if (halfAfter(runs) <= tolerance) {
      return { runs, sentence: enoughInWords(runs, tolerance) };
    }
  }
  const shared = halfWidthOfAll([common], confidence) > tolerance;
  return { runs: null, sentence: neverInWords(shared, tolerance) };
}

function enoughInWords(runs: number, tolerance: number): string {
  const many = runs === 1 ? 'One run is' : `${runs} runs at one setting are`;
  return `${many} enough to know the rate to ${percent(tolerance)} % either way.`;
}

function neverInWords(shared: boolean, tolerance: number): string {
  return shared
    ? `No number of runs makes the rate known to ${percent(tolerance)} %: what all runs share (wheel, slip, row spacing, scale) is less sure than that. Measure the wheel's way in the field, or allow more.`
    : `More than ${mostRuns} runs would be needed to know the rate to ${percent(tolerance)} %: turn longer in each run, or allow more.`;
}

/** Runs of several days, or several fillings of the hopper, at one setting. */
export interface DaysCompared {
  /** The analysis of the rates in grams per square metre. */
  analysis: OneWayAnalysis;
  /** Spread within a day and from day to day, fractions of the mean. */
  withinDay: number;
  dayToDay: number;
  /** Relative standard doubt of the mean of the days' means, from all that changes within and between days. */
  ofMean: Doubt;
  /** Days differ beyond the spread within them at 5 %. */
  daysDiffer: boolean;
  sentence: string;
}

/**
 * Compares runs at one setting made on several `days` (two or more with one run each at least, one of them with two).
 * Source: JCGM 100:2008, H.5 (`oneWay`): the doubt of the mean comes from the spread of the days' means, whether days differ or not.
 * @throws DomainError `too-few`, or `out-of-range` for rates not above 0.
 */
export function repeatsOverDays(days: readonly (readonly RepeatedRun[])[]): DaysCompared {
  const analysis = oneWay(days.map((runs) => checkedRuns(runs).map((run) => run.rate)));
  const daysDiffer = analysis.probability < 0.05;
  const withinDay = analysis.withinSpread / analysis.mean;
  const dayToDay = analysis.betweenSpread / analysis.mean;
  return {
    analysis,
    withinDay,
    dayToDay,
    ofMean: { standard: analysis.meanDoubt / analysis.mean, degreesOfFreedom: days.length - 1 },
    daysDiffer,
    sentence: daysDiffer
      ? `From day to day the rate changes by ${percent(dayToDay)} % on top of the ${percent(withinDay)} % within a day: test again on the day of seeding.`
      : `The days differ no more than runs of one day do (${percent(withinDay)} %).`,
  };
}
