import { effect, signal } from '@preact/signals';
import { keep, recall } from '../kept.ts';
import { system } from '../store.ts';
import type { System } from '../units.ts';

/** What is typed into a helper beside the plan: kept over a reload, carried along when the units change. */
export interface HelperDrafts<T> {
  /** In a component it follows what is typed and the units. */
  readonly value: T;
  set(drafts: T): void;
  /** Back to how it began. */
  clear(): void;
}

interface Kept<T> {
  system: System;
  drafts: T;
}

function recalled<T>(key: string): Kept<T> | null {
  try {
    return JSON.parse(recall(() => sessionStorage, key) ?? 'null') as Kept<T> | null;
  } catch {
    return null;
  }
}

/** `first`: what stands there before anything was typed. `convert` carries drafts from one system of units to the other. */
export function helperDrafts<T>(
  key: string,
  first: () => T,
  convert: (drafts: T, from: System, to: System) => T,
): HelperDrafts<T> {
  const kept = signal(recalled<T>(key));
  effect(() => keep(() => sessionStorage, key, JSON.stringify(kept.value)));
  return {
    get value() {
      const typed = kept.value;
      if (typed === null) return first();
      return typed.system === system.value ? typed.drafts : convert(typed.drafts, typed.system, system.value);
    },
    set(drafts) {
      kept.value = { system: system.value, drafts };
    },
    clear() {
      kept.value = null;
    },
  };
}
