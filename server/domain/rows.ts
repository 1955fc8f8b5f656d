import { chiSquareQuantile } from './chi-square.ts';
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
import type { Doubt } from './statistics.ts';
import { type Grams, grams, type Turns } from './units.ts';
import { capital } from './words.ts';

/**
 * Do the rows of a drill give alike? Every row's catch has a spread of its own, for seeds come in lumps and scales have noise. Only what
 * the rows differ beyond that is the drill's.
 */

/** What one row gave. */
export interface RowCatch {
  /** How people call it: 'row 3'. */
  name: string;
  /** 0 where nothing came. */
  caught: Grams;
  /** Turns it was caught over, more than 0: the same for all rows caught together. */
  turns: Turns;
  /** Standard doubt of its weighing, grams, 0 or more. */
  weighing: number;
}

/** What else makes rows seem to differ. All 0 or more. */
export interface RowNoise {
  /** Variance of a catch per gram caught, as `lumpiness` or `mixLumpiness` gives it, more than 0. */
  lumpiness: Grams;
  /** Relative doubt of one cell's slope against another's; 0 where all rows were weighed on one scale. */
  cellSlope: number;
  /** Relative spread from run to run: counts where rows were caught one after the other, 0 where together. */
  repeatability: number;
  /** Standard doubt of a count of turns: likewise. */
  turns: number;
}

/** A coefficient of variation (standard deviation over mean, a fraction) with its interval. */
export interface Variation extends Interval {
  variation: number;
}

/** How alike the rows are. Relative figures are fractions of the rows' mean. */
export interface RowsSummary {
  rows: number;
  /** Mean catch of a row per turn, grams. */
  gramsPerTurn: Grams;
  /** As caught, chance included. */
  seen: Variation;
  /** What chance alone would give. */
  chance: number;
  verdict: SpreadVerdict;
  /** What the rows themselves differ by, chance taken off. */
  real: RealSpread;
  /** Each row's difference from the mean, in the order of the rows. */
  differences: readonly { name: string; away: number; doubt: number }[];
  /** The row that differs most. */
  farthest: { name: string; away: number };
  outlier: OfferedOutlier | null;
  sentence: string;
}

const fewestRows = 2;

function checkedRows(rows: readonly RowCatch[], noise: RowNoise): void {
  checkedValues(
    rows.map((row) => row.caught),
    fewestRows,
    'The catches of the rows',
    'caught',
  );
  for (const row of rows) {
    checked(row.caught, { least: 0 }, `The catch of ${row.name}`, 'caught');
    checked(row.turns, { above: 0 }, `The turns of ${row.name}`, 'turns');
    checked(row.weighing, { least: 0 }, `The doubt of the weighing of ${row.name}`, 'weighing');
  }
  checked(noise.lumpiness, { above: 0 }, 'The lumpiness', 'lumpiness');
  checked(noise.cellSlope, { least: 0 }, 'The doubt of the cells', 'cellSlope');
  checked(noise.repeatability, { least: 0 }, 'The repeatability', 'repeatability');
  checked(noise.turns, { least: 0 }, 'The doubt of the turns', 'turns');
  if (rows.every((row) => row.caught === 0)) {
    throw new DomainError(
      'too-few',
      'No row gave any seed: see that the hopper is filled, the gates are open and the meter turns.',
      'caught',
    );
  }
}

/** Each row's catch per turn over the rows' mean, with the doubt that chance gives it if the rows are alike. */
function relativeRows(rows: readonly RowCatch[], noise: RowNoise, perTurn: number): DoubtedValue[] {
  return rows.map(({ caught, turns, weighing }) => {
    const expected = perTurn * turns;
    const doubt = Math.hypot(
      Math.sqrt(noise.lumpiness / expected),
      weighing / expected,
      noise.cellSlope,
      noise.repeatability,
      noise.turns / turns,
    );
    return { value: caught / expected, doubt };
  });
}

/**
 * How alike `rows` are (two or more), caught together or one after the other. Chance is reckoned at the rows' mean, as if they were
 * alike, so that an empty row stands out. Intervals hold with the `confidence` (above 0, below 1).
 * Source: seed sampling as `lumpiness`; verdict and real spread as `spreadAgainstChance` and `realSpread`; variation as `variationOf`.
 * ISO 7256-2 is the test method for drills sowing in lines; limits are set by whoever buys or tests, see `publishedRowLimits`.
 * @throws DomainError `too-few` for fewer than two rows or no seed in any, `out-of-range`, `not-a-number`.
 */
