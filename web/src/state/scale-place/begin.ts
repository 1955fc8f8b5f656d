import type { BeginCheckBody } from '../../../../server/http/scale-messages.ts';
import { exact } from '../format.ts';
import { type Fault, type QuantityField, readEntry, readSeveral } from '../quantity.ts';
import type { System } from '../units.ts';

/** The masses that a scale is to be checked with, as typed. Pure; grams come out. */

export const massKinds = ['M1', 'M2', 'M3', 'own'] as const;
export type MassKind = (typeof massKinds)[number];

export interface BeginDrafts {
  masses: string;
  kind: MassKind;
  /** How sure each mass is, for masses of one's own. */
  doubt: string;
  /** How far off the scale may be that weighed them all; empty where none did. */
  shared: string;
}

export type BeginFaults = Partial<Record<'masses' | 'doubt' | 'shared', Fault>>;

const mostMasses = 12;
const grams = { metric: 'g', us: 'g' } as const;

export const massField: QuantityField = {
  dimension: 'mass',
  unit: grams,
  least: 0.5,
  most: 1e6,
  example: 200,
  whole: false,
};
export const doubtField: QuantityField = { ...massField, least: 0, most: 1e5, example: 0.5 };
export const sharedField: QuantityField = {
  dimension: 'share',
  unit: { metric: '%', us: '%' },
  least: 0,
  most: 0.1,
  example: 0.002,
  whole: false,
};

export const firstDrafts = (suggested: readonly number[]): BeginDrafts => ({
  masses: `${suggested.map(exact).join('  ')} g`,
  kind: 'M1',
  doubt: '',
  shared: '',
});

/** The body that begins a check of this cell, or what is wrong with which field. */
export function readBegin(
  drafts: BeginDrafts,
  cell: number,
  system: System,
): { body: BeginCheckBody | null; faults: BeginFaults } {
  const faults: BeginFaults = {};
  const masses = readSeveral(massField, drafts.masses, system, mostMasses);
  if (!masses.ok) faults.masses = masses.fault;
  const own = drafts.kind === 'own';
  const doubt = own ? readEntry(doubtField, drafts.doubt, system) : ({ ok: true, value: null } as const);
  if (!doubt.ok) faults.doubt = doubt.fault;
  const shared = own
    ? readEntry(sharedField, drafts.shared, system, true)
    : ({ ok: true, value: 0 } as const);
  if (!shared.ok) faults.shared = shared.fault;
  if (!masses.ok || !doubt.ok || !shared.ok) return { body: null, faults };
  const doubtGrams = doubt.value as number | null;
  return {
    body: {
      cell,
      masses: masses.values.map((each) => ({ grams: each, class: drafts.kind, doubtGrams })),
      sharedDoubt: (shared.value as number | null) ?? 0,
    },
    faults,
  };
}
