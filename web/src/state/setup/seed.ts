import { gramsPerLitre } from '../../../../server/domain/bulk-density.ts';
import {
  massWeightedSeedMass,
  meanSeedMass,
  mixDensityEstimate,
} from '../../../../server/domain/mix-seeds.ts';
import { pureLiveSeed, type SeedLot } from '../../../../server/domain/seed-lot.ts';
import {
  mixByFullStand,
  mixByMass,
  mixBySeedCount,
  mixPureLiveSeed,
  type SeedMix,
  sumOfShares,
} from '../../../../server/domain/seed-mix.ts';
import { gramsPerThousandSeeds, seedsPerSquareMetre } from '../../../../server/domain/seed-units.ts';
import { shareRounding } from '../../../../server/domain/share.ts';
import { gramsPerSquareMetre } from '../../../../server/domain/units.ts';
import type { Plan, SeedPart } from '../../../../server/http/messages.ts';
import { percent } from '../format.ts';
import { type Fault, type QuantityField, readEntry, shownQuantity } from '../quantity.ts';
import type { System } from '../units.ts';

/** What the seed is made of, as it is typed in: lots with their tags, and the shares of a mix in one of three ways. Pure. */

export const bases = ['mass', 'live-seeds', 'full-stand'] as const;
export type Basis = (typeof bases)[number];

/** Fields of one part, as typed. */
export interface PartDraft {
  name: string;
  /** Key in the table of species, empty for none. */
  species: string;
  share: string;
  fullRate: string;
  weight: string;
  purity: string;
  germination: string;
  hard: string;
  dormant: string;
  density: string;
  /** Portions weighed on the bench, where the weight came from there. */
  counted: SeedPart['counted'];
}
export interface SeedDrafts {
  basis: Basis;
  parts: PartDraft[];
}

export const partFields = [
  'name',
  'share',
  'fullRate',
  'weight',
  'purity',
  'germination',
  'hard',
  'dormant',
  'density',
] as const;
export type PartField = (typeof partFields)[number];
export type PartFaults = Partial<Record<PartField, Fault>>;

export const mostParts = 12;
const longestName = 80;

const share = (least: number, example: number): QuantityField => ({
  dimension: 'share',
  unit: { metric: '%', us: '%' },
  least,
  most: 1,
  example,
  whole: false,
});

/** How each field of a part is read; limits are those of the plan's schema. */
export const partQuantity: Record<Exclude<PartField, 'name'>, QuantityField> = {
  share: share(0.0001, 0.25),
  fullRate: {
    dimension: 'rate',
    unit: { metric: 'kg/ha', us: 'lb/ac' },
    least: 0.001,
    most: 500,
    example: 10,
    whole: false,
  },
  weight: {
    dimension: 'thousand-seed',
    unit: { metric: 'g', us: 'g' },
    least: 0.00001,
    most: 5,
    example: 0.04,
    whole: false,
  },
  purity: share(0.001, 0.98),
  germination: share(0, 0.9),
  hard: share(0, 0.05),
  dormant: share(0, 0.05),
  density: {
    dimension: 'density',
    unit: { metric: 'kg/hL', us: 'lb/bu' },
    least: 20,
    most: 1500,
    example: 750,
    whole: false,
  },
};

export const emptyPart: PartDraft = {
  name: '',
  species: '',
  share: '',
  fullRate: '',
  weight: '',
  purity: '',
  germination: '',
  hard: '',
  dormant: '',
  density: '',
  counted: null,
};

/** What an empty field of a part stands for; null where it must be filled in. A tag that says nothing of it counts as all, or none. */
const whenEmpty: Partial<Record<PartField, number | null>> = {
  purity: 1,
  germination: 1,
  hard: 0,
  dormant: 0,
  density: null,
};

