import type { PastCalibration, PrintedChart } from '../domain/advice/types.ts';
import { gramsPerSquareMetre } from '../domain/units.ts';
import type { Item, Store, StoredRun } from '../records/types.ts';
import type { RunPlan } from '../run/types.ts';
import { evidenceOf } from './evidence.ts';
import { configurationOf, onlyConfiguration } from './identity.ts';

/** What the records know of a drill besides the calibration in hand. */

/** Earlier calibrations that the advice looks at, the newest first. */
const mostPast = 8;
const mostRuns = 200;

/** The day as it was in the shop: by this computer's own time. */
const day = (iso: string): string =>
  new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long', year: 'numeric' }).format(new Date(iso));

/** Runs of a calibration, oldest first. */
export async function runsOf(store: Store, calibrationId: string): Promise<StoredRun[]> {
  const { items } = await store.runs.list({ calibrationId, limit: mostRuns });
  return items.toReversed();
}

/** Earlier calibrations of the same drill that say something. `exceptId`: the one in hand. */
export async function pastCalibrations(
  store: Store,
  plan: RunPlan,
  drillId: string,
  exceptId: string | null,
): Promise<PastCalibration[]> {
  const { items } = await store.calibrations.list({ drillId, limit: mostPast + 1 });
  const others = items.filter(({ id }) => id !== exceptId).slice(0, mostPast);
  const past = await Promise.all(others.map((calibration) => pastCalibration(store, plan, calibration)));
  return past.filter(({ runs }) => runs.length > 0);
}

async function pastCalibration(
  store: Store,
  plan: RunPlan,
  { id, createdAt, fields }: Item<'calibration'>,
): Promise<PastCalibration> {
  const [runs, mix, configuration] = [
    await runsOf(store, id),
    await store.mixes.find(fields.mixId),
    fields.configurationId === null ? null : await store.configurations.find(fields.configurationId),
  ];
  const evidence = runs.flatMap((run, index) => evidenceOf(run, `run ${index + 1}`, plan) ?? []);
  return {
    name: `the calibration of ${day(createdAt)} with ${mix?.fields.name ?? 'another seed'}`,
    configuration: configuration?.fields.name ?? onlyConfiguration,
    seed: {
      bulkDensity: mix?.fields.bulkDensityKilogramsPerCubicMetre ?? null,
      seedGrams: mix?.fields.seedMassGrams ?? null,
    },
    runs: evidence
      .filter(({ rate, setAside }) => rate > 0 && setAside === null)
      .map(({ setting, rate, doubt }) => ({ setting, rate, doubt })),
  };
}

/** The chart printed on the drill's lid, as somebody typed it in for this configuration; null where nobody did. */
export async function printedChart(
  store: Store,
  plan: RunPlan,
  configurationId: string | null,
): Promise<PrintedChart | null> {
  const configuration = configurationId === null ? null : await store.configurations.find(configurationId);
  const chart = configuration?.fields.printedCharts.at(-1);
  if (chart === undefined || chart.rows.length === 0) return null;
  return {
    seed: { bulkDensity: chart.bulkDensityKilogramsPerCubicMetre, seedGrams: chart.seedMassGrams },
    configuration: configurationOf(plan),
    rows: chart.rows.map((row) => ({
      setting: row.setting,
      rate: gramsPerSquareMetre(row.gramsPerSquareMetre),
    })),
  };
}
