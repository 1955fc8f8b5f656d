import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type {
  AdviceView,
  CalibrationRunView,
  CalibrationView,
} from '../../server/http/calibration-messages.ts';
import { aboutTarget } from '../../web/src/state/marks.ts';
import { means, nextAct } from '../../web/src/state/next-act.ts';
import { settingCurve } from '../../web/src/state/setting-curve.ts';

const interval = (value: number) => ({ value, low: value * 0.95, high: value * 1.05 });

const run = (
  setting: number | null,
  rate: number | null,
  more: Partial<CalibrationRunView> = {},
): CalibrationRunView => ({
  id: `id-${setting}`,
  name: 'run 1',
  at: '2026-03-14T08:15:30.000Z',
  source: 'stand',
  setting,
  settingText: String(setting),
  turns: 25,
  grams: 80,
  rate: rate === null ? null : interval(rate),
  setAside: null,
  counts: true,
  whyNot: null,
  ...more,
});

const chart: AdviceView['chart'] = Array.from({ length: 81 }, (_, setting) => ({
  setting,
  rate: interval(0.2 * setting + 0.1),
  known: 'inferred',
  words: 'inferred',
}));

const next: NonNullable<AdviceView['next']> = {
  setting: 32,
  leverStays: false,
  interval: { value: 32, low: 30, high: 34 },
  openLow: false,
  openHigh: false,
  expected: interval(6.5),
  restsOn: ['run 1'],
  sentence: 'Set the lever to 32.',
  reason: 'Run 1 gave too little.',
};

const advice = (more: Partial<AdviceView> = {}): AdviceView => ({
  state: 'go-on',
  curve: null,
  next,
  stop: {
    done: false,
    setting: 32,
    probability: 0.5,
    moreRuns: 1,
    moreTurns: 25,
    limit: null,
    asGoodAsItGets: false,
    sentence: 'One more run.',
    luckyHit: null,
  },
  chart,
  leftOut: [],
  findings: [],
  explanation: { what: '', value: null, unit: null, interval: null, from: [] },
  ...more,
});

const view = (more: Partial<CalibrationView> = {}): CalibrationView => ({
  id: 'c',
  drillName: 'Drill',
  configuration: 'gate',
  seedName: 'Mix',
  targetGramsPerSquareMetre: 6.5,
  tolerance: 0.05,
  confidence: 0.9,
  scale: { low: 0, high: 80, step: 1 },
  runs: [run(24, 5), run(40, 8)],
  advice: advice(),
  whyNoAdvice: null,
  rounds: [],
  roundsPerAcre: [],
  past: [],
  printedChart: [],
  rows: null,
  printedChartBulkDensity: null,
  ...more,
});

describe('the next act', () => {
  const stop = advice().stop;

  it('is one of six, each with its own word', () => {
    expect(nextAct(view())).toMatchObject({ kind: 'set', setting: 32, sentence: 'Set the lever to 32.' });
    const done = advice({ state: 'done', stop: { ...stop, done: true, setting: 31, sentence: 'Done.' } });
    expect(nextAct(view({ advice: done }))).toMatchObject({ kind: 'done', setting: 31, sentence: 'Done.' });
    const best = advice({ stop: { ...stop, asGoodAsItGets: true, limit: 'step' } });
    expect(nextAct(view({ advice: best }))).toMatchObject({ kind: 'settle', setting: 32 });
    const none = advice({ state: 'start', next: null, stop: { ...stop, setting: null, sentence: 'Begin.' } });
    expect(nextAct(view({ advice: none }))).toEqual({ kind: 'first-run', why: 'Begin.' });
    const beyond = advice({ state: 'out-of-reach', next: null, stop: { ...stop, sentence: 'Too high.' } });
    expect(nextAct(view({ advice: beyond }))).toEqual({ kind: 'out-of-reach', sentence: 'Too high.' });
  });

  it('leads to the field that is missing', () => {
    const why = 'Type in the scale.';
    expect(nextAct(view({ advice: null, scale: null, whyNoAdvice: why }))).toEqual({
      kind: 'no-advice',
      why,
      field: 'scaleLow',
    });
    expect(nextAct(view({ advice: null, whyNoAdvice: why }))).toMatchObject({ field: null });
  });

  it('knows whether the plan has the setting already', () => {
    for (const written of ['30', ' 30 ', '30.0', '30,0']) expect(means(written, 30)).toBe(true);
    for (const written of ['', '30, fine gear', '3', '300', 'notch 30'])
      expect(means(written, 30)).toBe(false);
  });
});

describe('the picture of rate against setting', () => {
  const same = (rate: number) => rate;

  it('tells runs apart by where they were weighed and whether they count', () => {
    const { runs } = settingCurve(
      view({
        runs: [
          run(24, 5),
          run(30, 6, { source: 'hand' }),
          run(31, 9, { counts: false }),
          run(33, null),
          run(null, 7),
        ],
      }),
      same,
    );
    expect(runs).toEqual({
      stand: { counts: [{ x: 24, y: 5 }], aside: [{ x: 31, y: 9 }] },
      hand: { counts: [{ x: 30, y: 6 }], aside: [] },
    });
  });

  it('holds runs, target and next setting, and never leaves the scale', () => {
    const settings = fc.array(
      fc.tuple(fc.integer({ min: 0, max: 80 }), fc.double({ min: 0.1, max: 50, noNaN: true })),
      {
        maxLength: 6,
      },
    );
    fc.assert(
      fc.property(
        settings,
        fc.constantFrom(null, advice(), advice({ chart: [], next: null })),
        (list, told) => {
          const { axes, next: at } = settingCurve(
            view({ runs: list.map(([s, r]) => run(s, r)), advice: told }),
            same,
          );
          expect(axes.x.min).toBeGreaterThanOrEqual(0);
          expect(axes.x.max).toBeLessThanOrEqual(80);
          expect(axes.x.min).toBeLessThan(axes.x.max);
          expect(axes.y.min).toBeLessThan(axes.y.max);
          for (const value of [6.5, ...list.map(([, rate]) => rate)]) {
            expect(value).toBeGreaterThanOrEqual(axes.y.min);
            expect(value).toBeLessThanOrEqual(axes.y.max);
          }
          for (const { x } of at) expect(x).toBe(32);
        },
      ),
    );
  });

  it('is drawn in the unit that is asked for', () => {
    expect(settingCurve(view(), (rate) => rate * 10).target.map(({ y }) => y)).toEqual([65, 65]);
  });
});

describe('the setting chart', () => {
  it('shows the marks about the target and counts the rest', () => {
    const { near, more } = aboutTarget(chart, 6.5);
    expect(near.map(({ setting }) => setting)).toEqual([27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37]);
    expect(more).toBe(70);
  });

  it('shows as many at the ends of the scale, and all of a short one', () => {
    expect(
      aboutTarget(chart, 0)
        .near.map(({ setting }) => setting)
        .at(-1),
    ).toBe(10);
    expect(aboutTarget(chart, 99).near[0]!.setting).toBe(70);
    expect(aboutTarget(chart.slice(0, 4), 6.5)).toMatchObject({ more: 0 });
    expect(aboutTarget([], 6.5)).toEqual({ near: [], more: 0 });
  });
});
