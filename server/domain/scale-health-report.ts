import { lagOneAutocorrelation } from './autocorrelation.ts';
import { checked, DomainError } from './error.ts';
import { distinctSample, type HealthRecord } from './scale-health.ts';
import { type Doubt, halfWidth } from './statistics.ts';
import { straightLine } from './straight-line.ts';
import type { Weighing } from './weighing.ts';

/** What a stretch of readings says of a scale, in figures and in sentences. */

/** A drift with its standard doubt, grams a minute. */
export interface Drift {
  gramsPerMinute: number;
  doubt: Doubt;
}

/** The figures of a stretch. */
export interface ScaleHealth {
  /** Time from the first reading to the last. */
  seconds: number;
  readings: number;
  /** Null for fewer than two readings. */
  readingsPerSecond: number | null;
  /** Shares of all readings, 0 to 1. */
  missingShare: number;
  clippedShare: number;
  longestGapSeconds: number;
  /** Distinct counts over good readings, among the first 256: near 1 for a converter that resolves its noise. Null without any. */
  distinctShare: number | null;
  /** Standard deviation from one reading to the next, grams: drift and slow swing left out. Null for fewer than two in a row. */
  noise: number | null;
  /** Largest less smallest, grams. Null without any. */
  range: number | null;
  /** Null while the stretch is too short to tell. */
  drift: Drift | null;
}

/** Fewest full blocks that a drift is taken from. */
const fewestBlocks = 8;

/**
 * Slope through the means of the blocks, with a doubt that is grown where what is left hangs together: by (1 + r) / (1 - r) in its square, r
 * the autocorrelation of the residuals. Source: G. V. Bayley and J. M. Hammersley, J. R. Statist. Soc. Suppl. 8 (1946) 184-197 (from memory).
 */
function driftOf({ blocks }: HealthRecord, gramsPerCount: number): Drift | null {
  if (blocks.length < fewestBlocks) {
    return null;
  }
  const line = straightLine(
    blocks.map(({ seconds, readings }) => seconds / readings),
    blocks.map(({ counts, readings }) => (counts / readings) * gramsPerCount),
  );
  const together = Math.min(0.9, Math.max(0, lagOneAutocorrelation(line.residuals)));
  const growth = (1 + together) / (1 - together);
  return {
    gramsPerMinute: 60 * line.slope,
    doubt: {
      standard: 60 * line.slopeDoubt.standard * Math.sqrt(growth),
      degreesOfFreedom: Math.max(1, line.residualFreedom / growth),
    },
  };
}

/**
 * The figures of a stretch on a scale with that slope, `gramsPerCount` other than 0. Noise comes from differences of neighbours: half their mean
 * square is the variance. Source: J. von Neumann et al., Ann. Math. Statist. 12 (1941) 153-162 (from memory).
 * @throws DomainError `not-a-number`, `out-of-range` for a slope that is none.
 */
export function scaleHealth(record: HealthRecord, gramsPerCount: number): ScaleHealth {
  checked(gramsPerCount, {}, 'The slope of the scale', 'gramsPerCount');
  if (gramsPerCount === 0) {
    throw new DomainError('out-of-range', 'The slope of the scale must not be 0.', 'gramsPerCount');
  }
  const size = Math.abs(gramsPerCount);
  const { readings, missing, clipped, pairs } = record;
  const seconds = ((record.lastMicros ?? 0) - (record.firstMicros ?? 0)) / 1e6;
  return {
    seconds,
    readings,
    readingsPerSecond: seconds > 0 ? (readings - 1) / seconds : null,
    missingShare: readings === 0 ? 0 : missing / readings,
    clippedShare: readings === 0 ? 0 : clipped / readings,
    longestGapSeconds: record.longestGapMicros / 1e6,
    distinctShare: record.sampled === 0 ? null : record.distinct.length / record.sampled,
    noise: pairs === 0 ? null : Math.sqrt(record.differenceSquares / 2 / pairs) * size,
    range: record.sampled === 0 ? null : (record.most - record.least) * size,
    drift: driftOf(record, gramsPerCount),
  };
}

/** How a figure with its doubt stands to a limit. */
export type Standing = 'within' | 'beyond' | 'unclear';

/** Whether the interval around `value`, `half` to either side, lies wholly within ± `limit`, wholly beyond, or across. All in one unit. */
export function standingOf(value: number, half: number, limit: number): Standing {
  const size = Math.abs(value);
  return size + half <= limit ? 'within' : size - half > limit ? 'beyond' : 'unclear';
}

/** Whether a zero stands still, by its drift at 95 % confidence against the `limit`, grams a minute, that does not matter. */
export function zeroStability({ gramsPerMinute, doubt }: Drift, limit: number): Standing {
  return standingOf(gramsPerMinute, halfWidth(doubt, 0.95), limit);
}

