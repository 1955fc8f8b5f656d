import { gramsPerLitre, litres } from '../../../../server/domain/bulk-density.ts';
import { DomainError } from '../../../../server/domain/error.ts';
import { bagsFor, type Reach, refillReach, seedForArea } from '../../../../server/domain/seed-needed.ts';
import { grams, gramsPerSquareMetre, metres, squareMetres } from '../../../../server/domain/units.ts';
import { carried, type Fault, type QuantityField, readEntry, shownQuantity } from '../quantity.ts';
import type { System } from '../units.ts';

/** How much seed a field takes, as typed. Pure; the sums are those of the domain. */

const quantity = (
  dimension: QuantityField['dimension'],
  [metric, us]: readonly [string, string],
  [least, most, example]: readonly [number, number, number],
): QuantityField => ({ dimension, unit: { metric, us }, least, most, example, whole: false });

export const seedFields = {
  area: quantity('area', ['ha', 'ac'], [1, 1e10, 120_000]),
  rate: quantity('rate', ['kg/ha', 'lb/ac'], [0.001, 500, 6.7]),
  reserve: quantity('share', ['%', '%'], [0, 1, 0.05]),
  bag: quantity('mass', ['kg', 'lb'], [1, 1e7, 25_000]),
  hopper: quantity('volume', ['L', 'bu'], [0.1, 1e6, 500]),
  density: quantity('density', ['kg/hL', 'lb/bu'], [20, 1500, 750]),
  width: quantity('length', ['m', 'ft'], [0.02, 100, 3]),
  keepBack: quantity('share', ['%', '%'], [0, 0.99, 0.1]),
} as const satisfies Record<string, QuantityField>;
export type SeedFieldId = keyof typeof seedFields;
export const seedFieldIds = Object.keys(seedFields) as SeedFieldId[];

/** A field that is not here shows what the plan says. */
export type SeedDrafts = Partial<Record<SeedFieldId, string>>;

/** What the plan knows of it: SI, null where it does not. */
export type SeedKnown = Record<SeedFieldId, number | null>;

/** Reserve and share kept back where nobody says. Common practice, no source. */
export const usual = { reserve: 0.05, keepBack: 0.1 } as const;

export const seedText = (id: SeedFieldId, drafts: SeedDrafts, known: SeedKnown, system: System): string => {
  const value = known[id];
  return drafts[id] ?? (value === null ? '' : shownQuantity(seedFields[id], value, system));
};

export interface SeedAnswer {
  needGrams: number | null;
  bags: { bags: number; leftGrams: number } | null;
  reach: Reach | null;
  /** Fillings that the need takes. */
  fills: number | null;
  faults: Partial<Record<SeedFieldId, Fault>>;
}

/** All that can be said from what is typed; faults of fields that something was typed into. */
export function seedAnswer(drafts: SeedDrafts, known: SeedKnown, system: System): SeedAnswer {
  const faults: SeedAnswer['faults'] = {};
  const values: Partial<Record<SeedFieldId, number>> = {};
  for (const id of seedFieldIds) {
    const read = readEntry(seedFields[id], seedText(id, drafts, known, system), system, true);
    if (!read.ok) faults[id] = read.fault;
    else if (read.value !== null) values[id] = read.value as number;
  }
  const { area, rate, reserve = usual.reserve, bag } = values;
  const blamed = (id: SeedFieldId) => faults[id] !== undefined;
  const need =
    area === undefined || rate === undefined || blamed('reserve')
      ? null
      : seedForArea(gramsPerSquareMetre(rate), squareMetres(area), reserve);
  const full = need === null || bag === undefined ? null : bagsFor(need, grams(bag));
  const reach = blamed('keepBack') ? null : reachOf(values);
  return {
    needGrams: need,
    bags: full && { bags: full.bags, leftGrams: full.left },
    reach,
    fills: need === null || reach === null ? null : Math.ceil(need / reach.seed - 1e-9),
    faults,
  };
}

function reachOf(values: Partial<Record<SeedFieldId, number>>): Reach | null {
  const { hopper, density, width, rate, keepBack = usual.keepBack } = values;
  if (hopper === undefined || density === undefined || width === undefined || rate === undefined) return null;
  try {
    const full = { volume: litres(hopper), density: gramsPerLitre(density), keepBack };
    return refillReach(full, gramsPerSquareMetre(rate), metres(width));
  } catch (error) {
    if (error instanceof DomainError) return null;
    throw error;
  }
}

/** Carries what can be read into the other system of units. */
export function convertSeedNeeded(drafts: SeedDrafts, from: System, to: System): SeedDrafts {
  const entries = Object.entries(drafts) as [SeedFieldId, string][];
  return Object.fromEntries(entries.map(([id, typed]) => [id, carried(seedFields[id], typed, from, to)]));
}
