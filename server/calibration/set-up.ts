import type { Item, Store } from '../records/types.ts';
import type { PlannedPart, PlannedScale, RunPlan } from '../run/types.ts';
import { onlyConfiguration } from './identity.ts';
import { partOf, seedOfMix } from './seeds.ts';

/** What a calibration can be set up from: drills, mixes and lots on record, the last changed first. */

export interface PastSetUp {
  /** One for each gate, notch or gear of each drill. */
  drills: { id: string; changedAt: string; drill: RunPlan['drill'] }[];
  seeds: { id: string; changedAt: string; seed: RunPlan['seed'] }[];
  lots: { id: string; changedAt: string; part: PlannedPart }[];
}

/** More than these nobody looks through at a glance. */
const mostOfEach = 60;

const newestFirst = (one: { changedAt: string }, other: { changedAt: string }): number =>
  other.changedAt.localeCompare(one.changedAt);

function scaleOf({ fields }: Item<'configuration'>, all: readonly Item<'configuration'>[]): PlannedScale {
  const { name, scaleLow, scaleHigh, scaleStep, closedAt, leverPlay, marks } = fields;
  const others = all.map((each) => each.fields.name).filter((each) => each !== name);
  return {
    low: scaleLow,
    high: scaleHigh,
    step: scaleStep ?? (scaleHigh - scaleLow) / 100,
    closedAt,
    leverPlay,
    configuration: name === onlyConfiguration ? '' : name,
    otherConfigurations: others.filter((each) => each !== onlyConfiguration).slice(0, 20),
    ...(marks === undefined || marks.length === 0 ? {} : { marks }),
  };
}

/** The drill of a plan, once for each of its configurations; once without a scale where it has none. */
async function drillsOf(store: Store, item: Item<'drill'>): Promise<PastSetUp['drills']> {
  const { note: _, ...fields } = item.fields;
  const { items } = await store.configurations.list({ drillId: item.id, limit: 30 });
  const drill: RunPlan['drill'] = { ...fields, setting: '' };
  if (items.length === 0) return [{ id: item.id, changedAt: item.changedAt, drill }];
  return items.map((configuration) => {
    const { rowCount, rowSpacingMetres, rowSpacingDoubtMetres } = configuration.fields;
    return {
      id: configuration.id,
      changedAt: [item.changedAt, configuration.changedAt].sort().at(-1)!,
      drill: {
        ...drill,
        rowCount: rowCount ?? drill.rowCount ?? null,
        rowSpacingMetres: rowSpacingMetres ?? drill.rowSpacingMetres,
        rowSpacingDoubtMetres: rowSpacingDoubtMetres ?? drill.rowSpacingDoubtMetres,
        scale: scaleOf(configuration, items),
      },
    };
  });
}

export async function pastSetUp(store: Store): Promise<PastSetUp> {
  const limit = mostOfEach;
  const [drills, mixes, lots] = [
    (await store.drills.list({ limit })).items,
    (await store.mixes.list({ limit })).items,
    (await store.lots.list({ limit })).items,
  ];
  const perDrill = await Promise.all(drills.map((drill) => drillsOf(store, drill)));
  const seeds = await Promise.all(
    mixes.map(async (mix) => ({
      id: mix.id,
      changedAt: mix.changedAt,
      seed: await seedOfMix(store, mix),
    })),
  );
  return {
    drills: perDrill.flat().sort(newestFirst).slice(0, limit),
    seeds: seeds.sort(newestFirst),
    lots: lots
      .map(({ id, changedAt, fields }) => ({ id, changedAt, part: partOf(fields) }))
      .sort(newestFirst),
  };
}
