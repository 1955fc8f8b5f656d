import { type CountedWeight, weighCountedSample } from '../../../../server/domain/counted-sample.ts';
import { shaftRatio } from '../../../../server/domain/shaft.ts';
import { grams } from '../../../../server/domain/units.ts';
import type { SeedPart } from '../../../../server/http/messages.ts';
import { type Fault, type QuantityField, readEntry, readSeveral } from '../quantity.ts';
import type { System } from '../units.ts';

/** What is found out at the bench: seeds counted and weighed, a measure filled and weighed, sprockets counted. Pure. */

const mass: QuantityField = {
  dimension: 'mass',
  unit: { metric: 'g', us: 'g' },
  least: 0.0001,
  most: 10_000,
  example: 3.2,
  whole: false,
};
const count = (most: number, example: number): QuantityField => ({
  dimension: 'count',
  unit: { metric: '', us: '' },
  least: 1,
  most,
  example,
  whole: true,
});

/* Counted seeds. */

export interface CountDrafts {
  seedsEach: string;
  weights: string;
  chaffy: boolean;
}
export type CountFaults = Partial<Record<'seedsEach' | 'weights', Fault>>;
export interface CountFound {
  weight: CountedWeight;
  from: NonNullable<SeedPart['counted']>;
}
const mostPortions = 24;
export const countFields = { seedsEach: count(100_000, 100), weights: mass };

export function readCount(
  drafts: CountDrafts,
  system: System,
): { found: CountFound | null; faults: CountFaults } {
  const faults: CountFaults = {};
  const each = readEntry(countFields.seedsEach, drafts.seedsEach, system);
  if (!each.ok) faults.seedsEach = each.fault;
  const weights = readSeveral(mass, drafts.weights, system, mostPortions);
  if (!weights.ok) faults.weights = weights.fault;
  if (!each.ok || !weights.ok) return { found: null, faults };
  if (weights.values.length < 2) return { found: null, faults: { weights: { kind: 'empty' } } };
  const from = { weightsGrams: weights.values, seedsEach: each.value as number };
  try {
    const weight = weighCountedSample({
      weights: from.weightsGrams.map(grams),
      seedsEach: from.seedsEach,
      scaleStep: grams(0),
      chaffy: drafts.chaffy,
    });
    return { found: { weight, from }, faults };
  } catch {
    return { found: null, faults: { weights: { kind: 'range', low: '0.01 g', high: '5000 g' } } };
  }
}

/* Bulk density. */

export interface DensityDrafts {
  volume: string;
  mass: string;
}
export type DensityFaults = Partial<Record<keyof DensityDrafts, Fault>>;
export const densityFields = {
  volume: {
    dimension: 'volume',
    unit: { metric: 'L', us: 'US qt' },
    least: 0.05,
    most: 200,
    example: 1,
    whole: false,
  },
  mass: { ...mass, unit: { metric: 'g', us: 'lb' }, least: 1, most: 200_000, example: 770 },
} satisfies Record<string, QuantityField>;

/** Kilograms a cubic metre of a measure filled level. */
export function readDensity(
  drafts: DensityDrafts,
  system: System,
): { found: number | null; faults: DensityFaults } {
  const faults: DensityFaults = {};
  const value = (id: keyof DensityDrafts): number | null => {
    const read = readEntry(densityFields[id], drafts[id], system);
    if (!read.ok) faults[id] = read.fault;
    return read.ok ? (read.value as number) : null;
  };
  const [volume, weighed] = [value('volume'), value('mass')];
  if (volume === null || weighed === null) return { found: null, faults };
  // Grams a litre are kilograms a cubic metre.
  const found = weighed / volume;
  const fits = found >= 50 && found <= 1500;
  if (!fits) faults.mass = { kind: 'range', low: '50 kg/m³', high: '1500 kg/m³' };
  return { found: fits ? found : null, faults };
}

/* The shaft that the sensor counts. */

/**
 * Turns of the sensed shaft for one turn of the drive wheel, as pairs of teeth on the way there, the driving one first: `36:18, 20/40`.
 * Null for what is no list of pairs, or makes no ratio that drills have.
 */
export function readGears(text: string): number | null {
  const pairs = text.split(/[,;]+/).map((pair) => /^\s*(\d{1,4})\s*[:/]\s*(\d{1,4})\s*$/.exec(pair));
  if (pairs.some((pair) => pair === null)) return null;
  try {
    const ratio = shaftRatio(pairs.map((pair) => ({ driving: Number(pair![1]), driven: Number(pair![2]) })));
    return ratio >= 0.01 && ratio <= 100 ? ratio : null;
  } catch {
    return null;
  }
}
