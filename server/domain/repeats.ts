import { checked, DomainError } from './error.ts';
import { type OfferedOutlier, offerOutlier } from './outlier.ts';
import type { Interval } from './poisson.ts';
import { checkedValues, mean, standardDeviation } from './sample.ts';
import { percent } from './share.ts';
import {
  type DoubtedValue,
  type RealSpread,
  realSpread,
  type SpreadVerdict,
  spreadAgainstChance,
} from './spread.ts';
import { combineDoubts, type Doubt, halfWidthOfAll } from './statistics.ts';
import { type BudgetPart, combinedParts, type RateInterval } from './uncertainty.ts';
import { type GramsPerSquareMetre, gramsPerSquareMetre } from './units.ts';

/**
 * Tests repeated at one setting. What differs from run to run shows in the spread of the rates; what all runs share (wheel, row spacing,
 * slip, slope of the scale) never does, and stays however often the test is repeated. The two are kept apart throughout.
 */

/** One run of several at one setting. */
export interface RepeatedRun {
  /** How people call it: 'run 3'. */
  name: string;
  /** More than 0. */
  rate: GramsPerSquareMetre;
  /** Its budget, as `catchBudget` or `slopeBudget` gives it. */
  parts: readonly BudgetPart[];
}

/** What repeated runs say together. */
export interface RepeatsSummary {
  runs: number;
  mean: GramsPerSquareMetre;
  /** Standard deviation of the rates (n - 1) over their mean; null for a single run. */
  spread: number | null;
  /** Relative standard doubt of a single run from what differs between runs: what `repeatsNeeded` plans with. */
  ofOne: Doubt;
  /** The same of the mean. */
  runToRun: Doubt;
  /** Relative standard doubt of the mean from what all runs share. */
  common: Doubt;
  /** All doubts together: where the rate in the field lies. */
  interval: RateInterval;
  /** What differs between runs alone: for comparing settings on this drill. Grams per square metre. */
  forComparing: Interval;
  /** The spread held against weighing, counting and seed sampling; null for a single run, or where a run has no doubt of these. */
  verdict: SpreadVerdict | null;
  /** What the metering adds from run to run beyond these, relative; null as `verdict`. */
  repeatability: RealSpread | null;
  outlier: OfferedOutlier | null;
  sentence: string;
}

/** What `summarizeRepeats` may be told besides the runs. */
export interface RepeatsKnowledge {
  /** Relative repeatability of this drill from earlier runs, as `pooledRepeatability` gives it; null where there are none. */
  prior: Doubt | null;
  /** Above 0, below 1. */
  confidence: number;
}

/** Relative doubt that chance gives one run: all that differs between runs but the metering's own repeatability. */
export function chanceOf(run: RepeatedRun): number {
  return combinedParts(
    run.parts.filter((part) => part.part !== 'repeatability'),
    'run',
  ).standard;
}

/** The rates of runs at one setting over their mean, each with the doubt that chance gives it, as fractions. */
export function relativeRates(runs: readonly RepeatedRun[]): DoubtedValue[] {
  const centre = mean(runs.map((run) => run.rate));
  return runs.map((run) => ({ value: run.rate / centre, doubt: chanceOf(run) }));
}

/**
 * `runs` themselves when there is one at least and every rate is more than 0.
 * @throws DomainError `too-few`, `not-a-number`, `out-of-range`.
 */
export function checkedRuns(runs: readonly RepeatedRun[]): readonly RepeatedRun[] {
  checkedValues(
    runs.map((run) => run.rate),
    1,
    'The runs',
    'runs',
  );
  for (const run of runs) {
    checked(run.rate, { above: 0 }, `The rate of ${run.name}`, 'rate');
  }
  return runs;
}

/**
 * Relative doubt that the mean of the runs has from what they share. Each part moves all runs at once, so that parts of one name add up
 * as they stand, weighted by rate, not as squares. Source: JCGM 100:2008, 5.2.2, note 1: inputs fully correlated.
 */
function sharedDoubt(runs: readonly RepeatedRun[], centre: number): Doubt {
  const together = new Map<string, BudgetPart>();
  for (const run of runs) {
    const weight = run.rate / (centre * runs.length);
    for (const part of run.parts.filter((each) => each.common)) {
      const before = together.get(part.part);
      together.set(part.part, {
        ...part,
        relative: (before?.relative ?? 0) + weight * part.relative,
        degreesOfFreedom: Math.min(
          part.degreesOfFreedom,
          before?.degreesOfFreedom ?? Number.POSITIVE_INFINITY,
        ),
      });
    }
  }
  return combinedParts([...together.values()]);
}

/**
 * Relative standard deviation of a single run: the spread seen, pooled with the prior by degrees of freedom. The prior knows the metering
 * only, so what chance gives these runs is added to it. Source: pooled estimate of variance, JCGM 100:2008, 4.2.4.
 */
