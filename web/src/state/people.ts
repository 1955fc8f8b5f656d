import { computed, effect, signal } from '@preact/signals';
import type {
  AuditAnswer,
  CodeAnswer,
  HereAnswer,
  MeAnswer,
  PersonView,
  SessionsAnswer,
} from '../../../server/http/access-messages.ts';
import { type Answer, request } from './api.ts';
import { live } from './store.ts';

/** Who may come in, who is here, who holds the wheel. Where nobody but this computer can come in, all of it is silent. */

export type Role = PersonView['role'];
const ranks: Record<Role, number> = { watch: 0, operate: 1, manage: 2 };

/** What the server says of this device; null until it has. */
export const me = signal<MeAnswer | null>(null);
/** Null where nobody else can come in, and until the server has told. */
export const here = signal<HereAnswer | null>(null);

/** True where this device has to be paired before it is shown anything. */
export const mustPair = computed(() => me.value?.shared === true && me.value.you === null);

/** Whether this device was let in for so much. Until the server says otherwise, it was. */
export const mayI = (needed: Role): boolean => {
  const role = me.value?.you?.role;
  return role === undefined || ranks[role] >= ranks[needed];
};

/** Whether the wheel is in the hands of this device, or free for it. */
export const mayUseWheel = computed(() => {
  if (!mayI('operate')) return false;
  const people = here.value;
  return people === null || people.wheel.holder === null || people.wheel.holder === people.you.id;
});

async function readHere(): Promise<void> {
  const answer = await request<HereAnswer>('GET', 'access/here');
  if (answer.ok) here.value = answer.value;
}

export async function readMe(): Promise<void> {
  const answer = await request<MeAnswer>('GET', 'access');
  if (!answer.ok) return;
  me.value = answer.value;
  if (answer.value.shared && answer.value.you !== null) await readHere();
  else here.value = null;
}

export const knock = (): Promise<Answer<unknown>> => request('POST', 'access/knock');

/** Comes in by a code; then everything is asked for anew. */
export async function pair(code: string, name: string): Promise<Answer<PersonView>> {
  const answer = await request<PersonView>('POST', 'access/pair', { code, name });
  if (answer.ok) {
    await readMe();
    dispatchEvent(new Event('catchbench:connect'));
  }
  return answer;
}

export type WheelAct = 'ask' | 'take' | 'keep' | 'leave';
/** Asks for the wheel, takes it, keeps it or lets go of it. */
export async function wheel(act: WheelAct): Promise<Answer<unknown>> {
  const answer = await request('POST', `wheel/${act}`);
  await readHere();
  return answer;
}

export async function giveWheel(to: string): Promise<Answer<unknown>> {
  const answer = await request('POST', 'wheel/give', { to });
  await readHere();
  return answer;
}

export const offerCode = (role: Role): Promise<Answer<CodeAnswer>> =>
  request('POST', 'access/codes', { role });
export const listSessions = (): Promise<Answer<SessionsAnswer>> => request('GET', 'access/sessions');
export const listAudit = (): Promise<Answer<AuditAnswer>> => request('GET', 'access/audit');
export const revoke = (id: string): Promise<Answer<unknown>> =>
  request('POST', `access/sessions/${encodeURIComponent(id)}/revoke`);

export async function leave(): Promise<void> {
  await request('POST', 'access/leave');
  await readMe();
}

/** Asks who one is whenever the connection opens or closes, and who is here whenever that changes. Called once. */
export function followPeople(): void {
  effect(() => {
    const { socket } = live.value;
    // A device that is not paired is let onto no socket; one on the same computer has nothing to ask while that is away.
    const turnedAway = socket === 'waiting' && me.peek()?.shared !== false;
    if (socket === 'open' || turnedAway) void readMe();
  });
  let known = 0;
  effect(() => {
    const { peopleNews } = live.value;
    if (peopleNews === known) return;
    known = peopleNews;
    if (peopleNews > 0) void readHere();
  });
}
