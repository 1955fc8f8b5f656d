import type { Fields } from '../records/model.ts';
import { newestNamed } from '../records/named.ts';
import type { Item, Store } from '../records/types.ts';
import type { PlannedPart, RunPlan } from '../run/types.ts';

/** Lots and mixes: what the seed of a plan is made of, on record and back. */

type MixPart = Fields<'mix'>['parts'][number];

export function lotFields(part: PlannedPart): Fields<'lot'> {
  const { name, species, thousandSeedWeightGrams, purity, germination, hard, dormant } = part;
  return {
    name,
    species,
    thousandSeedWeightGrams,
    purity,
    germination,
    hard,
    dormant,
    bulkDensityKilogramsPerCubicMetre: part.bulkDensityKilogramsPerCubicMetre,
    counted: part.counted,
    note: '',
  };
}

/** A lot on record as a part of a mix; all of it where no share is given. */
export function partOf(
  lot: Fields<'lot'>,
  { share, fullRateGramsPerSquareMetre }: Partial<MixPart> = {},
): PlannedPart {
  const { note: _, counted, ...known } = lot;
  return {
    ...known,
    counted: counted ?? null,
    share: share ?? 1,
    fullRateGramsPerSquareMetre: fullRateGramsPerSquareMetre ?? null,
  };
}

async function keepLot(store: Store, part: PlannedPart): Promise<string> {
  const fields = lotFields(part);
  const known = await newestNamed(store.lots, part.name);
  if (known === null) return (await store.lots.create(fields)).id;
  const { note: _, ...changes } = fields;
  await store.lots.update(known.id, changes);
  return known.id;
}

/** Puts the lots of the plan's seed on record, or brings them up to date; the parts of the mix that they make. */
export async function keepLots(store: Store, { seed }: RunPlan): Promise<MixPart[]> {
  const parts: MixPart[] = [];
  for (const part of seed.parts ?? []) {
    const { name, share, fullRateGramsPerSquareMetre } = part;
    parts.push({ lotId: await keepLot(store, part), name, share, fullRateGramsPerSquareMetre });
  }
  return parts;
}

/** The seed of a plan from a mix on record. Where one of its lots has gone, only what the mix itself says. */
export async function seedOfMix(store: Store, { fields }: Item<'mix'>): Promise<RunPlan['seed']> {
  const { name, seedMassGrams, repeatability, bulkDensityKilogramsPerCubicMetre, basis } = fields;
  const seed = { name, seedMassGrams, repeatability, bulkDensityKilogramsPerCubicMetre };
  const parts: PlannedPart[] = [];
  for (const part of fields.parts) {
    const lot = part.lotId === null ? null : await store.lots.find(part.lotId);
    if (lot === null || !(part.share > 0)) return seed;
    parts.push({ ...partOf(lot.fields, part), name: part.name });
  }
  return parts.length === 0 ? seed : { ...seed, basis, parts };
}