function spreadOfOne(runs: readonly RepeatedRun[], seen: number | null, prior: Doubt | null): Doubt {
  const seenFreedom = runs.length - 1;
  if (prior === null) {
    return seen === null
      ? combinedParts(runs[0]!.parts, 'run')
      : { standard: seen, degreesOfFreedom: seenFreedom };
  }
  const chance = mean(runs.map((run) => chanceOf(run) ** 2));
  const freedom = prior.degreesOfFreedom + seenFreedom;
  const known = prior.standard ** 2 + chance;
  const variance = Number.isFinite(freedom)
    ? (prior.degreesOfFreedom * known + seenFreedom * (seen ?? 0) ** 2) / freedom
    : known;
  return { standard: Math.sqrt(variance), degreesOfFreedom: freedom };
}

function checkedPrior(prior: Doubt | null): void {
  if (prior === null) {
    return;
  }
  checked(prior.standard, { least: 0 }, 'The repeatability known before', 'prior');
  if (!(prior.degreesOfFreedom > 0)) {
    throw new DomainError('out-of-range', 'The repeatability known before must rest on some runs.', 'prior');
  }
}

/**
 * Mean rate of `runs` (one or more at one setting) with its doubt. The doubt from run to run is the spread seen over sqrt(n) with n - 1
 * degrees of freedom, or, with a prior, both pooled; a single run without one has the doubt of its own budget. What the runs share comes on top and
 * does not shrink. The spread holds weighing and seed sampling already, so these are not added again.
 * Source: JCGM 100:2008, 4.2 and G.3 to G.4, with `halfWidthOfAll`. Between-day part: `repeatsOverDays`.
 * @throws DomainError `too-few` for no run, `out-of-range` for rates not above 0, a confidence not between 0 and 1.
 */
export function summarizeRepeats(
  runs: readonly RepeatedRun[],
  knowledge: RepeatsKnowledge = { prior: null, confidence: 0.95 },
): RepeatsSummary {
  const rates = checkedRuns(runs).map((run) => run.rate);
  const { confidence, prior } = knowledge;
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  checkedPrior(prior);
  const centre = mean(rates);
  const seen = runs.length > 1 ? standardDeviation(rates) / centre : null;
  const ofOne = spreadOfOne(runs, seen, prior);
  const runToRun = { ...ofOne, standard: ofOne.standard / Math.sqrt(runs.length) };
  const common = sharedDoubt(runs, centre);
  const half = centre * halfWidthOfAll([runToRun, common], confidence);
  const alone = centre * halfWidthOfAll([runToRun], confidence);
  const summary = {
    runs: runs.length,
    mean: gramsPerSquareMetre(centre),
    spread: seen,
    ofOne,
    runToRun,
    common,
    interval: {
      gramsPerSquareMetre: centre,
      standardDoubt: centre * combineDoubts([runToRun, common]).standard,
      low: Math.max(0, centre - half),
      high: centre + half,
    },
    forComparing: { low: Math.max(0, centre - alone), high: centre + alone },
    ...spreadOf(runs, confidence),
  };
  return { ...summary, sentence: inWords(summary, half / centre) };
}

/** What the spread of the runs says: nothing for a single one. */
function spreadOf(
  runs: readonly RepeatedRun[],
  confidence: number,
): Pick<RepeatsSummary, 'verdict' | 'repeatability' | 'outlier'> {
  if (runs.length < 2) {
    return { verdict: null, repeatability: null, outlier: null };
  }
  const relative = relativeRates(runs);
  const names = runs.map((run) => run.name);
  const outlier = offerOutlier(names, relative, 'run');
  // Where nobody knows what chance gives, nothing can be held against it.
  if (!relative.every((each) => each.doubt > 0)) {
    return { verdict: null, repeatability: null, outlier };
  }
  return {
    verdict: spreadAgainstChance([relative]),
    repeatability: realSpread([relative], confidence),
    outlier,
  };
}

function inWords(summary: Omit<RepeatsSummary, 'sentence'>, half: number): string {
  const { runs, spread, verdict, runToRun, common } = summary;
  const most =
    common.standard > runToRun.standard
      ? 'most of it from what all runs share (wheel, slip, row spacing, scale), which more runs do not improve'
      : 'most of it from run to run, which more runs improve';
  const known = `The rate is known to ${percent(half)} % either way, ${most}.`;
  if (spread === null) {
    return `One run. ${known}`;
  }
  return `${runs} runs with a spread of ${percent(spread)} %${causeOf(verdict)}. ${known}`;
}

function causeOf(verdict: SpreadVerdict | null): string {
  if (verdict === null) {
    return '';
  }
  return verdict.beyondChance
    ? ', more than weighing and seed sampling explain: the metering itself does not repeat better'
    : ', no more than weighing and seed sampling explain';
}