export function summarizeRows(rows: readonly RowCatch[], noise: RowNoise, confidence = 0.95): RowsSummary {
  checkedRows(rows, noise);
  const perTurn = mean(rows.map((row) => row.caught / row.turns));
  const values = relativeRows(rows, noise, perTurn);
  const differences = rows.map((row, index) => ({
    name: row.name,
    away: values[index]!.value - 1,
    doubt: values[index]!.doubt,
  }));
  const summary = {
    rows: rows.length,
    gramsPerTurn: grams(perTurn),
    seen: variationOf(
      values.map((each) => each.value),
      confidence,
    ),
    chance: Math.sqrt(mean(values.map((each) => each.doubt ** 2))),
    verdict: spreadAgainstChance([values]),
    real: realSpread([values], confidence),
    differences,
    farthest: differences.reduce((most, each) => (Math.abs(each.away) > Math.abs(most.away) ? each : most)),
    outlier: offerOutlier(
      rows.map((row) => row.name),
      values,
      'row',
    ),
  };
  return { ...summary, sentence: inWords(summary) };
}

/**
 * Coefficient of variation of `values` (two or more with a mean above 0, any unit) with the interval that holds that of the rows behind
 * them with the `confidence` (above 0, below 1). The spread's interval is chi-square's; that the mean is in doubt too takes some of its
 * degrees of freedom: (n - 1) / (1 + 2 c² (n - 1) / n), so that the variance of c is that of the normal law, c² / (2 (n - 1)) + c^4 / n.
 * Source: chi-square of a standard deviation NIST/SEMATECH e-Handbook 1.3.5.8; variance of c N. L. Johnson and B. L. Welch, Biometrika 31
 * (1940) 362-389 (from memory); put together here, coverage in tests/domain/coverage.test.ts.
 * @throws DomainError `too-few`, `out-of-range` for a mean not above 0.
 */
export function variationOf(values: readonly number[], confidence = 0.95): Variation {
  const spread = standardDeviation(values);
  const centre = checked(mean(values), { above: 0 }, 'The mean of the rows', 'values');
  const tail = (1 - checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence')) / 2;
  const variation = spread / centre;
  const ofSpread = values.length - 1;
  const freedom = ofSpread / (1 + (2 * variation ** 2 * ofSpread) / values.length);
  const scaled = (probability: number) =>
    variation * Math.sqrt(freedom / chiSquareQuantile(probability, freedom));
  return { variation, low: scaled(1 - tail), high: scaled(tail) };
}

function inWords(summary: Omit<RowsSummary, 'sentence'>): string {
  const { seen, chance, verdict, real, farthest } = summary;
  const most = `${capital(farthest.name)} is farthest from the mean, ${percent(Math.abs(farthest.away))} % ${farthest.away < 0 ? 'below' : 'above'} it`;
  return verdict.beyondChance
    ? `The rows differ by ${percent(seen.variation)} %, more than the ${percent(chance)} % that chance gives: about ${percent(real.standard)} % (${percent(real.low)} to ${percent(real.high)} %) is the drill's own. ${most}.`
    : `The rows differ no more than chance: by ${percent(seen.variation)} %, and single seeds and weighing alone give ${percent(chance)} %. ${most}; that may be luck.`;
}

/**
 * What it adds to the doubt of a drill's rate that only `caught` of its `rows` (whole numbers, 1 to rows) were caught: c / sqrt(k) x
 * sqrt(1 - k / K), c being the rows' relative spread (0 or more, `RowsSummary.real`) from `compared` rows; nothing when all are caught.
 * Relative, with the degrees of freedom of c. Source: sampling without replacement, W. G. Cochran, Sampling Techniques (1977), 2.6.
 * @throws DomainError for figures out of range.
 */
export function fewRowsDoubt(
  spread: number,
  caught: number,
  rows: number,
  compared = Number.POSITIVE_INFINITY,
): Doubt {
  checked(spread, { least: 0 }, 'The spread of the rows', 'spread');
  checked(rows, { least: 1 }, 'The number of rows', 'rows');
  checked(caught, { least: 1, most: rows }, 'The number of rows caught', 'caught');
  if (!Number.isInteger(caught) || !Number.isInteger(rows) || !(compared >= fewestRows)) {
    throw new DomainError(
      'out-of-range',
      'Rows are counted in whole numbers, and compared from two on.',
      'rows',
    );
  }
  const standard = (spread / Math.sqrt(caught)) * Math.sqrt(1 - caught / rows);
  return { standard, degreesOfFreedom: compared - 1 };
}
