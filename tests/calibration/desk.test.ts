import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { Desk } from '../../server/calibration/desk.ts';
import { statedPlan } from '../../server/demo.ts';
import type { HandRunBody } from '../../server/http/calibration-messages.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import type { RunPlan } from '../../server/run/types.ts';
import { temporaryFolders } from '../records/folders.ts';

/** Which runs belong together, and what they teach, over the real store. */

const newFolder = temporaryFolders();
const plan: RunPlan = statedPlan(oneRow);
let store: Store;
let desk: Desk;
beforeEach(async () => {
  store = await openRecords(newFolder());
  desk = new Desk(store, true);
});
afterEach(() => store.shut());

/** What 25 turns of a drill give that sows 1.0 g/m² at mark 0 and 0.17 more a mark; without any noise. */
const squareMetres = 25 * (2.6924 / 0.96) * 0.1905;
const byHand = (setting: number): HandRunBody => ({
  setting,
  turns: 25,
  grams: (1 + 0.17 * setting) * squareMetres,
  scaleStepGrams: 0.1,
  countedByEye: false,
});

describe('the calibration of a plan', () => {
  it('has no number and no runs before its first run, and says where to begin', async () => {
    const view = await desk.view(plan);
    expect(view.id).toBe(null);
    expect(view.runs).toEqual([]);
    expect(view.advice?.state).toBe('start');
    expect(view.drillName).toBe(plan.drill.name);
  });

  it('gathers the runs of one drill, mix and target, and finds the setting from two of them', async () => {
    await desk.addHandRun(plan, byHand(24));
    const view = await desk.addHandRun(plan, byHand(40));
    expect(view.runs.map(({ name, setting, source, counts }) => [name, setting, source, counts])).toEqual([
      ['run 1', 24, 'hand', true],
      ['run 2', 40, 'hand', true],
    ]);
    expect(view.runs[0]!.rate!.value).toBeCloseTo(1 + 0.17 * 24, 9);
    // 1 + 0.17 x 32.4 = 6.5, the target.
    expect(view.advice!.next!.setting).toBeGreaterThanOrEqual(31);
    expect(view.advice!.next!.setting).toBeLessThanOrEqual(34);
    expect(view.rounds.length).toBeGreaterThan(2);
    expect(view.advice!.chart.length).toBe(81);
  });

  it('is another one for another target, seed, drill or gate, and the first again when the plan goes back', async () => {
    const first = (await desk.addHandRun(plan, byHand(24))).id;
    const others: RunPlan[] = [
      { ...plan, target: { ...plan.target, gramsPerSquareMetre: 9 } },
      { ...plan, seed: { ...plan.seed, name: 'Oats' } },
      { ...plan, drill: { ...plan.drill, name: 'The other drill' } },
      {
        ...plan,
        drill: { ...plan.drill, scale: { ...plan.drill.scale!, configuration: 'fine gate' } },
      },
    ];
    const ids = new Set([first]);
    for (const other of others) ids.add(await desk.forRun(other));
    expect(ids.size).toBe(5);
    expect(await desk.forRun(plan)).toBe(first);
    expect(await desk.forRun({ ...plan, turns: 10, rowsCaught: 2 })).toBe(first);
  });

  it('is one, with one drill and one mix, for all who ask at the same moment', async () => {
    const asked = [
      desk.forRun(plan),
      desk.keepSetUp(plan),
      desk.addHandRun(plan, byHand(24)),
      desk.forRun(plan),
    ];
    const [first, , view, second] = await Promise.all(
      asked as [Promise<string>, unknown, Promise<{ id: string }>, Promise<string>],
    );
    expect([second, view.id]).toEqual([first, first]);
    for (const shelf of [store.drills, store.configurations, store.mixes, store.calibrations]) {
      expect((await shelf.list()).items).toHaveLength(1);
    }
  });

  it('finds its drill among any number of others with the same words in their names', async () => {
    const first = await desk.forRun(plan);
    const { fields } = (await store.drills.list()).items[0]!;
    for (let other = 0; other < 101; other++)
      await store.drills.create({ ...fields, name: `${fields.name} ${other}` });
    expect(await desk.forRun(plan)).toBe(first);
  });

  it('stays the one in hand where another stand brings a drill and a mix of the same names', async () => {
    const { id } = await desk.addHandRun(plan, byHand(24));
    for (const [shelf, of] of [
      [store.drills, await store.drills.list()],
      [store.mixes, await store.mixes.list()],
    ] as const) {
      await shelf.create(of.items[0]!.fields as never);
    }
    expect((await desk.view(plan)).runs).toHaveLength(1);
    const view = await desk.addHandRun(plan, byHand(40));
    expect(view.id).toBe(id);
    expect(view.runs).toHaveLength(2);
  });

  it('forgets a ratio of shafts and the names of marks that the plan has no more', async () => {
    const scale = { ...plan.drill.scale!, low: 1, high: 3, step: 1, marks: ['A', 'B', 'C'] };
    await desk.keepSetUp({ ...plan, drill: { ...plan.drill, shaftRatio: 2, rowCount: 12, scale } });
    const { marks: _, ...plain } = scale;
    const { shaftRatio: __, rowCount: ___, ...bare } = plan.drill;
    await desk.keepSetUp({ ...plan, drill: { ...bare, scale: plain } });
    const { drill } = (await desk.past()).drills[0]!;
    expect(drill.shaftRatio).toBeNull();
    expect(drill.scale).not.toHaveProperty('marks');
    // How many rows it has the plan in hand need not know.
    expect(drill.rowCount).toBe(12);
  });

  it('begins anew when asked; the earlier runs become the past that the advice starts from', async () => {
    await desk.addHandRun(plan, byHand(24));
    const before = await desk.addHandRun(plan, byHand(40));
    const view = await desk.startAnew(plan);
    expect(view.id).toBe(null);
    expect(view.runs).toEqual([]);
    expect(view.past).toHaveLength(1);
    expect(view.advice!.state).toBe('start');
    expect(view.advice!.next!.setting).toBeGreaterThan(29);
    expect(view.advice!.next!.setting).toBeLessThan(36);
    expect((await desk.look(before.id!)).runs).toHaveLength(2);
  });

  it('tells rates with the drill’s figures as they are now', async () => {
    const then = await desk.addHandRun(plan, byHand(24));
    const longer = { ...plan, drill: { ...plan.drill, circumferenceMetres: 1.1 * 2.6924 } };
    const now = await desk.view(longer);
    expect(now.id).toBe(then.id);
    expect(now.runs[0]!.rate!.value).toBeCloseTo(then.runs[0]!.rate!.value / 1.1, 9);
  });

  it('tells each run’s rate by the rows that were caught in it, however many are caught in the next', async () => {
    const then = await desk.addHandRun(plan, byHand(24));
    const wider = { ...plan, rowsCaught: 2 };
    const now = await desk.addHandRun(wider, { ...byHand(40), grams: 2 * byHand(40).grams });
    expect(now.id).toBe(then.id);
    expect(now.runs[0]!.rate!.value).toBeCloseTo(1 + 0.17 * 24, 9);
    expect(now.runs[1]!.rate!.value).toBeCloseTo(1 + 0.17 * 40, 9);
  });
});