function readPart(draft: PartDraft, basis: Basis, alone: boolean, system: System) {
  const faults: PartFaults = {};
  const name = draft.name.trim();
  if (name === '') faults.name = { kind: 'empty' };
  if (name.length > longestName) faults.name = { kind: 'too-long', most: longestName };
  const value = (id: Exclude<PartField, 'name'>): number | null => {
    if (draft[id].trim() === '' && id in whenEmpty) return whenEmpty[id]!;
    const read = readEntry(partQuantity[id], draft[id], system);
    if (!read.ok) faults[id] = read.fault;
    return read.ok ? (read.value as number) : null;
  };
  const part = {
    name,
    species: draft.species,
    share: alone && draft.share.trim() === '' ? 1 : value('share'),
    fullRateGramsPerSquareMetre: basis === 'full-stand' ? value('fullRate') : null,
    thousandSeedWeightGrams: thousandOf(value('weight')),
    counted: draft.counted,
    purity: value('purity'),
    germination: value('germination'),
    hard: value('hard'),
    dormant: value('dormant'),
    bulkDensityKilogramsPerCubicMetre: value('density'),
  };
  const { germination, hard, dormant } = part;
  const viable = (germination ?? 0) + (hard ?? 0) + (dormant ?? 0);
  if (viable > 1 + 1e-9) faults.germination ??= { kind: 'tag', percent: percent(viable) };
  return Object.keys(faults).length > 0 ? { part: null, faults } : { part: part as SeedPart, faults };
}

/** A thousand seeds weigh so many times one; digits that binary fractions left are cut. */
const thousandOf = (seedGrams: number | null): number | null =>
  seedGrams === null ? null : Number((1000 * seedGrams).toPrecision(12));

/** What was typed, as the seed of a plan; or what is wrong with it. */
export function readSeed(
  { basis, parts }: SeedDrafts,
  system: System,
): { ok: true; basis: Basis; parts: SeedPart[] } | { ok: false; fault: Fault } {
  const read = parts.map((part) => readPart(part, basis, parts.length === 1, system));
  const found = read.flatMap(({ part }) => part ?? []);
  if (found.length < read.length)
    return { ok: false, fault: { kind: 'parts', faults: read.map(({ faults }) => faults) } };
  const fault = togetherFault(basis, found);
  return fault === null ? { ok: true, basis, parts: found } : { ok: false, fault };
}

/** What is wrong with the parts together, or null. */
function togetherFault(basis: Basis, parts: readonly SeedPart[]): Fault | null {
  const sum = parts.reduce((total, part) => total + part.share, 0);
  if (basis === 'full-stand' && sum > 2) return { kind: 'too-thick', percent: percent(sum) };
  if (basis !== 'full-stand' && Math.abs(sum - 1) > shareRounding)
    return { kind: 'shares', percent: percent(sum) };
  const dead = (part: SeedPart) => !(pureLiveSeed(lotOf(part)) > 0);
  const counts = basis === 'mass' ? parts.every(dead) : parts.some(dead);
  return counts ? { kind: 'nothing-alive' } : null;
}

export const lotOf = (part: SeedPart): SeedLot => ({
  thousandSeedWeight: gramsPerThousandSeeds(part.thousandSeedWeightGrams),
  purity: part.purity,
  germination: part.germination,
  hard: part.hard,
  dormant: part.dormant,
});

/**
 * The mix that parts make. At shares of a full stand its bulk rate is what they ask for; else it is 1 g/m², which stands for nothing.
 * @throws DomainError for shares or lots that cannot be.
 */
export function mixOf(basis: Basis, parts: readonly SeedPart[]): SeedMix {
  const shares = parts.map((part) => ({ name: part.name, lot: lotOf(part), share: part.share }));
  if (basis === 'mass') return mixByMass(shares, gramsPerSquareMetre(1));
  if (basis === 'live-seeds') return mixBySeedCount(shares, seedsPerSquareMetre(100));
  const full = parts.map((part, index) => ({
    ...shares[index]!,
    fullRate: gramsPerSquareMetre(part.fullRateGramsPerSquareMetre ?? 0),
  }));
  return mixByFullStand(full, 'live');
}

/** What a seed comes to: for the form, and for the plan. */
export interface SeedSummary {
  mix: SeedMix;
  /** Mean mass of a seed, each counted by its mass. */
  seedMassGrams: number;
  /** Share of the bag by mass. */
  pureLiveSeed: number;
  /** Estimated from the lots' own densities; null where one is not known. Kilograms a cubic metre. */
  density: number | null;
  /** At shares of a full stand: the rate from the bag that they ask for. */
  fullStandRate: number | null;
  /** What the shares come to. */
  shares: number;
}

