import { checked, DomainError } from './error.ts';
import { type Interval, poissonInterval, poissonQuantile } from './poisson.ts';
import { checkedLot, type SeedLot } from './seed-lot.ts';
import type { SeedMix } from './seed-mix.ts';
import { seedMass } from './seed-units.ts';
import { checkedSomeShare } from './share.ts';
import { type Grams, type Turns, turns } from './units.ts';

/** Counting one species out of a catch: does the mix come out of the drill as it went in? */

/** The seeds of one species that a catch should hold. */
export interface ExpectedCount {
  name: string;
  /** Pure seeds, alive or not. */
  expected: number;
  /** Counts that chance alone gives with the wanted confidence, whole numbers, when the seeds arrive independently. */
  low: number;
  high: number;
}

/**
 * Seeds of each species to expect in `caught` grams (above 0) of a mix: m w p / mass of a seed, and the counts that chance gives with the
 * `confidence` (above 0, below 1). Source: Poisson distribution of independent arrivals.
 * @throws DomainError for figures out of range, or more than a million seeds of a species.
 */
export function expectedCounts(mix: SeedMix, caught: Grams, confidence = 0.95): ExpectedCount[] {
  checked(caught, { above: 0 }, 'The catch', 'caught');
  const tail = (1 - checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence')) / 2;
  return mix.parts.map(({ name, lot, massShare }) => {
    const expected = (caught * massShare * lot.purity) / seedMass(lot.thousandSeedWeight);
    return expected > 0
      ? {
          name,
          expected,
          low: poissonQuantile(tail, expected),
          high: poissonQuantile(1 - tail, expected),
        }
      : { name, expected, low: 0, high: 0 };
  });
}

/** A species' share of a catch by mass, found by counting: fractions. */
export interface CountedShare extends Interval {
  share: number;
}

/**
 * Share by mass of a species in `caught` grams (above 0), from the `count` of its seeds (whole, from 0): count x mass of a seed /
 * (purity x catch), with the exact interval of the count at the `confidence` (above 0, below 1). The doubt of seed mass and catch comes on top.
 * The upper end is not cut off at 1, so that a wrong seed mass shows.
 * Source: Garwood's interval, `poissonInterval`.
 * @throws DomainError for figures out of range.
 */
export function shareFromCount(lot: SeedLot, count: number, caught: Grams, confidence = 0.95): CountedShare {
  checked(caught, { above: 0 }, 'The catch', 'caught');
  const { purity, thousandSeedWeight } = checkedLot(lot);
  const perSeed = seedMass(thousandSeedWeight) / (purity * caught);
  const { low, high } = poissonInterval(count, confidence);
  return { share: count * perSeed, low: low * perSeed, high: high * perSeed };
}

/** Counts beyond this are no work for a hand. */
const mostCounted = 1e7;

/**
 * Fewest seeds of a species that must be counted so that the exact interval at the `confidence` (above 0, below 1) stays `within` (a fraction,
 * 0.001 to 1) of the count on both sides. About (z / within)²; for 10 % at 95 %: 423.
 * Source: Garwood's interval, `poissonInterval`; its upper side is the wider one.
 * @throws DomainError for figures out of range.
 */
export function seedsToCount(within: number, confidence = 0.95): number {
  checked(within, { least: 0.001, most: 1 }, 'The wanted closeness as a fraction', 'within');
  checked(confidence, { above: 0, most: 0.9999 }, 'The confidence', 'confidence');
  const close = (count: number) => {
    const { low, high } = poissonInterval(count, confidence);
    return high - count <= within * count && count - low <= within * count;
  };
  let few = 0;
  let enough = 1;
  while (!close(enough)) {
    few = enough;
    enough *= 2;
    if (enough > mostCounted) {
      throw new DomainError(
        'out-of-range',
        'More than ten million seeds would have to be counted.',
        'within',
      );
    }
  }
  while (enough - few > 1) {
    const centre = Math.floor((few + enough) / 2);
    if (close(centre)) {
      enough = centre;
    } else {
      few = centre;
    }
  }
  return enough;
}

/** What it takes to verify one species' share by hand. */
export interface ShareCheck {
  name: string;
  /** Seeds of it to count. */
  seeds: number;
  /** Turns (a fraction) that are expected to drop so many. */
  turns: Turns;
}

/**
 * Fewest turns to verify the share of each species `within` a fraction (0.001 to 1) by counting, at `gramsPerTurn` (above 0) caught: turns =
 * seeds x mass of a seed / (purity x mass share x grams a turn). So many seeds are expected, not sure, to fall.
 * Source: `seedsToCount` over the seeds that a turn drops.
 * @throws DomainError for figures out of range.
 */
export function turnsToVerifyShares(
  mix: SeedMix,
  gramsPerTurn: Grams,
  within: number,
  confidence = 0.95,
): ShareCheck[] {
  checked(gramsPerTurn, { above: 0 }, 'The catch per turn', 'gramsPerTurn');
  const seeds = seedsToCount(within, confidence);
  return mix.parts.map(({ name, lot, massShare }) => ({
    name,
    seeds,
    turns: turns(
      (seeds * seedMass(lot.thousandSeedWeight)) /
        (lot.purity * checkedSomeShare(massShare, 'The share of a species', 'massShare') * gramsPerTurn),
    ),
  }));
}
