import { batch } from '@preact/signals';
import type {
  CalibrationView,
  HandRunBody,
  PrintedChartBody,
  RowsBody,
} from '../../../server/http/calibration-messages.ts';
import * as api from './api.ts';
import { calibration, calibrationTrouble, early, handDrafts, lidDrafts, rowsDrafts } from './calibration.ts';
import { sentence, stop } from './doing.ts';
import { plain } from './format.ts';
import { markName } from './next-act.ts';
import { drafts, live, pending, refusal } from './store.ts';

/** What a person can do with a calibration. Each ends with the server's answer shown; none throws. */

let asked = 0;

/** Whether asking again may bring another answer. */
const worthAsking = (answer: api.Answer<unknown>): boolean =>
  !answer.ok && (answer.status === 0 || answer.status >= 500);

/** Reads the calibration in hand; of several answers under way the one asked for last counts. False: ask again. */
export async function readCalibration(): Promise<boolean> {
  const number = ++asked;
  const answer = await api.readCalibration();
  if (number !== asked) return true;
  batch(() => {
    calibrationTrouble.value = answer.ok ? null : sentence(answer);
    if (answer.ok) calibration.value = answer.value;
  });
  return !worthAsking(answer);
}

/** Reads what the calibration would be if the run in hand ended now. False: ask again. */
export async function readEarly(runId: string): Promise<boolean> {
  const answer = await api.readEarly();
  if (answer.ok) early.value = { runId, view: answer.value };
  return !worthAsking(answer);
}

/** One change at a time; resolves to why it was refused, or null. */
async function change(ask: () => Promise<api.Answer<CalibrationView>>): Promise<string | null> {
  if (pending.value !== null) return null;
  pending.value = 'calibration';
  const answer = await ask();
  return batch(() => {
    pending.value = null;
    if (!answer.ok) return sentence(answer);
    asked++;
    calibration.value = answer.value;
    calibrationTrouble.value = null;
    return null;
  });
}

export const setAside = (id: string, why: string): Promise<string | null> =>
  change(() => api.setAside(id, why));
export const addHandRun = (body: HandRunBody): Promise<string | null> => change(() => api.addHandRun(body));

export const compareRows = (body: RowsBody): Promise<string | null> => change(() => api.compareRows(body));

export async function keepLid(body: PrintedChartBody): Promise<string | null> {
  const problem = await change(() => api.keepLid(body));
  if (problem === null) lidDrafts.value = null;
  return problem;
}

export async function bringBack(id: string): Promise<void> {
  refusal.value = await change(() => api.bringBack(id));
}
export async function startAnew(): Promise<void> {
  const problem = await change(api.startAnew);
  batch(() => {
    refusal.value = problem;
    if (problem !== null) return;
    // What was typed for the calibration that has ended is nothing for the new one.
    handDrafts.value = null;
    rowsDrafts.value = null;
  });
}

/** Writes a setting into the plan of the next run. What else is typed on the plan's form stays typed. */
export async function useSetting(setting: number): Promise<void> {
  const { plan } = live.value;
  if (plan === null || pending.value !== null) return;
  pending.value = 'plan';
  const written = markName(plan.drill.scale, setting) ?? plain(setting);
  const answer = await api.savePlan({ ...plan, drill: { ...plan.drill, setting: written } });
  batch(() => {
    pending.value = null;
    refusal.value = answer.ok ? null : sentence(answer);
    if (!answer.ok) return;
    const { setting: _, ...others } = drafts.value;
    drafts.value = others;
    live.value = { ...live.value, plan: answer.value };
  });
}

/** Stops the wheel at once, and then writes the setting into the plan of the next run. */
export async function stopAndUse(setting: number): Promise<void> {
  await stop();
  await useSetting(setting);
}