/** Null where the parts cannot be worked with, or the plan names none. */
export function summaryOf(seed: Pick<Plan['seed'], 'basis' | 'parts'>): SeedSummary | null {
  const { basis = 'mass', parts } = seed;
  if (parts === undefined || parts.length === 0) return null;
  try {
    const mix = mixOf(basis, parts);
    const densities = parts.flatMap((part) => part.bulkDensityKilogramsPerCubicMetre ?? []);
    return {
      mix,
      seedMassGrams: massWeightedSeedMass(mix),
      pureLiveSeed: mixPureLiveSeed(mix),
      density:
        densities.length < parts.length
          ? null
          : mixDensityEstimate(mix, densities.map(gramsPerLitre)).gramsPerLitre,
      fullStandRate: basis === 'full-stand' ? mix.bulkRate : null,
      shares: sumOfShares(mix.parts.map((part, index) => ({ ...part, share: parts[index]!.share }))),
    };
  } catch {
    return null;
  }
}

/**
 * One lot that stands for the whole mix. `by`: whether what is reckoned with it is live seeds by number or live seed by mass; where parts
 * germinate differently, that is not the same.
 */
export function lotForAll({ mix }: SeedSummary, by: 'number' | 'mass'): SeedLot {
  const purity = mix.parts.reduce((sum, part) => sum + part.massShare * part.lot.purity, 0);
  const weigh = (part: SeedMix['parts'][number]) =>
    (part.massShare * part.lot.purity) / (by === 'mass' ? 1 : part.lot.thousandSeedWeight);
  const all = mix.parts.reduce((sum, part) => sum + weigh(part), 0);
  const mean = (figure: (lot: SeedLot) => number) =>
    Math.min(1, mix.parts.reduce((sum, part) => sum + weigh(part) * figure(part.lot), 0) / all);
  return {
    thousandSeedWeight: gramsPerThousandSeeds(1000 * meanSeedMass(mix)),
    purity: Math.min(1, purity),
    germination: mean(({ germination, hard, dormant }) => Math.min(1, germination + hard + dormant)),
    hard: 0,
    dormant: 0,
  };
}

/** The parts of a plan as one would type them. */
export function draftsOf(seed: Pick<Plan['seed'], 'basis' | 'parts'>, system: System): SeedDrafts {
  const { basis = 'mass', parts = [] } = seed;
  return { basis, parts: parts.map((part) => partDraft(part, system)) };
}

export function partDraft(part: SeedPart, system: System): PartDraft {
  const text = (id: Exclude<PartField, 'name'>, si: number | null) =>
    si === null ? '' : shownQuantity(partQuantity[id], si, system);
  return {
    name: part.name,
    species: part.species,
    share: text('share', part.share),
    fullRate: text('fullRate', part.fullRateGramsPerSquareMetre),
    weight: text('weight', part.thousandSeedWeightGrams / 1000),
    purity: text('purity', part.purity),
    germination: text('germination', part.germination),
    hard: text('hard', part.hard),
    dormant: text('dormant', part.dormant),
    density: text('density', part.bulkDensityKilogramsPerCubicMetre),
    counted: part.counted,
  };
}

/** Drafts carried into the other system of units; what cannot be read stays as it was typed. */
export function convertSeed(drafts: SeedDrafts, from: System, to: System): SeedDrafts {
  const carry = (id: 'fullRate' | 'density', typed: string): string => {
    const read = readEntry(partQuantity[id], typed, from);
    return read.ok ? shownQuantity(partQuantity[id], read.value as number, to) : typed;
  };
  const parts = drafts.parts.map((part) => ({
    ...part,
    fullRate: carry('fullRate', part.fullRate),
    density: carry('density', part.density),
  }));
  return { ...drafts, parts };
}

/** The text of a draft: as the form keeps what was typed into all fields of the parts. */
export const seedText = (drafts: SeedDrafts): string =>
  drafts.parts.length === 0 ? '' : JSON.stringify(drafts);

/** Null for what is no such text. */
export function readSeedText(text: string): SeedDrafts | null {
  try {
    const value = JSON.parse(text) as SeedDrafts;
    const sound = bases.includes(value.basis) && Array.isArray(value.parts) && value.parts.length > 0;
    return sound
      ? { basis: value.basis, parts: value.parts.map((part) => ({ ...emptyPart, ...part })) }
      : null;
  } catch {
    return null;
  }
}
