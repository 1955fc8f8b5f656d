import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Desk } from '../../server/calibration/desk.ts';
import type { PaperFacts } from '../../server/paper/compose/types.ts';
import { type PaperSources, paperFacts } from '../../server/paper/facts.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { targetCatchOf } from '../../server/run/plan.ts';
import { scaledPlan, shareAt } from '../web/invented.ts';

/** Calibrations of an invented drill, weighed by hand, for what is made from them on paper. */

export const plan = scaledPlan;

/** Grams that the invented drill gives at a setting, a little different from run to run. */
const caught = (setting: number, run: number): number =>
  shareAt(setting) * targetCatchOf(plan, 25) * (1 + 0.004 * Math.sin(7 * run));

export interface InventedShop {
  folder: string;
  store: Store;
  desk: Desk;
  sources: PaperSources;
}

export async function inventedShop(demo = false): Promise<InventedShop> {
  const folder = mkdtempSync(join(tmpdir(), 'catchbench-paper-'));
  const store = await openRecords(folder);
  const desk = new Desk(store, demo);
  return { folder, store, desk, sources: { desk, store, version: '0.1.0', demo, plan: () => plan } };
}

/** Weighs a run by hand at each setting; what the paper is made from then. */
export async function weighed(
  { desk, sources }: InventedShop,
  settings: readonly number[],
): Promise<PaperFacts> {
  for (const [run, setting] of settings.entries()) {
    const grams = Math.round(10 * caught(setting, run)) / 10;
    await desk.addHandRun(plan, { setting, turns: 25, grams, scaleStepGrams: 0.1, countedByEye: false });
  }
  return { ...(await paperFacts(sources, null)), madeAt: '2026-04-18T10:00:00.000Z' };
}

export async function closeShop({ folder, store }: InventedShop): Promise<void> {
  await store.shut();
  rmSync(folder, { recursive: true, force: true });
}
