import type { HandRunBody, PrintedChartBody, RowsBody } from '../../../server/http/calibration-messages.ts';
import { fields } from './fields.ts';
import { type Fault, type QuantityField, type Read, readQuantity } from './form.ts';
import { exact } from './format.ts';
import { markOf } from './next-act.ts';
import { fromSi, type System } from './units.ts';

/** What is typed in beside the plan: a catch weighed by hand, and rows of the chart on a drill's lid. Pure; SI comes out. */

export const handFields = ['setting', 'turns', 'grams', 'scaleStep'] as const;
export type HandField = (typeof handFields)[number];
export type HandDrafts = Record<HandField, string> & { countedByEye: boolean };

/** A scale as far as a setting is read by it. */
export interface ScaleEnds {
  low: number;
  high: number;
  step?: number;
  marks?: readonly string[];
}

const anyScale: ScaleEnds = { low: 0, high: 10_000 };

/** How each field is read: limits are those of the server's schema, and of the drill's own scale where it is known. */
export function handQuantity(id: HandField, scale: ScaleEnds | null): QuantityField {
  const mass = { dimension: 'mass', unit: { metric: 'g', us: 'oz' }, whole: false } as const;
  const { low, high } = scale ?? anyScale;
  switch (id) {
    case 'setting':
      return {
        dimension: 'mark',
        unit: { metric: '', us: '' },
        least: low,
        most: high,
        example: high,
        whole: false,
      };
    case 'turns':
      return {
        dimension: 'turns',
        unit: { metric: 'turns', us: 'turns' },
        least: 0.01,
        most: 2000,
        example: 25,
        whole: false,
      };
    case 'grams':
      return { ...mass, least: 0, most: 100_000, example: 85 };
    case 'scaleStep':
      return { ...mass, least: 0, most: 1000, example: 1 };
  }
}

const read = (field: QuantityField, typed: string, system: System): Read =>
  typed.trim() === '' ? { ok: false, fault: { kind: 'empty' } } : readQuantity(field, typed.trim(), system);

/** A setting by its number, or by the name of its mark. */
function readSetting(typed: string, scale: ScaleEnds | null, system: System): Read {
  const named = scale?.step === undefined ? null : markOf({ ...scale, step: scale.step }, typed);
  return named === null ? read(handQuantity('setting', scale), typed, system) : { ok: true, value: named };
}

export type HandFaults = Partial<Record<HandField, Fault>>;

/** The body of a hand run, or what is wrong with which field. */
export function readHandRun(
  drafts: HandDrafts,
  scale: ScaleEnds | null,
  system: System,
): { body: HandRunBody | null; faults: HandFaults } {
  const faults: HandFaults = {};
  const values: Partial<Record<HandField, number>> = {};
  for (const id of handFields) {
    const found =
      id === 'setting'
        ? readSetting(drafts.setting, scale, system)
        : read(handQuantity(id, scale), drafts[id], system);
    if (found.ok) values[id] = found.value as number;
    else faults[id] = found.fault;
  }
  const { setting, turns, grams, scaleStep } = values;
  if (setting === undefined || turns === undefined || grams === undefined || scaleStep === undefined) {
    return { body: null, faults };
  }
  const { countedByEye } = drafts;
  return { body: { setting, turns, grams, scaleStepGrams: scaleStep, countedByEye }, faults };
}

/** Carries what can be read into the other system of units; what cannot stays as it was typed. */
export function convertHand(drafts: HandDrafts, from: System, to: System): HandDrafts {
  const carried = { ...drafts };
  for (const id of ['grams', 'scaleStep'] as const) {
    const field = handQuantity(id, null);
    const found = read(field, drafts[id], from);
    if (found.ok) carried[id] = exact(fromSi(found.value as number, 'mass', field.unit[to]));
  }
  return carried;
}

/** Catches of several rows, as typed: one field with all of them, in order. */
export interface RowsDrafts {
  turns: string;
  catches: string;
  scaleStep: string;
  together: boolean;
}
export type RowsFaults = Partial<Record<'turns' | 'catches' | 'scaleStep', Fault>>;

const fewestRows = 2;