describe('a run set aside', () => {
  it('stays, leaves the model, says why, and comes back', async () => {
    await desk.addHandRun(plan, byHand(24));
    const { runs } = await desk.addHandRun(plan, { ...byHand(40), grams: 1 });
    await desk.setAside(runs[1]!.id, 'the tube was kinked');
    const without = await desk.view(plan);
    expect(without.runs[1]).toMatchObject({
      counts: false,
      setAside: { why: 'the tube was kinked', by: 'you' },
    });
    expect(without.runs[1]!.whyNot).toContain('the tube was kinked');
    expect(without.advice!.curve!.runs).toBe(1);
    await desk.bringBack(runs[1]!.id);
    const back = await desk.view(plan);
    expect(back.runs[1]!.setAside).toBe(null);
    expect(back.advice!.curve!.runs).toBe(2);
  });
});

describe('what cannot be done', () => {
  it('is said in a sentence', async () => {
    await expect(desk.addHandRun(plan, byHand(200))).rejects.toThrow(/off the scale/);
    await expect(desk.setAside('no such run', 'why')).rejects.toThrow(/no run/);
    await expect(desk.look('no such calibration')).rejects.toThrow(/no calibration/);
    const { scale: _, ...bare } = plan.drill;
    const without = { ...plan, drill: bare };
    expect((await desk.view(without)).whyNoAdvice).toMatch(/setting scale/);
    await expect(
      desk.keepPrintedChart(without, { bulkDensityKilogramsPerCubicMetre: null, rows: [] }),
    ).rejects.toThrow(/scale/);
  });

  it('a catch so coarse that it says nothing takes no advice from the others', async () => {
    const before = await desk.addHandRun(plan, byHand(24));
    const coarse = { ...byHand(40), grams: 1, scaleStepGrams: 1000 };
    const after = await desk.addHandRun(plan, coarse);
    expect(after.runs[1]).toMatchObject({
      rate: null,
      counts: false,
      whyNot: expect.stringMatching(/no rate/),
    });
    expect(after.advice!.next).toEqual(before.advice!.next);
    const short = await desk.addHandRun(plan, { ...byHand(40), turns: 0.01, grams: 1 });
    expect(short.runs[2]).toMatchObject({ rate: null, counts: false });
    // More than 100 t/ha is a slip of the pen.
    await expect(desk.addHandRun(plan, { ...byHand(40), grams: 140_000 })).rejects.toThrow(
      `The catch in grams must be at most ${Math.floor(10_000 * squareMetres)}.`,
    );
  });

  it('asks of a catch whose turns were tallied no more whether one was miscounted', async () => {
    // A turn too few, as the two before and the two after it say.
    const odd = { ...byHand(32), turns: 6, grams: (byHand(32).grams / 25) * 7 };
    const chance = async (countedByEye: boolean): Promise<number> => {
      const records = await openRecords(newFolder());
      const own = new Desk(records, true);
      for (const setting of [24, 28, 36, 40]) await own.addHandRun(plan, { ...byHand(setting) });
      const { advice } = await own.addHandRun(plan, { ...odd, countedByEye });
      await records.shut();
      return advice!.stop.probability;
    };
    expect(await chance(true)).toBeGreaterThan((await chance(false)) + 0.05);
  });

  it('a catch of nothing is no error but a finding', async () => {
    const view = await desk.addHandRun(plan, { ...byHand(24), grams: 0 });
    expect(view.runs[0]).toMatchObject({ grams: 0, rate: null, counts: true });
    expect(view.advice!.findings.map(({ code }) => code)).toContain('nothing-caught');
  });
});

