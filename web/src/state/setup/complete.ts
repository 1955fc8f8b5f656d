import type { TargetUnit } from '../../../../server/domain/target-units.ts';
import type { Plan } from '../../../../server/http/messages.ts';
import { fields, type NumberField } from '../fields.ts';
import type { Drafts, Faults } from '../form.ts';
import { exact } from '../format.ts';
import { type Fault, readEntry } from '../quantity.ts';
import { fromSi, type System } from '../units.ts';
import { readSeed, readSeedText, summaryOf } from './seed.ts';
import { isPlain, ofPlants, rateOf, readTarget, targetIn, unitOf } from './target.ts';
import { withoutStaleWorking } from './working.ts';

/** What follows from several fields of the form together: the seed from its parts, the target from its unit, the setting from its marks. Pure. */

interface Read {
  plan: Plan;
  faults: Faults;
}

type Step = (read: Read, base: Plan, drafts: Drafts, system: System) => Read;

const faulted = ({ plan, faults }: Read, more: Faults): Read => ({ plan, faults: { ...faults, ...more } });

const near = (one: number, other: number): boolean => Math.abs(one - other) <= 1e-9 * Math.abs(other);

/** The density follows its estimate as long as nobody has measured another. */
function followsEstimate(base: Plan): boolean {
  const known = base.seed.bulkDensityKilogramsPerCubicMetre ?? null;
  const estimate = summaryOf(base.seed)?.density ?? null;
  return known === null || (estimate !== null && near(known, estimate));
}

const withSeed: Step = (read, base, drafts, system) => {
  const text = drafts.parts;
  if (text === undefined) return read;
  const typed = readSeedText(text);
  const { parts: _, basis: __, ...seed } = read.plan.seed;
  if (typed === null) return { ...read, plan: { ...read.plan, seed } };
  const made = readSeed(typed, system);
  if (!made.ok) return faulted(read, { parts: made.fault });
  const { basis, parts } = made;
  const summary = summaryOf(made);
  if (summary === null) return faulted(read, { parts: { kind: 'nothing-alive' } });
  const { seedMassGrams, density } = summary;
  const follow = drafts.bulkDensity === undefined && density !== null && followsEstimate(base);
  const dense = follow ? { bulkDensityKilogramsPerCubicMetre: Number(density.toPrecision(6)) } : {};
  return { ...read, plan: { ...read.plan, seed: { ...seed, seedMassGrams, ...dense, basis, parts } } };
};

/** Nothing of the target was typed: one stated by number of seeds follows the seed and the rows. */
function withStatedTarget(read: Read): Read {
  const { plan } = read;
  const { stated } = plan.target;
  if (stated == null) return read;
  const rate = rateOf(plan, stated.figure, stated.unit, stated.establishment);
  if (rate === null) return faulted(read, { targetRate: { kind: 'needs-seed' } });
  if (near(rate, plan.target.gramsPerSquareMetre)) return read;
  const { least, most } = fields.targetRate as NumberField;
  if (rate < least || rate > most) return faulted(read, { targetRate: rateLimits(least, most) });
  return { ...read, plan: { ...plan, target: { ...plan.target, gramsPerSquareMetre: rate } } };
}

const rateLimits = (least: number, most: number) => ({
  kind: 'range' as const,
  low: `${exact(fromSi(least, 'rate', 'kg/ha'))} kg/ha`,
  high: `${exact(fromSi(most, 'rate', 'kg/ha'))} kg/ha`,
});

/** The unit that the form shows beside the target. */
export function chosenUnit(base: Plan, drafts: Drafts, system: System): TargetUnit {
  const { stated: _, ...plain } = base.target;
  if (drafts.targetUnit === undefined) return unitOf(base.target, system);
  return drafts.targetUnit === '' ? unitOf(plain, system) : (drafts.targetUnit as TargetUnit);
}

const withTarget: Step = (read, base, drafts, system) => {
  const typed = [drafts.targetRate, drafts.targetUnit, drafts.establishment];
  if (typed.every((text) => text === undefined)) return withStatedTarget(read);
  const { plan } = read;
  const unit = chosenUnit(base, drafts, system);
  const share = readShare(base, drafts, system);
  if (typeof share === 'object' && share !== null) return faulted(read, { establishment: share.fault });
  const establishment = share;
  const figure = drafts.targetRate ?? figureIn(plan, unit, establishment, base, drafts);
  const field = fields.targetRate as NumberField;
  const made = readTarget(plan, { typed: figure, unit, establishment, field }, system);
  if (!made.ok) {
    const place = made.fault.kind === 'needs-establishment' ? 'establishment' : 'targetRate';
    return faulted(read, { [place]: made.fault });
  }
  const { stated: _, ...target } = plan.target;
  const { gramsPerSquareMetre } = made.value;
  const stated = isPlain(made.value.unit)
    ? {}
    : {
        stated: {
          figure: made.value.figure,
          unit: made.value.unit,
          establishment: ofPlants(made.value.unit) ? (establishment ?? 1) : 1,
        },
      };
  return { ...read, plan: { ...plan, target: { ...target, gramsPerSquareMetre, ...stated } } };
};

function readShare(base: Plan, drafts: Drafts, system: System): number | null | { fault: Fault } {
  const { stated } = base.target;
  const typed = drafts.establishment;
  if (typed === undefined) return stated != null && ofPlants(stated.unit) ? stated.establishment : null;
  const read = readEntry(fields.establishment as NumberField, typed, system, true);
  return read.ok ? (read.value as number | null) : { fault: read.fault };
}

/** The figure of a target that was not typed itself: as it is stated, or the rate in the unit now chosen. */
function figureIn(plan: Plan, unit: TargetUnit, share: number | null, base: Plan, drafts: Drafts): string {
  const { stated } = base.target;
  if (drafts.targetUnit === undefined && stated != null) return exact(stated.figure);
  const figure = targetIn(plan, unit, share ?? 1);
  return figure === null ? '1' : exact(figure);
}

/** What the setting must be on this scale, and how many rows can be caught. */
const withChecks: Step = (read, _base, drafts) => {
  const { drill, rowsCaught } = read.plan;
  const { scale, setting, rowCount } = drill;
  const more: Faults = {};
  const touched = drafts.rowsCaught !== undefined || drafts.rowCount !== undefined;
  if (touched && rowCount != null && rowsCaught > rowCount)
    more.rowsCaught = { kind: 'more-than-rows', rows: rowCount };
  if (scale && drafts.setting !== undefined) {
    const number = settingNumber(setting);
    const named = scale.marks?.some((mark) => mark.toLowerCase() === setting.trim().toLowerCase()) ?? false;
    if (scale.marks !== undefined && setting.trim() !== '' && !named && number === null)
      more.setting = { kind: 'no-such-mark', marks: scale.marks.join(', ') };
    if (number !== null && (number < scale.low || number > scale.high) && !named)
      more.setting = { kind: 'range', low: exact(scale.low), high: exact(scale.high) };
  }
  return faulted(read, { ...more, ...read.faults });
};

/** The number that a setting is, or null. */
export function settingNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.');
  return /^[+-]?\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

const withWorking: Step = (read) => ({ ...read, plan: withoutStaleWorking(read.plan) });

/** The form with all that follows from its fields. */
export function completed(read: Read, base: Plan, drafts: Drafts, system: System): Read {
  return [withSeed, withWorking, withTarget, withChecks].reduce(
    (now, step) => step(now, base, drafts, system),
    read,
  );
}
