import { gramsPerLitre } from '../../../../server/domain/bulk-density.ts';
import {
  rateFromTarget,
  type Sowing,
  type TargetUnit,
  targetFromRate,
  targetUnits,
} from '../../../../server/domain/target-units.ts';
import { gramsPerSquareMetre, metres } from '../../../../server/domain/units.ts';
import type { Plan } from '../../../../server/http/messages.ts';
import type { NumberField } from '../fields.ts';
import { decimalMark, exact, limit } from '../format.ts';
import { readNumber } from '../number.ts';
import { type Fault, type Read, readQuantity } from '../quantity.ts';
import { findUnit, type System } from '../units.ts';
import { lotForAll, summaryOf } from './seed.ts';

/** The target in any unit in use: read as it was typed, and brought to a rate of seed from the bag. Pure. */

/** The unit of a rate by mass that each system shows. */
const byMass: Record<System, TargetUnit> = { metric: 'kg/ha', us: 'lb/ac' };

/** Units that need to know the share of live seeds that become plants. */
export const ofPlants = (unit: TargetUnit): boolean => unit.startsWith('plants/');
/** Units that need to know the lot. */
export const ofSeed = (unit: TargetUnit): boolean => unit.includes('live') || ofPlants(unit);
const ofBushels = (unit: TargetUnit): boolean => unit.includes('bu/ac');

