import {
  countedCircumference,
  type FoundCircumference,
  rolledCircumference,
  tapedCircumference,
} from '../../../../server/domain/circumference.ts';
import { staggeredRowSpacing } from '../../../../server/domain/geometry.ts';
import { metres, turns } from '../../../../server/domain/units.ts';
import type { Plan } from '../../../../server/http/messages.ts';
import { type Fault, type QuantityField, readEntry, readSeveral } from '../quantity.ts';
import type { System } from '../units.ts';

/** Row spacing from staggered ranks and circumference from what was measured: read as typed, reckoned by the domain. Pure. */

const length = (metric: string, us: string, least: number, most: number, example: number): QuantityField => ({
  dimension: 'length',
  unit: { metric, us },
  least,
  most,
  example,
  whole: false,
});
const turnsField: QuantityField = {
  dimension: 'turns',
  unit: { metric: 'turns', us: 'turns' },
  least: 0.1,
  most: 10_000,
  example: 10,
  whole: false,
};

/* Staggered ranks. */

export interface RanksDrafts {
  within: string;
  ranks: string;
}
export const ranksFields = {
  within: length('cm', 'in', 0.02, 30, 0.38),
  ranks: {
    dimension: 'count',
    unit: { metric: '', us: '' },
    least: 1,
    most: 10,
    example: 2,
    whole: true,
  } satisfies QuantityField,
};
export type RanksFaults = Partial<Record<keyof RanksDrafts, Fault>>;
export type RanksFound = { metres: number; from: NonNullable<Plan['drill']['rowSpacingFrom']> };

export function readRanks(
  drafts: RanksDrafts,
  system: System,
): { found: RanksFound | null; faults: RanksFaults } {
  const faults: RanksFaults = {};
  const value = (id: keyof RanksDrafts): number | null => {
    const read = readEntry(ranksFields[id], drafts[id], system);
    if (!read.ok) faults[id] = read.fault;
    return read.ok ? (read.value as number) : null;
  };
  const [within, ranks] = [value('within'), value('ranks')];
  if (within === null || ranks === null) return { found: null, faults };
  const from = { withinRankMetres: within, ranks };
  return { found: { metres: staggeredRowSpacing(metres(within), ranks), from }, faults };
}

/* Circumference. */

export type Way = NonNullable<Plan['drill']['circumferenceFrom']>['way'];
export const ways: readonly Way[] = ['tape', 'roll-out', 'field'];

export interface WheelDrafts {
  way: Way;
  /** Tape readings, or ways rolled: several in one text. */
  readings: string;
  /** Turns of a roll-out. */
  turns: string;
  /** Way driven in the field, and the turns counted on it: several in one text. */
  distance: string;
  counts: string;
}
export const wheelFields = {
  tape: length('m', 'in', 0.2, 15, 2.1),
  rolled: length('m', 'ft', 0.2, 10_000, 21),
  turns: turnsField,
  distance: length('m', 'ft', 1, 10_000, 50),
} satisfies Record<string, QuantityField>;
export type WheelFaults = Partial<Record<'readings' | 'turns' | 'distance' | 'counts', Fault>>;

export interface WheelFound extends FoundCircumference {
  from: NonNullable<Plan['drill']['circumferenceFrom']>;
}

/** How closely each is read, half-widths. Common practice, no source: a tape to 3 mm, a chalk mark to 1 cm, a turn to a twentieth. */
const readWithin = { tapeMetres: 0.003, markMetres: 0.01, turns: 0.05 } as const;
const mostReadings = 20;

export function readWheel(
  drafts: WheelDrafts,
  system: System,
): { found: WheelFound | null; faults: WheelFaults } {
  const faults: WheelFaults = {};
  const several = (id: 'readings' | 'counts', field: QuantityField): number[] => {
    const read = readSeveral(field, drafts[id], system, mostReadings);
    if (!read.ok) faults[id] = read.fault;
    return read.ok ? read.values : [];
  };
  const one = (id: 'turns' | 'distance'): number => {
    const read = readEntry(wheelFields[id], drafts[id], system);
    if (!read.ok) faults[id] = read.fault;
    return read.ok ? (read.value as number) : 0;
  };
  const { way } = drafts;
  const from: WheelFound['from'] = {
    way,
    readings:
      way === 'field'
        ? several('counts', turnsField)
        : several('readings', way === 'tape' ? wheelFields.tape : wheelFields.rolled),
    turns: way === 'roll-out' ? one('turns') : null,
    distanceMetres: way === 'field' ? one('distance') : null,
  };
  if (Object.keys(faults).length > 0) return { found: null, faults };
  const found = reckoned(from);
  const fits = found !== null && found.circumference >= 0.2 && found.circumference <= 15;
  if (!fits) faults[way === 'field' ? 'counts' : 'readings'] = outside(system);
  return { found: fits ? { ...found, from } : null, faults };
}

const outside = (system: System): Fault =>
  system === 'metric'
    ? { kind: 'range', low: '0.2 m', high: '15 m' }
    : { kind: 'range', low: '8 in', high: '590 in' };

/** Null where the domain will not work with it. */
export function reckoned(from: NonNullable<Plan['drill']['circumferenceFrom']>): FoundCircumference | null {
  const { way, readings, turns: count, distanceMetres } = from;
  try {
    if (way === 'tape') return tapedCircumference(readings.map(metres), metres(readWithin.tapeMetres));
    if (way === 'roll-out')
      return rolledCircumference(readings.map(metres), turns(count ?? 0), metres(readWithin.markMetres));
    return countedCircumference(metres(distanceMetres ?? 0), readings.map(turns), readWithin.turns);
  } catch {
    return null;
  }
}

const near = (one: number, other: number): boolean => Math.abs(one - other) <= 1e-6 * Math.abs(other);

/** The plan without the working of a figure that has been typed over since. */
export function withoutStaleWorking(plan: Plan): Plan {
  const { rowSpacingFrom: ranks, circumferenceFrom: wheel, ...drill } = plan.drill;
  const ranksHold =
    ranks != null &&
    near(staggeredRowSpacing(metres(ranks.withinRankMetres), ranks.ranks), drill.rowSpacingMetres);
  const wheelHolds = wheel != null && near(reckoned(wheel)?.circumference ?? 0, drill.circumferenceMetres);
  if ((ranks == null || ranksHold) && (wheel == null || wheelHolds)) return plan;
  return {
    ...plan,
    drill: {
      ...drill,
      ...(ranksHold ? { rowSpacingFrom: ranks } : {}),
      ...(wheelHolds ? { circumferenceFrom: wheel } : {}),
    },
  };
}
