import { checked, DomainError } from './error.ts';
import { mean, standardDeviation } from './sample.ts';
import {
  checkedThousandSeedWeight,
  type GramsPerThousandSeeds,
  gramsPerThousandSeeds,
} from './seed-units.ts';
import { halfWidth } from './statistics.ts';
import type { Grams } from './units.ts';

/** Seeds counted out and weighed several times: the lot's own thousand-seed weight, which beats any table. */
export interface CountedSample {
  /** Mass of each replicate, more than 0. Two at the least; eight of a hundred seeds are usual. */
  weights: readonly Grams[];
  /** Seeds counted into each replicate, a whole number from 1. */
  seedsEach: number;
  /** Step of the scale's display, grams, 0 where unknown: no spread is taken for finer than the rounding lets it be seen. */
  scaleStep: Grams;
  /** Grass seed in its husks, hard to count alike: more spread is allowed. */
  chaffy: boolean;
}

/** What a counted sample says. Grams for a thousand seeds. */
export interface CountedWeight {
  thousandSeedWeight: GramsPerThousandSeeds;
  /** Standard uncertainty of the mean of all replicates kept. */
  standardDoubt: number;
  degreesOfFreedom: number;
  /** Interval that holds the lot's mean with the wanted confidence. */
  low: GramsPerThousandSeeds;
  high: GramsPerThousandSeeds;
  /** Coefficient of variation of the replicates, a fraction. */
  variation: number;
  /** The replicates agree well enough for the mean to stand; otherwise count as many more. */
  stands: boolean;
  /** Replicates left out as strays (only among sixteen or more), by their place in the list. */
  strays: readonly number[];
}

/** Largest coefficient of variation at which replicates stand. Source: ISTA Rules, chapter 10 (from memory, high confidence). */
export const variationLimits = { plain: 0.04, chaffy: 0.06 } as const;

/** From so many replicates on, single strays may be left out. Source: ISTA Rules, chapter 10 (from memory, high confidence). */
const manyReplicates = 16;

const fewestReplicates = 2;

function checkedSample(sample: CountedSample): void {
  if (sample.weights.length < fewestReplicates) {
    throw new DomainError(
      'too-few',
      'One weighing does not show how well it repeats: count and weigh at least two portions, better eight.',
      'weights',
    );
  }
  for (const weight of sample.weights) {
    checked(weight, { above: 0, most: 1e5 }, 'The weight of a counted portion in grams', 'weights');
  }
  checked(sample.seedsEach, { least: 1, most: 1e6 }, 'The number of seeds in a portion', 'seedsEach');
  if (!Number.isInteger(sample.seedsEach)) {
    throw new DomainError('out-of-range', 'Seeds are counted in whole numbers.', 'seedsEach');
  }
  checked(sample.scaleStep, { least: 0, most: 100 }, 'The step of the scale in grams', 'scaleStep');
}

/**
 * Thousand-seed weight from replicates of counted seeds: 1000 x mean / seeds each, with Student's interval of the mean at the given
 * `confidence` (above 0, below 1). From sixteen replicates on, those further than two standard deviations from the mean are left out
 * of the mean, but not of the spread, which would shrink unduly.
 * Source: mean and interval JCGM 100:2008, 4.2 and G.3; limits of agreement and strays ISTA Rules, chapter 10 (from memory).
 * @throws DomainError `too-few` for fewer than two replicates; `out-of-range` for figures that cannot be, and for a weight per thousand
 * outside 0.01 to 5000 g.
 */
export function weighCountedSample(sample: CountedSample, confidence = 0.95): CountedWeight {
  checkedSample(sample);
  checked(confidence, { above: 0, below: 1 }, 'The confidence', 'confidence');
  const { weights, seedsEach, scaleStep, chaffy } = sample;
  const centre = mean(weights);
  const spread = Math.max(standardDeviation(weights), scaleStep / Math.sqrt(12));
  const stray = (weight: number) =>
    weights.length >= manyReplicates && Math.abs(weight - centre) > 2 * spread;
  const kept = weights.filter((weight) => !stray(weight));
  const perThousand = 1000 / seedsEach;
  const thousand = checkedThousandSeedWeight(gramsPerThousandSeeds(perThousand * mean(kept)));
  const doubt = {
    standard: (perThousand * spread) / Math.sqrt(kept.length),
    degreesOfFreedom: weights.length - 1,
  };
  const half = halfWidth(doubt, confidence);
  const variation = spread / centre;
  return {
    thousandSeedWeight: thousand,
    standardDoubt: doubt.standard,
    degreesOfFreedom: doubt.degreesOfFreedom,
    low: gramsPerThousandSeeds(Math.max(0, thousand - half)),
    high: gramsPerThousandSeeds(thousand + half),
    variation,
    stands:
      weights.length >= manyReplicates ||
      variation <= (chaffy ? variationLimits.chaffy : variationLimits.plain),
    strays: weights.flatMap((weight, index) => (stray(weight) ? [index] : [])),
  };
}

/**
 * Relative spread of single seeds that the replicates suggest: their coefficient of variation x sqrt(seeds each). An upper figure, for
 * it holds miscounts and the scale's noise too. Source: variance of a sum of independent seeds.
 * @throws DomainError as `weighCountedSample`.
 */
export function seedMassSpreadFrom(sample: CountedSample): number {
  return weighCountedSample(sample).variation * Math.sqrt(sample.seedsEach);
}