/** The drift that a single weighing shows over its few seconds: good enough for a quick look, seldom for a small limit. */
export function driftOfWeighing({ drift, doubt, span }: Weighing): Drift {
  const minutes = span / 60;
  return {
    gramsPerMinute: drift.grams / minutes,
    doubt: { standard: drift.standardError / minutes, degreesOfFreedom: doubt.degreesOfFreedom },
  };
}

/** What is expected of a scale. */
export interface HealthWish {
  readingsPerSecond: number;
  /** Standard deviation from reading to reading, grams. */
  noise: number;
  /** Drift that does not matter, grams a minute. */
  gramsPerMinute: number;
}

/** What can be wrong with a scale by its readings. */
export type HealthCode =
  | 'silent'
  | 'too-short'
  | 'missing'
  | 'clipped'
  | 'slow'
  | 'gap'
  | 'stuck'
  | 'coarse'
  | 'noisy'
  | 'drifting'
  | 'drift-unclear';

/** One thing that is wrong, or not yet known, in a sentence for people. */
export interface HealthFinding {
  code: HealthCode;
  sentence: string;
}

const say = (value: number): string => String(Number(value.toPrecision(2)));
const percent = (share: number): string => `${say(100 * share)} %`;

/** Findings about whether readings come as they should. */
function flowFindings(health: ScaleHealth, wish: HealthWish): HealthFinding[] {
  const found: HealthFinding[] = [];
  const tell = (code: HealthCode, sentence: string) => found.push({ code, sentence });
  const rate = health.readingsPerSecond!;
  if (health.missingShare > 0.01) {
    tell(
      'missing',
      `${percent(health.missingShare)} of the readings came without a value: check the cell's plug and the converter's supply.`,
    );
  }
  if (health.clippedShare > 0) {
    tell(
      'clipped',
      `${percent(health.clippedShare)} of the readings are at the end of the converter's range: too much load, or a broken wire.`,
    );
  }
  if (rate < 0.9 * wish.readingsPerSecond) {
    tell(
      'slow',
      `${say(rate)} readings a second instead of ${say(wish.readingsPerSecond)}: check the converter's rate strap and the line.`,
    );
  }
  if (health.longestGapSeconds > Math.max(0.5, 10 / wish.readingsPerSecond)) {
    tell(
      'gap',
      `No reading came for ${say(health.longestGapSeconds)} s: check the cable between board and computer.`,
    );
  }
  return found;
}

/** Findings about the values that came. */
function valueFindings(health: ScaleHealth, wish: HealthWish): HealthFinding[] {
  const found: HealthFinding[] = [];
  const tell = (code: HealthCode, sentence: string) => found.push({ code, sentence });
  const { distinctShare, noise, drift, range } = health;
  if (range === 0) {
    tell(
      'stuck',
      'Every reading is the same: the converter or the cell is dead, for a live one always trembles.',
    );
  } else if (distinctShare !== null && distinctShare < 0.05) {
    tell(
      'coarse',
      'The readings take only a few different values: the converter does not resolve its own noise.',
    );
  }
  if (noise !== null && noise > wish.noise) {
    tell(
      'noisy',
      `Readings scatter by ${say(noise)} g instead of ${say(wish.noise)} g: look for vibration, wind, mains near the cell's cable.`,
    );
  }
  const standing = drift === null ? 'unclear' : zeroStability(drift, wish.gramsPerMinute);
  if (standing === 'beyond') {
    tell(
      'drifting',
      `The load drifts by ${say(drift!.gramsPerMinute)} g a minute: let the cell warm up, keep sun and draught off, and look for something that slips.`,
    );
  } else if (standing === 'unclear') {
    tell('drift-unclear', 'Whether the load drifts cannot be told yet: leave it still and watch for longer.');
  }
  return found;
}

/**
 * What is wrong with a scale whose load stood still over the stretch, judged against the `wish`; empty for a sound one.
 * @throws DomainError `out-of-range` for wishes not above 0.
 */
export function judgeHealth(health: ScaleHealth, wish: HealthWish): readonly HealthFinding[] {
  checked(wish.readingsPerSecond, { above: 0 }, 'The wanted readings a second', 'readingsPerSecond');
  checked(wish.noise, { above: 0 }, 'The wanted noise', 'noise');
  checked(wish.gramsPerMinute, { above: 0 }, 'The wanted drift', 'gramsPerMinute');
  if (health.readings === 0) {
    return [{ code: 'silent', sentence: 'No reading came: check cable, port and supply.' }];
  }
  if (health.readings < distinctSample || health.readingsPerSecond === null) {
    const sentence = `${health.readings} readings are too few to judge a scale by: watch it for ten seconds or more.`;
    return [{ code: 'too-short', sentence }];
  }
  return [...flowFindings(health, wish), ...valueFindings(health, wish)];
}
