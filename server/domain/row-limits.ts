import { checked } from './error.ts';
import type { RowsSummary } from './rows.ts';
import { percent } from './share.ts';
import { normalQuantile } from './statistics.ts';

/**
 * Limits on how much rows may differ. Sources disagree, so a limit is chosen by people and always shown with where it comes from.
 * ISO 7256-2 tells how to test and names no pass mark (from memory, medium confidence), so none is quoted here.
 */

/** A limit as published. */
export interface RowLimit {
  key: string;
  /** What is limited: the coefficient of variation of the rows, or each row's difference from their mean. */
  of: 'variation' | 'each-row';
  /** A fraction. */
  limit: number;
  /** Where it was printed, and how it was seen (READ there, READ-2 quoted by others). */
  source: string;
  mark: 'READ' | 'READ-2';
}

/** What was found in print. */
export const publishedRowLimits: readonly RowLimit[] = [
  {
    key: 'textbook',
    of: 'each-row',
    limit: 0.05,
    source:
      'H. L. Field and J. B. Solie, Introduction to Agricultural Engineering Technology (2007), worked calibration problem',
    mark: 'READ',
  },
  {
    key: 'performance-list',
    of: 'each-row',
    limit: 0.07,
    source: 'Performance requirements for seed drills, an Indian lecture list, scribd.com/document/685885666',
    mark: 'READ-2',
  },
  {
    key: 'air-seeder',
    of: 'variation',
    limit: 0.1,
    source:
      'Alberta AgTech Centre in Grainews, Three ways to meter seed: 10 % or less is very good for air seeders',
    mark: 'READ',
  },
];

/** A drill's rows held against a limit. */
export interface LimitVerdict {
  /** Within or beyond the limit beyond doubt, or not to be told from this test. */
  verdict: 'within' | 'beyond' | 'unsure';
  /** Rows that pass the limit as caught, by name; empty for a limit on the variation. */
  rows: readonly string[];
  sentence: string;
}

/**
 * Holds `summary` against a `limit` (above 0, below 1). A limit on the variation is met when the interval of the rows' real spread lies
 * below it, and missed when it lies above. A limit on each row is met when every row's difference and its doubt at the `confidence`
 * (above 0, below 1, shared among the rows) stay within, and missed when some row passes it by more than that.
 * Source: guarded acceptance, JCGM 106:2012, 8.3 (from memory); sharing among rows by Bonferroni's inequality.
 * @throws DomainError for figures out of range.
 */
export function judgeRows(summary: RowsSummary, limit: RowLimit, confidence = 0.95): LimitVerdict {
  checked(limit.limit, { above: 0, below: 1 }, 'The limit as a fraction', 'limit');
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  const wanted = `${percent(limit.limit)} % (${limit.source})`;
  if (limit.of === 'variation') {
    const { low, high } = summary.real;
    const verdict = verdictOf(high <= limit.limit, low > limit.limit);
    return {
      verdict,
      rows: [],
      sentence: `The rows' own spread, ${percent(low)} to ${percent(high)} %, ${phrases[verdict]} ${wanted}.`,
    };
  }
  const z = normalQuantile(1 - (1 - confidence) / (2 * summary.rows));
  const within = summary.differences.every(({ away, doubt }) => Math.abs(away) + z * doubt <= limit.limit);
  const beyond = summary.differences.some(({ away, doubt }) => Math.abs(away) - z * doubt > limit.limit);
  const verdict = verdictOf(within, beyond);
  const rows = summary.differences.filter(({ away }) => Math.abs(away) > limit.limit).map(({ name }) => name);
  const far =
    rows.length === 0 ? 'No row differs' : `${rows.join(', ')} ${rows.length === 1 ? 'differs' : 'differ'}`;
  return {
    verdict,
    rows,
    sentence: `${far} from the mean by more than ${wanted}${verdict === 'unsure' ? ', but this test is too short to be sure: turn longer' : ''}.`,
  };
}

const phrases = {
  within: 'lies within',
  beyond: 'lies beyond',
  unsure: 'may or may not keep to',
};

function verdictOf(within: boolean, beyond: boolean): LimitVerdict['verdict'] {
  if (within) {
    return 'within';
  }
  return beyond ? 'beyond' : 'unsure';
}
