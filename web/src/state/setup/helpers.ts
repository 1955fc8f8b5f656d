import { carried } from '../quantity.ts';
import type { System } from '../units.ts';
import { type CountDrafts, type DensityDrafts, densityFields } from './bench.ts';
import { helperDrafts } from './helper.ts';
import { type RanksDrafts, ranksFields, type WheelDrafts, wheelFields } from './working.ts';

/** What is typed into the helpers of the set-up. */

export const ranksHelper = helperDrafts<RanksDrafts>(
  'ranks',
  () => ({ within: '', ranks: '2' }),
  (drafts, from, to) => ({ ...drafts, within: carried(ranksFields.within, drafts.within, from, to) }),
);

export const wheelHelper = helperDrafts<WheelDrafts>(
  'wheel',
  () => ({ way: 'roll-out', readings: '', turns: '10', distance: '', counts: '' }),
  (drafts, from, to) => ({ ...drafts, distance: carried(wheelFields.distance, drafts.distance, from, to) }),
);

const asTyped = <T>(drafts: T, _from: System, _to: System): T => drafts;

export const countHelper = helperDrafts<CountDrafts>(
  'counted',
  () => ({ seedsEach: '100', weights: '', chaffy: false }),
  asTyped,
);

export const densityHelper = helperDrafts<DensityDrafts>(
  'density',
  () => ({ volume: '', mass: '' }),
  (drafts, from, to) => ({
    volume: carried(densityFields.volume, drafts.volume, from, to),
    mass: carried(densityFields.mass, drafts.mass, from, to),
  }),
);

export const gearsHelper = helperDrafts<string>('gears', () => '', asTyped);
