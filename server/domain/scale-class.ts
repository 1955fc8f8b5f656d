import { checked, DomainError } from './error.ts';
import { type Grams, grams } from './units.ts';

/*
 * Accuracy classes of scales as a yardstick for judging one. A stand is no verified scale, and nothing here makes it one: what is sold by
 * weight is weighed on a scale that the local law has approved.
 */

/** Accuracy classes of non-automatic weighing instruments, the finest first. */
export const accuracyClasses = ['I', 'II', 'III', 'IIII'] as const;
/** Name of an accuracy class. */
export type AccuracyClass = (typeof accuracyClasses)[number];

/**
 * Loads, in verification intervals e, up to which 0.5 e, 1 e and 1.5 e are allowed.
 * Source: OIML R 76-1:2006, table 6, READ in a copy of the table (scribd 314749659); classes II to IIII also in UK SI 1995/1907, schedule 2,
 * paragraph 4 (its first row of class II prints 20 000 e, a slip: its second begins at 5 000 e).
 */
const bands: Record<AccuracyClass, readonly [number, number, number]> = {
  I: [50_000, 200_000, Number.POSITIVE_INFINITY],
  II: [5000, 20_000, 100_000],
  III: [500, 2000, 10_000],
  IIII: [50, 200, 1000],
};

interface IntervalRule {
  /** Verification interval from, grams. */
  from: number;
  /** Fewest intervals that the capacity must hold; the most are the end of the last band. */
  fewest: number;
  /** Least load to weigh, in intervals. */
  least: number;
}

/** Source: OIML R 76-1:2006, table 3, READ in the same copy. Coarsest rule first. */
const intervalRules: Record<AccuracyClass, readonly IntervalRule[]> = {
  I: [{ from: 0.001, fewest: 50_000, least: 100 }],
  II: [
    { from: 0.1, fewest: 5000, least: 50 },
    { from: 0.001, fewest: 100, least: 20 },
  ],
  III: [
    { from: 5, fewest: 500, least: 20 },
    { from: 0.1, fewest: 100, least: 20 },
  ],
  IIII: [{ from: 5, fewest: 100, least: 10 }],
};

/** A verification interval or a load divided by one comes out of decimal figures: an edge is met to within rounding. */
const rounding = 1 + 1e-12;

/** When a scale is checked: new (or verified anew), or in use. */
export type Occasion = 'verification' | 'service';

/**
 * Largest error, either way, that a scale of class `accuracyClass` with the verification interval `interval` may show at `load` (from 0, by
 * class up to 10 000 intervals or whatever its last band allows). In service twice that of verification (UK SI 1995/1907, schedule 2).
 * @throws DomainError `out-of-range` for a load beyond the class's last band, or below 0.
 */
export function maximumPermissibleError(
  accuracyClass: AccuracyClass,
  interval: Grams,
  load: Grams,
  occasion: Occasion = 'verification',
): Grams {
  checked(interval, { above: 0 }, 'The verification interval', 'interval');
  checked(load, { least: 0 }, 'The load', 'load');
  const band = bands[accuracyClass].findIndex((end) => load <= end * interval * rounding);
  if (band < 0) {
    throw new DomainError(
      'out-of-range',
      `A class ${accuracyClass} scale with e = ${interval} g weighs at most ${bands[accuracyClass][2] * interval} g.`,
      'load',
    );
  }
  return grams(interval * 0.5 * (band + 1) * (occasion === 'service' ? 2 : 1));
}

/** What a scale showed at a load, less the load. */
export interface ScaleError {
  load: Grams;
  error: Grams;
  /** Standard uncertainty of that error, from 0. */
  standardDoubt: Grams;
}

/** The yardstick's verdict. */
export type ClassVerdict =
  | {
      fits: true;
      accuracyClass: AccuracyClass;
      /** Smallest verification interval e (1, 2 or 5 times a power of ten) whose limits all errors keep. */
      interval: Grams;
      /** Capacity over interval. */
      divisions: number;
      /** Least load that the class would weigh with that interval. */
      leastLoad: Grams;
      sentence: string;
    }
  | { fits: false; accuracyClass: AccuracyClass; sentence: string };

