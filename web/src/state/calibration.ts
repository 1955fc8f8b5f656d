import { computed, effect, signal } from '@preact/signals';
import { v7 as newId } from 'uuid';
import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import { convertHand, convertLid, type HandDrafts, type LidDrafts, type RowsDrafts } from './entry.ts';
import { keep, recall } from './kept.ts';
import { means, nextAct } from './next-act.ts';
import { live } from './store.ts';
import type { System } from './units.ts';

/** What the page knows of the calibration in hand, and what is being typed in for it. */

/** Null until it was read, or while it cannot be. */
export const calibration = signal<CalibrationView | null>(null);
/** Why it could not be read, in a sentence. */
export const calibrationTrouble = signal<string | null>(null);
export const next = computed(() => (calibration.value === null ? null : nextAct(calibration.value)));

/** True while the calibration names a setting that the plan does not have yet: using it comes before the next run. */
export const settingWaits = computed(() => {
  const act = next.value;
  const { plan } = live.value;
  return (
    act !== null &&
    'setting' in act &&
    plan !== null &&
    !means(plan.drill.setting, act.setting, plan.drill.scale)
  );
});

/** The calibration as if the run in hand ended now, and which run that was. */
export const early = signal<{ runId: string; view: CalibrationView } | null>(null);

/** A catch weighed by hand, as far as it is typed; empty fields until someone begins. */
export const handDrafts = signal<HandDrafts | null>(recalled<HandDrafts>('hand-run'));
/** The run that what is typed becomes: the same however often it is sent, another once something else is typed. */
export const handRunId = signal(recalled<string>('hand-run-id') ?? newId());
/** Rows of the chart on the lid as typed; null shows what is on record. */
export const lidDrafts = signal<LidDrafts | null>(recalled<LidDrafts>('lid'));

/** Catches of several rows as typed. */
export const rowsDrafts = signal<RowsDrafts | null>(recalled<RowsDrafts>('rows'));

function recalled<T>(key: string): T | null {
  try {
    return JSON.parse(recall(() => sessionStorage, key) ?? 'null') as T | null;
  } catch {
    return null;
  }
}

effect(() => keep(() => sessionStorage, 'hand-run', JSON.stringify(handDrafts.value)));
effect(() => keep(() => sessionStorage, 'hand-run-id', JSON.stringify(handRunId.value)));
effect(() => keep(() => sessionStorage, 'rows', JSON.stringify(rowsDrafts.value)));
effect(() => keep(() => sessionStorage, 'lid', JSON.stringify(lidDrafts.value)));

/** Carries what is typed from one system of units to the other. */
export function convertEntries(from: System, to: System): void {
  if (handDrafts.value !== null) handDrafts.value = convertHand(handDrafts.value, from, to);
  if (lidDrafts.value !== null) lidDrafts.value = convertLid(lidDrafts.value, from, to);
}
