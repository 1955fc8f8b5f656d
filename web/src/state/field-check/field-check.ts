import { batch, effect, signal } from '@preact/signals';
import type { FieldCheckBody, FieldLine, FieldView } from '../../../../server/http/field-messages.ts';
import type { Plan } from '../../../../server/http/messages.ts';
import * as api from '../api.ts';
import { sentence } from '../doing.ts';
import { keep, recall } from '../kept.ts';
import { live, pending } from '../store.ts';
import type { System } from '../units.ts';
import type { FieldCheckDrafts } from './drafts.ts';

/** The field checks of a calibration as this page knows them, and what a person can do with them. None of the acts throws. */

/** Null until they were read. */
export const fieldView = signal<FieldView | null>(null);
/** The calibration that was chosen; null: that of the plan in hand. */
export const chosenCalibration = signal<string | null>(null);
/** What the figures as typed would say; null while nothing was worked out for them. */
export const fieldLine = signal<FieldLine | null>(null);
/** What is typed, and in which units; null until someone begins. */
export const fieldDrafts = signal<{ system: System; typed: FieldCheckDrafts } | null>(recalled());

function recalled(): { system: System; typed: FieldCheckDrafts } | null {
  try {
    return JSON.parse(recall(() => sessionStorage, 'field-check') ?? 'null');
  } catch {
    return null;
  }
}

effect(() => keep(() => sessionStorage, 'field-check', JSON.stringify(fieldDrafts.value)));

/** Why something was refused, and at which field where one is at fault. */
export interface Refused {
  message: string;
  field: string | null;
}

const path = (what: string): string => {
  const id = chosenCalibration.value;
  return `field${what}${id === null ? '' : `?calibration=${encodeURIComponent(id)}`}`;
};

const refusedBy = (answer: Extract<api.Answer<unknown>, { ok: false }>): Refused => ({
  message: sentence(answer),
  field: answer.problem?.field ?? null,
});

let asked = 0;

export async function readField(): Promise<Refused | null> {
  const number = ++asked;
  const answer = await api.request<FieldView>('GET', path(''));
  if (number !== asked) return null;
  if (!answer.ok) return refusedBy(answer);
  fieldView.value = answer.value;
  return null;
}

export function chooseCalibration(id: string | null): Promise<Refused | null> {
  batch(() => {
    chosenCalibration.value = id;
    fieldLine.value = null;
  });
  return readField();
}

/** Works out what a check would say; nothing is kept. */
export async function lookAtField(body: FieldCheckBody): Promise<Refused | null> {
  const answer = await api.request<FieldLine>('POST', path('/look'), body);
  fieldLine.value = answer.ok ? answer.value : null;
  return answer.ok ? null : refusedBy(answer);
}

async function change(what: string, body?: unknown): Promise<Refused | null> {
  const answer = await api.request<FieldView>('POST', path(what), body);
  if (!answer.ok) return refusedBy(answer);
  asked++;
  fieldView.value = answer.value;
  return null;
}

export async function keepField(body: FieldCheckBody): Promise<Refused | null> {
  const refused = await change('/checks', body);
  if (refused !== null) return refused;
  batch(() => {
    fieldDrafts.value = null;
    fieldLine.value = null;
  });
  return null;
}

export const removeField = (id: string): Promise<Refused | null> =>
  change(`/checks/${encodeURIComponent(id)}/remove`);

async function savePlan(change: (plan: Plan) => Plan): Promise<Refused | null> {
  const { plan } = live.value;
  if (plan === null || pending.value !== null) return null;
  pending.value = 'plan';
  const answer = await api.savePlan(change(plan));
  pending.value = null;
  if (!answer.ok) return refusedBy(answer);
  live.value = { ...live.value, plan: answer.value };
  await readField();
  return null;
}

/** Aims for another rate on the stand from the next run on. A target that was stated in another unit is one by mass from then on. */
export const useAim = (gramsPerSquareMetre: number): Promise<Refused | null> =>
  savePlan((plan) => {
    const { stated: _, ...target } = plan.target;
    return { ...plan, target: { ...target, gramsPerSquareMetre } };
  });

/** Takes the difference for slip of the wheel. */
export const useSlip = (slip: number, slipDoubt: number): Promise<Refused | null> =>
  savePlan((plan) => ({ ...plan, drill: { ...plan.drill, slip, slipDoubt: Math.min(0.3, slipDoubt) } }));
