import { signal } from '@preact/signals';
import type { Search } from './api.ts';

/** What people look for, kept while they look at what they found. */

export const lookedThrough = ['calibration', 'run', 'drill', 'mix'] as const;
export type LookedThrough = (typeof lookedThrough)[number];

export interface Wanted {
  kind: LookedThrough;
  text: string;
  drill: string;
  mix: string;
  /** Days as a date field gives them, both included; empty where any will do. */
  from: string;
  until: string;
}

export const nothingWanted: Wanted = {
  kind: 'calibration',
  text: '',
  drill: '',
  mix: '',
  from: '',
  until: '',
};
export const wanted = signal<Wanted>(nothingWanted);

/** The beginning of a day by this computer's clock, so many days later, as a moment; empty where there is no such day. */
export function momentOf(day: string, daysLater = 0): string {
  const moment = new Date(`${day}T00:00`);
  if (Number.isNaN(moment.getTime())) return '';
  moment.setDate(moment.getDate() + daysLater);
  return moment.toISOString();
}

/** What to ask the server for. */
export function searchOf({ text, drill, mix, from, until }: Wanted): Search {
  return { text: text.trim(), drill, mix, from: momentOf(from), before: momentOf(until, 1) };
}

export const isNarrowed = ({ kind: _, ...rest }: Wanted): boolean =>
  Object.values(rest).some((value) => value !== '');
