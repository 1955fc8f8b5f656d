import Value from 'typebox/value';
import { Plan } from './http/messages.ts';
import type { Records } from './records/types.ts';

/** What the form holds before anyone has filled it in: figures of common sizes, none of them a recommendation. */
export const firstPlan: Plan = {
  drill: {
    name: 'Drill 1',
    setting: '',
    rowSpacingMetres: 0.15,
    rowSpacingDoubtMetres: 0.001,
    circumferenceMetres: 2.4,
    circumferenceDoubtMetres: 0.02,
    slip: 0.03,
    slipDoubt: 0.015,
  },
  rowsCaught: 1,
  seed: { name: 'Seed', seedMassGrams: 0.03, repeatability: 0.02 },
  target: { gramsPerSquareMetre: 10, tolerance: 0.05 },
  turns: 25,
  mode: 'motor',
  plannedSpeedMetresPerSecond: null,
};

/** The plan kept from last time, or `otherwise` where there is none, or none that can be used. */
export async function keptPlan(records: Records, otherwise: Plan): Promise<Plan> {
  const kept = await records.setting('plan');
  return Value.Check(Plan, kept) ? kept : otherwise;
}
