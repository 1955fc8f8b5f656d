import { signal } from '@preact/signals';
import type { CheckActBody, CheckNow, StandCheckAnswer } from '../../../server/http/stand-messages.ts';
import { type Answer, actInStandCheck, beginStandCheck, dropStandCheck, readStandCheck } from './api.ts';
import { sentence } from './doing.ts';

/** The check of the stand as this page knows it. */

export const standCheck = signal<StandCheckAnswer | null>(null);
/** Why the last press did nothing, in a sentence. */
export const standCheckTrouble = signal<string | null>(null);
export const standCheckBusy = signal(false);

function take(answer: Answer<StandCheckAnswer>): void {
  if (answer.ok) standCheck.value = answer.value;
}

/** Looks again; a server that is away is told elsewhere. */
export async function readCheck(): Promise<void> {
  if (!standCheckBusy.value) take(await readStandCheck());
}

async function press(request: () => Promise<Answer<StandCheckAnswer>>): Promise<void> {
  if (standCheckBusy.value) return;
  standCheckBusy.value = true;
  const answer = await request();
  standCheckBusy.value = false;
  take(answer);
  standCheckTrouble.value = answer.ok ? null : sentence(answer);
}

export const beginCheck = (): Promise<void> => press(beginStandCheck);
/** An act in answer to what this page shows as asked. */
export async function actInCheck(body: Omit<CheckActBody, 'question' | 'sentAt'>): Promise<void> {
  const check = standCheck.value?.check;
  if (check == null) return;
  const { question, sentAt } = check;
  await press(() => actInStandCheck({ ...body, question, ...(sentAt === undefined ? {} : { sentAt }) }));
}
export const dropCheck = (): Promise<void> => press(dropStandCheck);

/** What came of the step that has just been judged, or null while one is under way. */
export function judgedNow({ ask, results, step }: CheckNow): CheckNow['results'][number] | null {
  return ask.code === 'judged' ? (results.find((each) => each.step === step) ?? null) : null;
}

/** A figure's name without its cell, and the cell; cell 0 where it belongs to none. */
export function nameAndCell(name: string): { name: string; cell: number } {
  const [, plain, cell] = /^(.*)-([1-6])$/.exec(name) ?? [];
  return plain === undefined ? { name, cell: 0 } : { name: plain, cell: Number(cell) };
}
