import { signal } from '@preact/signals';
import type { BeforeRunView } from '../../../../server/http/before-run-messages.ts';
import * as api from '../api.ts';
import { act, sentence } from '../doing.ts';
import { address } from '../route.ts';
import { pending, refusal } from '../store.ts';

/** The short check before a run: what the stand sees of itself, and what a person is asked. */

/** Null until it was read, or where the service has none. */
export const beforeRun = signal<BeforeRunView | null>(null);

/** Counts up whenever someone wants to get ready and has to look over the list first. */
export const listWanted = signal(0);

let asked = 0;

/** Reads it; of several answers under way the one asked for last counts. */
export async function readBeforeRun(): Promise<BeforeRunView | null> {
  const number = ++asked;
  const answer = await api.request<BeforeRunView>('GET', 'before-run');
  if (number === asked) beforeRun.value = answer.ok ? answer.value : null;
  return answer.ok ? answer.value : null;
}

function showList(): void {
  location.hash = address('run');
  listWanted.value += 1;
}

/** Get ready, unless the list is to be looked over first: then that is shown, and nothing is armed. */
export async function getReady(): Promise<void> {
  if (pending.value !== null) return;
  const view = await readBeforeRun();
  if (view?.toConfirm === true) return showList();
  const problem = await act('arm');
  // Meanwhile the plan has become another, or the list was never read.
  if (problem?.code !== 'list-first') return;
  await readBeforeRun();
  showList();
}

/** Everything on the list is confirmed: keeps that, then gets ready. */
export async function confirmAndGetReady(items: BeforeRunView['asked']): Promise<void> {
  if (pending.value !== null) return;
  pending.value = 'arm';
  const answer = await api.request<BeforeRunView>('POST', 'before-run', { items });
  pending.value = null;
  if (!answer.ok) {
    refusal.value = sentence(answer);
    return;
  }
  asked++;
  beforeRun.value = answer.value;
  await act('arm');
}
