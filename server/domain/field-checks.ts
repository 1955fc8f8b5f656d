import { checked } from './error.ts';
import type { FieldFactor } from './field-check.ts';
import type { Interval } from './poisson.ts';
import { checkedValues } from './sample.ts';
import { percent } from './share.ts';
import {
  type DoubtedValue,
  realSpread,
  type SpreadVerdict,
  spreadAgainstChance,
  weightedMean,
} from './spread.ts';
import { combineDoubts, type Doubt, halfWidthOfAll } from './statistics.ts';

/** Several field checks together: one factor for the drill, or fields that differ. */

/** What field checks say together. */
export interface CombinedFactor extends Interval {
  checks: number;
  /** Field rate over the stand's; `low` and `high` hold that of such fields on average. */
  factor: number;
  /** Where the factor of the next such field lies. */
  next: Interval;
  /** The checks held against their doubts; null for a single one. */
  verdict: SpreadVerdict | null;
  /** Real relative spread from field to field; 0 where the doubts explain it all. */
  fieldToField: number;
  /** The factor differs from 1 beyond doubt, and what to multiply the wanted rate by then; as in a single check. */
  beyondDoubt: boolean;
  correction: number | null;
  sentence: string;
}

/** Logarithm of a factor: the mean over fields, the doubt of it, and the spread of single fields. */
interface Pooled {
  centre: number;
  mean: Doubt;
  between: Doubt;
  verdict: SpreadVerdict | null;
}

/**
 * Combines `factors` (one or more, as `compareField` gives them). `stand` says whether all were held against one and the same result on
 * the stand, whose doubt then counts once, or each against its own.
 *
 * Surer checks weigh more. Where the doubts explain the differences the factor is one for all, and its doubt that of the weighted mean.
 * Where they do not, fields differ: their spread joins the doubts and Student's t with one degree of freedom less than checks takes
 * account of it being guessed from so few. In between, where fields differ by about as much as the doubts, the interval falls somewhat
 * short (tests/domain/coverage.test.ts).
 * Source: R. C. Paule and J. Mandel (`realSpread`); J. Hartung and G. Knapp, Statistics in Medicine 20 (2001) 1771-1782, for the t.
 * @throws DomainError `too-few` for none, `out-of-range` for a confidence not between 0 and 1 or checks without any doubt.
 */
export function combineFieldChecks(
  factors: readonly FieldFactor[],
  stand: 'one' | 'own',
  confidence = 0.95,
): CombinedFactor {
  checkedValues(
    factors.map((each) => each.factor),
    1,
    'The field checks',
    'factors',
  );
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  const { centre, mean, between, verdict } = pooled(factors, stand);
  const shared = stand === 'one' ? [factors[0]!.stand] : [];
  const half = halfWidthOfAll([mean, ...shared], confidence);
  const nextHalf = halfWidthOfAll([combineBetween(mean, between), ...shared], confidence);
  const factor = Math.exp(centre);
  const beyondDoubt = Math.abs(centre) > half;
  const combined = {
    checks: factors.length,
    factor,
    low: factor * Math.exp(-half),
    high: factor * Math.exp(half),
    next: { low: factor * Math.exp(-nextHalf), high: factor * Math.exp(nextHalf) },
    verdict,
    fieldToField: between.standard,
    beyondDoubt,
    correction: beyondDoubt ? 1 / factor : null,
  };
  return { ...combined, sentence: inWords(combined) };
}

/** Both rest on the same few fields, so that their degrees of freedom do not add up. */
function combineBetween(mean: Doubt, between: Doubt): Doubt {
  return {
    standard: Math.hypot(mean.standard, between.standard),
    degreesOfFreedom: mean.degreesOfFreedom,
  };
}

function pooled(factors: readonly FieldFactor[], stand: 'one' | 'own'): Pooled {
  const own = factors.map((each) => (stand === 'one' ? each.field : combineDoubts([each.field, each.stand])));
  const values: DoubtedValue[] = factors.map((each, index) => ({
    value: Math.log(each.factor),
    doubt: own[index]!.standard,
  }));
  const verdict = values.length > 1 ? spreadAgainstChance([values]) : null;
  const spread = values.length > 1 ? realSpread([values]).standard : 0;
  const { mean: centre, doubt } = weightedMean(values, spread);
  const degreesOfFreedom = spread > 0 ? values.length - 1 : freedomOfWeighted(own, doubt);
  return {
    centre,
    mean: { standard: doubt, degreesOfFreedom },
    between: { standard: spread, degreesOfFreedom },
    verdict,
  };
}

/** Degrees of freedom of a weighted mean whose weights are 1 / doubt². Source: JCGM 100:2008, G.4.1. */
function freedomOfWeighted(own: readonly Doubt[], doubt: number): number {
  return combineDoubts(
    own.map((each) => ({
      standard: doubt ** 2 / each.standard,
      degreesOfFreedom: each.degreesOfFreedom,
    })),
  ).degreesOfFreedom;
}

function inWords(combined: Omit<CombinedFactor, 'sentence'>): string {
  const { checks, factor, low, high, correction, fieldToField, next } = combined;
  const many = checks === 1 ? 'One field check says' : `${checks} field checks say`;
  const got = `the field gets ${percent(factor)} % of what the stand says (${percent(low)} to ${percent(high)} %)`;
  const differ =
    fieldToField > 0
      ? ` The fields differ by ${percent(fieldToField)} % of their own; the next may get ${percent(next.low)} to ${percent(next.high)} %.`
      : '';
  const advice =
    correction === null
      ? 'That may be chance: leave the setting as it is.'
      : `Set the stand to ${correction.toFixed(3)} times the wanted rate.`;
  return `${many}: ${got}.${differ} ${advice}`;
}
