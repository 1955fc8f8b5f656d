import { batch } from '@preact/signals';
import type { Problem, StartBody } from '../../../server/http/messages.ts';
import { type Act, isStopKey } from './acts.ts';
import * as api from './api.ts';
import { convertEntries } from './calibration.ts';
import { type FieldId, fieldAt } from './fields.ts';
import { convertDrafts, shownText, type as typeInto } from './form.ts';
import { say } from './say.ts';
import {
  drafts,
  form,
  live,
  pending,
  planMoved,
  planProblem,
  planSaved,
  refusal,
  runs,
  system,
} from './store.ts';
import { toldWords } from './told.ts';
import type { System } from './units.ts';

/** What a person can do on the page. Each ends with the server's answer shown; none throws. */

type Refused = Extract<api.Answer<unknown>, { ok: false }>;

/** Why something was refused, in a sentence. */
export const sentence = ({ status, problem }: Refused): string =>
  problem !== null
    ? toldWords(problem.message)
    : status === 0
      ? say.problem.unreachable
      : say.problem.unknown({ status });

/** A start of the run that this page shows, with the time of what it shows: one that comes late, or for another run, starts nothing. */
const startNow = (): StartBody => ({ run: live.value.run?.id ?? '', sentAt: live.value.sentAt ?? 0 });

/** Get ready, Start or Throw away. One at a time; what the run then does is told by the socket. Resolves to why it was refused, or null. */
export async function act(name: Exclude<Act, 'stop'>): Promise<Problem | null> {
  if (pending.value !== null) return null;
  pending.value = name;
  const answer = await (name === 'start' ? api.act(name, startNow()) : api.act(name));
  batch(() => {
    pending.value = null;
    refusal.value = answer.ok ? null : sentence(answer);
  });
  return answer.ok ? null : answer.problem;
}

/** Stop. Never waits for another request, may be pressed as often as one likes. */
export async function stop(): Promise<void> {
  const answer = await api.act('stop');
  if (answer.ok) refusal.value = null;
  else refusal.value = answer.status === 0 ? say.problem.unreachableStop : sentence(answer);
}

/** Stops on Escape or the space bar while the wheel may turn, whatever has the focus. */
export function stopOnKey(event: KeyboardEvent): void {
  const target = event.target instanceof HTMLElement ? event.target : null;
  const inTextField = target?.matches('input:not([type=radio], [type=checkbox]), textarea') ?? false;
  if (!isStopKey(event.key, inTextField, live.value)) return;
  event.preventDefault();
  event.stopPropagation();
  // A focused button must not also feel the space bar when it comes up.
  if (event.key === ' ') target?.blur();
  if (!event.repeat) void stop();
}

export function typeField(id: FieldId, typed: string): void {
  const { plan } = live.value;
  if (plan === null) return;
  batch(() => {
    drafts.value = typeInto(drafts.value, id, typed, plan, system.value);
    planSaved.value = false;
    const { field } = planProblem.value ?? {};
    if (field !== undefined && fieldAt(field) === id) planProblem.value = null;
  });
}

export function discardDrafts(): void {
  batch(() => {
    drafts.value = {};
    planProblem.value = null;
    planMoved.value = false;
  });
}

/** Sends the plan. What was typed stays until the server has taken it. */
export async function savePlan(): Promise<void> {
  const read = form.value;
  if (pending.value !== null || read === null || Object.keys(read.faults).length > 0) return;
  pending.value = 'plan';
  const sent = drafts.value;
  const answer = await api.savePlan(read.plan);
  batch(() => {
    pending.value = null;
    if (!answer.ok) {
      planProblem.value = answer.problem ?? ({ code: 'none', message: sentence(answer) } satisfies Problem);
      return;
    }
    live.value = { ...live.value, plan: answer.value };
    // What was typed while the request was under way is not saved yet.
    drafts.value = Object.fromEntries(
      Object.entries(drafts.value).filter(([id, typed]) => sent[id as FieldId] !== typed),
    );
    planProblem.value = null;
    planSaved.value = true;
    planMoved.value = false;
  });
}

export function chooseSystem(to: System): void {
  const { plan } = live.value;
  batch(() => {
    if (plan !== null) drafts.value = convertDrafts(drafts.value, plan, system.value, to);
    convertEntries(system.value, to);
    system.value = to;
  });
}

/** The text in a field now. */
export function fieldText(id: FieldId): string {
  const { plan } = live.value;
  return drafts.value[id] ?? (plan === null ? '' : shownText(id, plan, system.value));
}

/** Uses this port from now on, or with null looks for the stand on all. Resolves to why not, or null. */
export async function usePort(path: string | null): Promise<string | null> {
  if (pending.value !== null) return null;
  pending.value = 'link';
  const answer = await api.usePort(path);
  pending.value = null;
  return answer.ok ? null : sentence(answer);
}

export async function readRuns(): Promise<void> {
  const answer = await api.listRuns();
  if (answer.ok) runs.value = answer.value.runs;
}
