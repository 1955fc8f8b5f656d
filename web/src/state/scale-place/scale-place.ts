import { signal } from '@preact/signals';
import type { MassPlace, ScaleView } from '../../../../server/http/scale-messages.ts';
import * as api from '../api.ts';
import { sentence } from '../doing.ts';

/** The scale of the stand as this page knows it, and what a person can do with it. Each act ends with the server's answer shown; none throws. */

/** Null until it was read. */
export const scale = signal<ScaleView | null>(null);
/** Why the last act, or reading, was refused, in a sentence. */
export const scaleTrouble = signal<string | null>(null);
/** What is under way. */
export const scaleBusy = signal<'weigh' | 'other' | null>(null);

let asked = 0;

/** Reads the scale; an answer that was overtaken by an act says nothing new. */
export async function readScale(): Promise<void> {
  const number = asked;
  const answer = await api.request<ScaleView>('GET', 'scale');
  if (number === asked && answer.ok) scale.value = answer.value;
}

async function act(path: string, body: unknown, what: 'weigh' | 'other' = 'other'): Promise<string | null> {
  if (scaleBusy.value !== null) return null;
  scaleBusy.value = what;
  asked++;
  const answer = await api.request<ScaleView>('POST', `scale/${path}`, body);
  asked++;
  scaleBusy.value = null;
  scaleTrouble.value = answer.ok ? null : sentence(answer);
  if (answer.ok) scale.value = answer.value;
  return scaleTrouble.value;
}

export const zeroNow = (cell: number) => act('zero', { cell });
export const beginCheck = (body: unknown) => act('check', body);
export const weigh = (masses: readonly string[], place: MassPlace) =>
  act('check/weigh', { masses, place }, 'weigh');
export const undoStep = () => act('check/undo', undefined);
export const dropCheck = () => act('check/drop', undefined);
export const keepCheck = (write: boolean) => act(write ? 'check/write' : 'check/keep', { note: '' });
