import { allNamed, inTurn, newestNamed } from '../records/named.ts';
import type { Item, Page, Store } from '../records/types.ts';
import type { RunPlan } from '../run/types.ts';
import {
  calibrationFields,
  configurationFields,
  configurationOf,
  drillFields,
  mixFields,
  onlyConfiguration,
  type Places,
} from './identity.ts';
import { rowsDoubtNow } from './rows.ts';
import { keepLots } from './seeds.ts';

/** Finding and making what a plan is about, on record. */

/** Configurations of one drill; more no drill has. */
const most = 100;

/** Two targets are the same when they agree to so many parts: a rate typed in lb/ac comes back with a rounding. */
const sameTarget = 1e-9;

/** The drill of the plan's name, or null. */
export const drillOf = (store: Store, plan: RunPlan): Promise<Item<'drill'> | null> =>
  newestNamed(store.drills, plan.drill.name);

/** The mix of the plan's name, or null. */
export const mixOf = (store: Store, plan: RunPlan): Promise<Item<'mix'> | null> =>
  newestNamed(store.mixes, plan.seed.name);

/** The drill's configuration of the plan's name, or null. */
export async function configurationIn(
  store: Store,
  plan: RunPlan,
  drillId: string,
): Promise<Item<'configuration'> | null> {
  const name = configurationOf(plan);
  const { items } = await store.configurations.list({ drillId, limit: most });
  return items.find(({ fields }) => fields.drillId === drillId && fields.name === name) ?? null;
}

/** Where the plan belongs, as far as it is on record; null where its drill or mix is not. */
export async function placesOf(store: Store, plan: RunPlan): Promise<Places | null> {
  const [drill, mix] = [await drillOf(store, plan), await mixOf(store, plan)];
  if (drill === null || mix === null) return null;
  const configuration = await configurationIn(store, plan, drill.id);
  return { drillId: drill.id, configurationId: configuration?.id ?? null, mixId: mix.id };
}

/**
 * The newest calibration for this plan that is not finished, or null. Two stands that share their records may each have made a drill or a mix of the
 * name before they met: whichever of them it was made with, it is the same to whoever types the name.
 */
export async function calibrationOf(store: Store, plan: RunPlan): Promise<Item<'calibration'> | null> {
  const mixIds = new Set<string>();
  for await (const mix of allNamed(store.mixes, plan.seed.name)) mixIds.add(mix.id);
  let newest: Item<'calibration'> | null = null;
  for await (const drill of allNamed(store.drills, plan.drill.name)) {
    const found = await calibrationWith(store, plan, drill.id, mixIds);
    if (found !== null && (newest === null || found.createdAt > newest.createdAt)) newest = found;
  }
  return newest;
}

async function calibrationWith(
  store: Store,
  plan: RunPlan,
  drillId: string,
  mixIds: ReadonlySet<string>,
): Promise<Item<'calibration'> | null> {
  const configurationId = (await configurationIn(store, plan, drillId))?.id ?? null;
  const target = plan.target.gramsPerSquareMetre;
  const query = { drillId, limit: most };
  for (let after: string | null = null; ; ) {
    const page: Page<Item<'calibration'>> = await store.calibrations.list({ ...query, after });
    const found = page.items.find(
      ({ fields }) =>
        mixIds.has(fields.mixId) &&
        fields.finishedAt === null &&
        (fields.configurationId === configurationId ||
          // The scale was typed in after the first run.
          (fields.configurationId === null && configurationOf(plan) === onlyConfiguration)) &&
        Math.abs(fields.targetGramsPerSquareMetre - target) <= sameTarget * target,
    );
    if (found !== undefined || page.next === null) return found ?? null;
    after = page.next;
  }
}

/** Puts drill, configuration and mix of the plan on record, or brings them up to date. */
export const keepPlaces = (store: Store, plan: RunPlan): Promise<Places> =>
  inTurn(store, () => placesKept(store, plan));

async function placesKept(store: Store, plan: RunPlan): Promise<Places> {
  const drill = drillFields(plan);
  const oldDrill = await drillOf(store, plan);
  const drillId = (oldDrill ?? (await store.drills.create(drill))).id;
  // A plan without a ratio says that the sensor sits on the drive wheel.
  if (oldDrill !== null) await refresh(store.drills, oldDrill, drill, ['note'], ['shaftRatio']);
  const oldConfiguration = await configurationIn(store, plan, drillId);
  const configuration = configurationFields(plan, drillId, oldConfiguration?.fields);
  if (configuration !== null && oldConfiguration !== null) {
    await refresh(store.configurations, oldConfiguration, configuration, [
      'note',
      'printedCharts',
      'rowCount',
      'rowSpacingMetres',
      'rowSpacingDoubtMetres',
    ]);
  }
  const made =
    oldConfiguration ?? (configuration === null ? null : await store.configurations.create(configuration));
  const parts = await keepLots(store, plan);
  const mix = mixFields(plan, parts);
  const oldMix = await mixOf(store, plan);
  const mixId = (oldMix ?? (await store.mixes.create(mix))).id;
  if (oldMix !== null)
    await refresh(store.mixes, oldMix, mix, parts.length > 0 ? ['note'] : ['note', 'parts', 'basis']);
  return { drillId, configurationId: made?.id ?? null, mixId };
}

/** Changes what the plan knows better; fields that the plan does not hold stay as they are, but for those to `clear`. */
async function refresh<F extends object>(
  shelf: { update(id: string, changes: Partial<F>): Promise<unknown> },
  item: { id: string; fields: F },
  wanted: F,
  leave: readonly (keyof F)[],
  clear: readonly (keyof F)[] = [],
): Promise<void> {
  const changes: Partial<F> = {};
  for (const key of Object.keys(wanted) as (keyof F)[]) {
    if (leave.includes(key) || wanted[key] === (item.fields[key] ?? null)) continue;
    if (wanted[key] === null && !clear.includes(key)) continue;
    changes[key] = wanted[key];
  }
  if (Object.keys(changes).length > 0) await shelf.update(item.id, changes);
}

/** The plan's calibration, made where there is none. */
export const keepCalibration = (store: Store, plan: RunPlan): Promise<Item<'calibration'>> =>
  inTurn(store, () => calibrationKept(store, plan));

async function calibrationKept(store: Store, plan: RunPlan): Promise<Item<'calibration'>> {
  const places = await placesKept(store, plan);
  const wanted = calibrationFields(plan, places);
  const found = await calibrationOf(store, plan);
  if (found === null) return store.calibrations.create(wanted);
  const rowsDoubt = rowsDoubtNow(plan, found.fields);
  // Told by so many rows caught, it is worth nothing beside another number of them.
  if (rowsDoubt === null && found.fields.rowsDoubt !== null)
    await store.calibrations.update(found.id, { rowsDoubt });
  await refresh(store.calibrations, found, { ...wanted, rowsDoubt }, ['note', 'targetGramsPerSquareMetre']);
  return found;
}