/** The body of a comparison of rows, or what is wrong with which field. Catches stand apart by spaces, semicolons or new lines. */
export function readRows(drafts: RowsDrafts, system: System): { body: RowsBody | null; faults: RowsFaults } {
  const faults: RowsFaults = {};
  const value = (id: 'turns' | 'scaleStep'): number | null => {
    const found = read(handQuantity(id, null), drafts[id], system);
    if (!found.ok) faults[id] = found.fault;
    return found.ok ? (found.value as number) : null;
  };
  const [turns, scaleStepGrams] = [value('turns'), value('scaleStep')];
  const caught: number[] = [];
  for (const typed of drafts.catches.split(/[\s;]+/).filter((part) => part !== '')) {
    const found = read(handQuantity('grams', null), typed, system);
    if (found.ok) caught.push(found.value as number);
    else faults.catches ??= found.fault;
  }
  if (caught.length < fewestRows) faults.catches ??= { kind: 'empty' };
  if (turns === null || scaleStepGrams === null || faults.catches !== undefined)
    return { body: null, faults };
  return { body: { turns, grams: caught, scaleStepGrams, together: drafts.together }, faults };
}

/** Rows of a printed chart as typed, and the bulk density they were made with. */
export interface LidDrafts {
  density: string;
  rows: { setting: string; rate: string }[];
}
export interface LidFaults {
  density?: Fault;
  rows: { setting?: Fault; rate?: Fault }[];
}

const rateField = fields.targetRate as QuantityField;
const densityField = fields.bulkDensity as QuantityField;
const lidRate: QuantityField = { ...rateField, least: 0.001, most: 1000 };

/** The body of a printed chart, or what is wrong where. Rows with nothing in them do not count; half a row is a fault. */
export function readLid(
  drafts: LidDrafts,
  scale: ScaleEnds | null,
  system: System,
): { body: PrintedChartBody | null; faults: LidFaults } {
  const faults: LidFaults = { rows: drafts.rows.map(() => ({})) };
  const rows: PrintedChartBody['rows'] = [];
  let sound = true;
  drafts.rows.forEach((row, index) => {
    if (row.setting.trim() === '' && row.rate.trim() === '') return;
    const setting = readSetting(row.setting, scale, system);
    const rate = read(lidRate, row.rate, system);
    if (!setting.ok) faults.rows[index]!.setting = setting.fault;
    if (!rate.ok) faults.rows[index]!.rate = rate.fault;
    if (setting.ok && rate.ok)
      rows.push({ setting: setting.value as number, gramsPerSquareMetre: rate.value as number });
    else sound = false;
  });
  const empty = drafts.density.trim() === '';
  const density = empty ? ({ ok: true, value: null } as const) : read(densityField, drafts.density, system);
  if (!density.ok) return { body: null, faults: { ...faults, density: density.fault } };
  const bulkDensityKilogramsPerCubicMetre = density.value as number | null;
  return { body: sound ? { bulkDensityKilogramsPerCubicMetre, rows } : null, faults };
}

/** Rows on record as one would type them, and empty ones up to three. */
export function lidDrafts(
  rows: readonly { setting: number; gramsPerSquareMetre: number }[],
  bulkDensity: number | null,
  system: System,
): LidDrafts {
  const unit = rateField.unit[system];
  const typed = rows.map(({ setting, gramsPerSquareMetre }) => ({
    setting: exact(setting),
    rate: exact(fromSi(gramsPerSquareMetre, 'rate', unit)),
  }));
  while (typed.length < 3) typed.push({ setting: '', rate: '' });
  const density =
    bulkDensity === null ? '' : exact(fromSi(bulkDensity, densityField.dimension, densityField.unit[system]));
  return { density, rows: typed };
}

/** Carries rows into the other system of units; what cannot be read stays as it was typed. */
export function convertLid(drafts: LidDrafts, from: System, to: System): LidDrafts {
  const carry = (field: QuantityField, typed: string): string => {
    const found = read(field, typed, from);
    return found.ok ? exact(fromSi(found.value as number, field.dimension, field.unit[to])) : typed;
  };
  return {
    density: carry(densityField, drafts.density),
    rows: drafts.rows.map(({ setting, rate }) => ({ setting, rate: carry(lidRate, rate) })),
  };
}