describe('rows', () => {
  it('once compared, are in the doubt of what is said of the drill', async () => {
    await desk.addHandRun(plan, byHand(24));
    const before = await desk.addHandRun(plan, byHand(40));
    expect(before.rows).toBe(null);
    expect(before.advice!.findings.map(({ code }) => code)).toContain('rows-not-compared');
    // Standard deviation 11.25 g about a mean of 75.83 g.
    const rows = { turns: 25, grams: [60, 90, 75, 84, 66, 80], scaleStepGrams: 0.1, together: true };
    const after = await desk.compareRows(plan, rows);
    expect(after.rows!.sentence).toMatch(/differ by 14\.8 %, more than/);
    // 14.7 % of the drill's own, one row of twelve caught: 0.147 x sqrt(1 - 1 / 12) = 0.141.
    expect(after.rows!.doubt).toBeGreaterThan(0.12);
    expect(after.rows!.doubt).toBeLessThan(0.16);
    expect(after.advice!.stop.probability).toBeLessThan(before.advice!.stop.probability);
    expect(after.advice!.findings.map(({ code }) => code)).not.toContain('rows-not-compared');
    await expect(desk.compareRows(plan, { ...rows, grams: [0, 0] })).rejects.toThrow(/No row gave any seed/);
  });

  it('leave the doubt that the rows of the plan in hand bring, not that of the day of the comparison', async () => {
    const rows = { turns: 25, grams: [60, 90, 75, 84, 66, 80], scaleStepGrams: 0.1, together: true };
    const caught = (rowsCaught: number): RunPlan => ({
      ...plan,
      drill: { ...plan.drill, rowCount: 12 },
      rowsCaught,
    });
    const one = (await desk.compareRows(caught(1), rows)).rows!.doubt;
    // c / sqrt(k) x sqrt(1 - k / K): 0.957 c for one row of twelve, 0.408 c for four, nothing for all.
    const four = (one * Math.sqrt((1 - 4 / 12) / 4)) / Math.sqrt(1 - 1 / 12);
    expect((await desk.view(caught(4))).rows!.doubt).toBeCloseTo(four, 9);
    const run = await desk.addHandRun(caught(4), byHand(24));
    expect(run.rows!.doubt).toBeCloseTo(four, 9);
    expect((await desk.view(caught(1))).rows!.doubt).toBeCloseTo(one, 9);
    await desk.addHandRun(caught(12), byHand(24));
    expect((await desk.view(caught(12))).rows!.doubt).toBe(0);
    // That all were caught together tells nothing of how far one stands for all.
    expect((await desk.view(caught(1))).rows).toBe(null);
  });
});

describe('the chart on the lid', () => {
  it('gives the first setting before any run, made with seed of another weight', async () => {
    const heavier = { ...plan, seed: { ...plan.seed, bulkDensityKilogramsPerCubicMetre: 600 } };
    const view = await desk.keepPrintedChart(heavier, {
      bulkDensityKilogramsPerCubicMetre: 750,
      rows: [
        { setting: 20, gramsPerSquareMetre: 5 },
        { setting: 40, gramsPerSquareMetre: 10 },
      ],
    });
    expect(view.printedChart).toHaveLength(2);
    expect(view.printedChartBulkDensity).toBe(750);
    // 0.25 g/m² a mark at 750 kg/m³ is 0.2 at 600: 32.5 marks for 6.5.
    expect(view.advice!.next!.setting).toBeGreaterThan(27);
    expect(view.advice!.next!.setting).toBeLessThan(38);
  });
});
