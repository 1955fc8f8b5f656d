import { batch, signal } from '@preact/signals';
import type { Plan } from '../../../../server/http/messages.ts';
import type { PastAnswer, SpeciesView } from '../../../../server/http/setup-messages.ts';
import * as api from '../api.ts';
import { savePlan, sentence, typeField } from '../doing.ts';
import type { FieldId } from '../fields.ts';
import { shownText } from '../form.ts';
import { exact } from '../format.ts';
import { form, live, planSaved, system } from '../store.ts';
import { fromSi } from '../units.ts';
import { emptyPart, type PartDraft, partQuantity } from './seed.ts';

/** What a set-up can begin from: drills, mixes and lots on record, and the table of species. */

/** Null until it was read. */
export const past = signal<PastAnswer | null>(null);
export const pastTrouble = signal<string | null>(null);

export async function readPast(): Promise<void> {
  const answer = await api.readPast();
  batch(() => {
    pastTrouble.value = answer.ok ? null : sentence(answer);
    if (answer.ok) past.value = answer.value;
  });
}

const drillFields: readonly FieldId[] = [
  'drillName',
  'setting',
  'rowSpacing',
  'circumference',
  'slip',
  'rowCount',
  'scaleMarks',
  'scaleLow',
  'scaleHigh',
  'scaleStep',
  'configuration',
  'otherConfigurations',
  'shaftRatio',
  'rowSpacingDoubt',
  'circumferenceDoubt',
  'slipDoubt',
  'closedAt',
  'leverPlay',
  'rowSpacingFrom',
  'circumferenceFrom',
];
const seedFields: readonly FieldId[] = [
  'seedName',
  'parts',
  'thousandSeedWeight',
  'bulkDensity',
  'repeatability',
];

/** Types the fields of another plan into the form. */
function typeFrom(plan: Plan, ids: readonly FieldId[]): void {
  batch(() => {
    for (const id of ids) typeField(id, shownText(id, plan, system.value));
  });
}

/** A drill on record takes the place of the one in the form. The setting is left open: where its lever stands nobody knows. */
export function takeDrill(drill: Plan['drill']): void {
  const { plan } = live.value;
  if (plan !== null) typeFrom({ ...plan, drill }, drillFields);
}

/** A mix on record takes the place of the seed in the form. */
export function takeSeed(seed: Plan['seed']): void {
  const { plan } = live.value;
  if (plan !== null) typeFrom({ ...plan, seed }, seedFields);
}

/** Saves the plan, and puts drill and seed on record for the next time. */
export async function saveSetUp(): Promise<void> {
  const plan = form.value?.plan ?? null;
  await savePlan();
  if (plan === null || !planSaved.value) return;
  // The plan is saved; that a copy for next time could not be kept now is made good when the run is armed.
  if ((await api.keepSetUp(plan)).ok) await readPast();
}

/** A species of the table as the lot that one begins with: the middle of what is published. */
export function partOfSpecies(species: SpeciesView): PartDraft {
  const { key, commonName, thousandSeedWeight, bulkDensity } = species;
  const density = bulkDensity === null ? '' : exactIn('density', bulkDensity.typical);
  return {
    ...emptyPart,
    name: commonName,
    species: key,
    weight: exactIn('weight', thousandSeedWeight.typical / 1000),
    density,
  };
}

function exactIn(id: 'density' | 'weight', si: number): string {
  const { dimension, unit } = partQuantity[id];
  return exact(fromSi(Number(si.toPrecision(4)), dimension, unit[system.value]));
}