/** Verification intervals, grams: 1, 2 and 5 times powers of ten, 1 mg to 5 kg. Source: OIML R 76-1:2006, 4.2.2.1 (from memory). */
const intervals: readonly number[] = Array.from({ length: 7 }, (_, power) =>
  [1, 2, 5].map((step) => (power < 3 ? step / 10 ** (3 - power) : step * 10 ** (power - 3))),
).flat();

/**
 * The finest scale of class `accuracyClass` that this one behaves as at the loads tried: every error, and twice its standard doubt on top,
 * within the limits of `occasion`. One error or more; `capacity` is the largest load to be weighed, by default the largest tried.
 * @throws DomainError `too-few`, `not-a-number`, `out-of-range`.
 */
export function behavesAs(
  accuracyClass: AccuracyClass,
  errors: readonly ScaleError[],
  occasion: Occasion = 'verification',
  capacity: Grams = grams(Math.max(0, ...errors.map(({ load }) => load))),
): ClassVerdict {
  checkErrors(errors, capacity);
  const interval = intervals.find((each) => keeps(accuracyClass, grams(each), errors, occasion, capacity));
  if (interval === undefined) {
    const sentence = `No class ${accuracyClass} scale for loads to ${capacity} g may be so far off: it is less accurate than that class.`;
    return { fits: false, accuracyClass, sentence };
  }
  const rule = intervalRules[accuracyClass].find(({ from }) => interval >= from)!;
  const leastLoad = grams(Number((rule.least * interval).toPrecision(12)));
  return {
    fits: true,
    accuracyClass,
    interval: grams(interval),
    divisions: Math.round(capacity / interval),
    leastLoad,
    sentence:
      `At these loads it behaves as a class ${accuracyClass} scale with e = ${interval} g, which would weigh from ${leastLoad} g. ` +
      'This is a yardstick, no verification.',
  };
}

function checkErrors(errors: readonly ScaleError[], capacity: Grams): void {
  if (errors.length === 0) {
    throw new DomainError('too-few', 'A scale is judged by at least one load of known mass.', 'errors');
  }
  for (const { load, error, standardDoubt } of errors) {
    checked(load, { least: 0 }, 'A load', 'load');
    checked(error, {}, 'The error at a load', 'error');
    checked(standardDoubt, { least: 0 }, 'The doubt of an error', 'standardDoubt');
  }
  const largest = Math.max(...errors.map(({ load }) => load));
  checked(capacity, { above: 0, least: largest }, 'The capacity', 'capacity');
}

/** Whether a scale of the class with this interval may exist for the capacity and may have these errors. */
function keeps(
  accuracyClass: AccuracyClass,
  interval: Grams,
  errors: readonly ScaleError[],
  occasion: Occasion,
  capacity: Grams,
): boolean {
  const rule = intervalRules[accuracyClass].find(({ from }) => interval >= from);
  const divisions = capacity / interval;
  const most = bands[accuracyClass][2] * rounding;
  if (rule === undefined || divisions > most || divisions * rounding < rule.fewest) {
    return false;
  }
  return errors.every(
    ({ load, error, standardDoubt }) =>
      Math.abs(error) + 2 * standardDoubt <=
      maximumPermissibleError(accuracyClass, interval, load, occasion) * rounding,
  );
}

/**
 * The American yardstick: tolerance of a class III scale in its own divisions at a load of so many `divisions` (from 0, at most 10 000).
 * It differs from the OIML's above 2 000 divisions; never mix the two. Source: NIST Handbook 44, scales code, table 6: 1, 2, 3 and 5
 * divisions for maintenance, half of that for acceptance. READ in part in a second party's worked example, the rest from memory.
 * @throws DomainError `out-of-range`.
 */
export function handbook44Tolerance(divisions: number, occasion: 'maintenance' | 'acceptance'): number {
  checked(divisions, { least: 0, most: 10_000 }, 'The load in divisions', 'divisions');
  const tolerance = divisions <= 500 ? 1 : divisions <= 2000 ? 2 : divisions <= 4000 ? 3 : 5;
  return occasion === 'maintenance' ? tolerance : tolerance / 2;
}
