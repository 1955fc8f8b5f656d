import { effect, signal } from '@preact/signals';
import { keep, recall } from '../kept.ts';
import type { System } from '../units.ts';
import type { SeedDrafts } from './seed-needed.ts';

/** What was typed for the seed needed, and in which units. Kept with the browser: bag and hopper stay the same from field to field. */
export const seedTyped = signal<{ system: System; typed: SeedDrafts } | null>(recalled());

function recalled(): { system: System; typed: SeedDrafts } | null {
  try {
    return JSON.parse(recall(() => localStorage, 'seed-needed') ?? 'null');
  } catch {
    return null;
  }
}

effect(() => keep(() => localStorage, 'seed-needed', JSON.stringify(seedTyped.value)));