/** Spellings that people use, in the order in which they are replaced. */
const spellings: [RegExp, string][] = [
  [/\b(?:graines|semillas|samen)\b|körner|korn\b/g, 'seeds'],
  [/\b(?:plantes|plantas|pflanzen)\b/g, 'plants'],
  [/\b(?:vivantes|vivas|lebende) /g, ''],
  [/ (?:vivantes|vivas)(?=\/| )/g, ''],
  [/\blebende /g, ''],
  [/ (?:de rang|de línea|reihe)$/, ' of row'],
  [/\b(?:pure live seed|pls)\b/g, 'live seed'],
  [/\bper\b/g, '/'],
  [/ ?\/ ?/g, '/'],
  [/\b(?:sq\.? ?(?:ft|feet|foot)|square (?:foot|feet)|ft\^?2|sqft)/g, 'ft²'],
  [/\b(?:sq\.? ?(?:m|metres?|meters?)\b|square met(?:re|er)s?|m\^?2|sqm)/g, 'm²'],
  [/\b(?:sq\.? ?(?:yd|yards?)|square yards?|yd\^?2)/g, 'yd²'],
  [/\bacres?\b/g, 'ac'],
  [/\bhectares?\b/g, 'ha'],
  [/\b(?:metres?|meters?)\b/g, 'm'],
  [/\b(?:foot|feet)\b/g, 'ft'],
  [/\b(?:lbs|pounds?)\b/g, 'lb'],
  [/\b(?:kgs|kilos?|kilograms?)\b/g, 'kg'],
  [/\bstones?\b/g, 'st'],
  [/\bbushels?\b/g, 'bu'],
  [/\bseed\/(?!.*live)/g, 'seeds/'],
  [/^(?:row )?seeds\//, 'live seeds/'],
  [/^plant\//, 'plants/'],
  [/(?<! of) (?:drill )?row$/, ' of row'],
  [/^bu\/ac$/, 'us bu/ac'],
  [/^seeds?\/(m|ft)$/, 'live seeds/$1 of row'],
];

/** The unit meant by a spelling such as `seeds per sq ft`, or null. */
export function findTargetUnit(spelling: string): TargetUnit | null {
  let text = spelling.toLowerCase().replace(/\s+/g, ' ').trim();
  for (const [pattern, plain] of spellings) text = text.replace(pattern, plain);
  const rowless = text.replace(/^(live seeds|plants)\/(m|ft)$/, '$1/$2 of row');
  return targetUnits.find((unit) => unit.toLowerCase() === rowless) ?? null;
}

/** The unit in which a plan states its target. */
export const unitOf = (target: Plan['target'], system: System): TargetUnit =>
  target.stated?.unit ?? byMass[system];

/** A unit that is a rate by mass on the page itself: such a target follows a change of units. */
export const isPlain = (unit: TargetUnit): boolean => unit === 'kg/ha' || unit === 'lb/ac';

/** What some units need to know, from the plan; null where it does not know it. */
export function sowingOf(plan: Plan, unit: TargetUnit, establishment: number): Sowing | null {
  const summary = summaryOf(plan.seed);
  if (summary === null && ofSeed(unit)) return null;
  const density = plan.seed.bulkDensityKilogramsPerCubicMetre ?? summary?.density ?? null;
  return {
    lot: summary === null ? anyLot : lotForAll(summary, unit.endsWith('live seed') ? 'mass' : 'number'),
    rowSpacing: metres(plan.drill.rowSpacingMetres),
    establishment,
    density: density === null ? null : gramsPerLitre(density),
  };
}

/** For units that ask nothing of the lot. */
const anyLot = {
  thousandSeedWeight: 1 as Sowing['lot']['thousandSeedWeight'],
  purity: 1,
  germination: 1,
  hard: 0,
  dormant: 0,
};

/** What is missing for a unit, or null. */
function missing(plan: Plan, unit: TargetUnit, establishment: number | null): Fault | null {
  if (ofSeed(unit) && summaryOf(plan.seed) === null) return { kind: 'needs-seed' };
  if (ofPlants(unit) && establishment === null) return { kind: 'needs-establishment' };
  return ofBushels(unit) && sowingOf(plan, unit, 1)?.density == null ? { kind: 'needs-density' } : null;
}

/** Grams a square metre that a figure asks for, or null where it cannot be reckoned. */
export function rateOf(plan: Plan, figure: number, unit: TargetUnit, establishment: number): number | null {
  try {
    const sowing = sowingOf(plan, unit, establishment);
    return sowing === null ? null : rateFromTarget(figure, unit, sowing);
  } catch {
    return null;
  }
}

/** What a plan's target comes to in a unit; null where it cannot be reckoned. */
export function targetIn(plan: Plan, unit: TargetUnit, establishment = 1): number | null {
  try {
    const sowing = sowingOf(plan, unit, establishment);
    const rate = gramsPerSquareMetre(plan.target.gramsPerSquareMetre);
    return sowing === null ? null : targetFromRate(rate, unit, sowing);
  } catch {
    return null;
  }
}

/** A target as read: its unit is that typed behind the figure, else the one chosen. */
export interface ReadTarget {
  figure: number;
  unit: TargetUnit;
  gramsPerSquareMetre: number;
}

interface Wanted {
  typed: string;
  unit: TargetUnit;
  establishment: number | null;
  field: NumberField;
}

/** Reads a target. `plan`: with the seed and row spacing that it is for. */
export function readTarget(
  plan: Plan,
  { typed, unit: chosen, establishment, field }: Wanted,
  system: System,
): { ok: true; value: ReadTarget } | { ok: false; fault: Fault } {
  const number = readNumber(typed, decimalMark());
  const unit = unitTyped(number?.unit ?? '', chosen, field);
  if (unit === null || number === null || isPlain(unit)) {
    const read = readQuantity(field, withUnit(typed, number?.unit ?? '', unit), system);
    if (!read.ok) return read as Extract<Read, { ok: false }>;
    const rate = read.value as number;
    return { ok: true, value: { figure: 0, unit: unit ?? byMass[system], gramsPerSquareMetre: rate } };
  }
  const lacking = missing(plan, unit, establishment);
  if (lacking !== null) return { ok: false, fault: lacking };
  const within = (figure: number) => {
    const rate = rateOf(plan, figure, unit, establishment ?? 1);
    return rate === null || rate < field.least || rate > field.most
      ? []
      : [{ figure, unit, gramsPerSquareMetre: rate }];
  };
  const fits = [number.value, ...(number.grouped === null ? [] : [number.grouped])].flatMap(within);
  if (fits.length > 1)
    return {
      ok: false,
      fault: { kind: 'two-readings', one: exact(number.value), other: exact(number.grouped!) },
    };
  const [value] = fits;
  return value === undefined
    ? { ok: false, fault: { kind: 'range', ...ends(plan, unit, establishment ?? 1, field) } }
    : { ok: true, value };
}

/** The unit that a text names, the one chosen where it names none, null for what is no unit of a target but may be one of a rate (g/m²). */
function unitTyped(text: string, chosen: TargetUnit, field: NumberField): TargetUnit | null {
  if (text === '') return chosen;
  return findUnit(field.dimension, text) === null ? findTargetUnit(text) : null;
}

/** A plain rate without a unit behind it is in the unit chosen. */
const withUnit = (typed: string, unit: string, chosen: TargetUnit | null): string =>
  unit === '' && chosen !== null ? `${typed} ${chosen}` : typed;

/** The limits of a target in its own unit. */
function ends(plan: Plan, unit: TargetUnit, establishment: number, { least, most }: NumberField) {
  const at = (rate: number, side: 'low' | 'high'): string => {
    const target = { ...plan.target, gramsPerSquareMetre: rate };
    const figure = targetIn({ ...plan, target }, unit, establishment);
    return figure === null ? '' : `${limit(figure, side)} ${unit}`;
  };
  return { low: at(least, 'low'), high: at(most, 'high') };
}
