import { afterEach, expect, it } from 'vitest';
import { drawScenario, type Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { Desk } from '../../server/calibration/desk.ts';
import { markIn, statedPlan } from '../../server/demo.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { temporaryFolders } from '../records/folders.ts';
import { Shop } from '../session/shop.ts';

/** Someone follows the advice from a first setting that is wrong by a third until it says that it is done, on the real firmware. */

const newFolder = temporaryFolders();
const open: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of open.splice(0).reverse()) await close();
});

const asFound: Scenario = {
  ...oneRow,
  stated: { ...oneRow.stated, tolerance: 0.05 },
  meter: { ...oneRow.meter, setting: 20, leverPlayMarks: 0.2 },
};

async function follow(seed: string) {
  const store: Store = await openRecords(newFolder());
  open.push(() => store.shut());
  const desk = new Desk(store, true);
  const plan = statedPlan(asFound);
  const shop = new Shop({ scenario: drawScenario(asFound, seed), seed, records: store, desk, plan });
  open.push(() => shop.shut());
  await shop.connected();
  for (let runs = 1; runs <= 8; runs += 1) {
    const { session, drill } = shop;
    await shop.answer(session.arm());
    drill.setLever(markIn(session.view().plan.drill.setting)!);
    await shop.until(() => shop.phase === 'ready');
    await shop.answer(session.start());
    if (runs === 1) await lookEarly(desk, shop);
    await shop.until(() => shop.phase === 'finished');
    const { advice, runs: seen } = await desk.view(session.view().plan);
    expect(seen).toHaveLength(runs);
    if (advice!.state === 'done') return { runs, setting: advice!.stop.setting!, drill, advice: advice! };
    expect(advice!.next).not.toBe(null);
    const { plan: next } = session.view();
    await session.keepPlan({ ...next, drill: { ...next.drill, setting: String(advice!.next!.setting) } });
  }
  throw new Error('Eight runs and no end.');
}

/** The first setting is far too low: that is called in mid-run, and the setting to try instead is there to be asked for. */
async function lookEarly(desk: Desk, shop: Shop) {
  await shop.until(() => shop.session.view().run.figures.verdict?.kind === 'too-little');
  const { plan, run } = shop.session.view();
  expect(run.figures.turnsDone / run.figures.turnsPreset).toBeLessThan(0.5);
  const { advice } = await desk.early(plan, { id: run.id!, figures: run.figures });
  expect(advice!.next!.setting).toBeGreaterThan(26);
  expect(advice!.next!.setting).toBeLessThan(42);
  expect((await desk.view(plan)).advice!.curve).toBe(null);
}

it('comes to a setting whose true rate is right', { timeout: 120_000 }, async () => {
  const { runs, setting, drill, advice } = await follow('walk');
  const marks = drill.scenario.meter;
  const { geometry } = drill.scenario;
  const squareMetres = (geometry.circumferenceMetres / (1 - geometry.slip)) * geometry.rowSpacingMetres;
  const trueRate = (marks.offsetGrams + marks.gramsPerMark * setting) / squareMetres;
  console.info(
    `done after ${runs} runs at ${setting}: true rate ${trueRate.toFixed(3)} of 6.5 g/m², said ${advice.stop.probability.toFixed(3)} likely`,
  );
  expect(runs).toBeGreaterThanOrEqual(2);
  expect(Math.abs(trueRate / 6.5 - 1)).toBeLessThan(0.05);
});
