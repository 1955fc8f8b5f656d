import { computed, effect, signal } from '@preact/signals';
import type { Problem, RunSummary } from '../../../server/http/messages.ts';
import { type Act, situation } from './acts.ts';
import { type Drafts, readForm } from './form.ts';
import { keep, recall } from './kept.ts';
import { freshness, initialLive, type LiveState } from './live.ts';
import { readRoute } from './route.ts';
import { type System, systems } from './units.ts';

/** What the page shows, as signals, and what a person can do, as functions. The pure parts are in the files around. */

export const live = signal<LiveState>(initialLive);
export const now = signal(performance.now());
export const route = signal(readRoute(location.hash));
export const fresh = computed(() => freshness(live.value, now.value));

const rememberedSystem = recall(() => localStorage, 'units');
export const system = signal<System>(systems.find((one) => one === rememberedSystem) ?? 'metric');

/** The request under way, Stop apart: that one is always free. */
export const pending = signal<Exclude<Act, 'stop'> | 'plan' | 'link' | 'calibration' | null>(null);
/** Why the last act was refused, in a sentence. */
export const refusal = signal<string | null>(null);

export const drafts = signal<Drafts>(readDrafts());
/** The server's word on the plan last sent, until something is typed. */
export const planProblem = signal<Problem | null>(null);
/** True from a save until something is typed again. */
export const planSaved = signal(false);
/** True when another page changed the plan under this page's drafts. */
export const planMoved = signal(false);
export const form = computed(() => {
  const { plan } = live.value;
  return plan === null ? null : readForm(plan, drafts.value, system.value);
});
export const doable = computed(() => situation(live.value, form.value?.changed ?? false));

/** The runs on record, newest first; null until they are read. */
export const runs = signal<RunSummary[] | null>(null);

function readDrafts(): Drafts {
  try {
    const kept: unknown = JSON.parse(recall(() => sessionStorage, 'drafts') ?? '{}');
    return typeof kept === 'object' && kept !== null ? (kept as Drafts) : {};
  } catch {
    return {};
  }
}

effect(() => keep(() => localStorage, 'units', system.value));
effect(() => keep(() => sessionStorage, 'drafts', JSON.stringify(drafts.value)));
