import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { advise } from '../../server/domain/advice/advise.ts';
import { roundRateRows } from '../../server/domain/advice/chart.ts';
import { nearestMark } from '../../server/domain/advice/scale.ts';
import type { AdviceRequest, CalibrationRun } from '../../server/domain/advice/types.ts';
import { gramsPerSquareMetre, turns } from '../../server/domain/units.ts';
import { blank, known, run } from './requests.ts';

/** Runs as they may be typed in: on and off the scale, empty, wild, in any gear, set aside or not. */
const anyRun = fc
  .record({
    setting: fc.oneof(fc.integer({ min: -20, max: 140 }), fc.double({ min: -20, max: 140, noNaN: true })),
    rate: fc.oneof(
      fc.constant(0),
      fc.double({ min: 0, max: 40, noNaN: true }),
      fc.double({ min: 1e-12, max: 10_000, noNaN: true }),
    ),
    doubt: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 0.5, noNaN: true })),
    degreesOfFreedom: fc.oneof(fc.constant(Number.POSITIVE_INFINITY), fc.integer({ min: 1, max: 30 })),
    hand: fc.boolean(),
    leverMoved: fc.boolean(),
    otherGear: fc.integer({ min: 0, max: 9 }).map((n) => n === 0),
    aside: fc.integer({ min: 0, max: 4 }).map((n) => n === 0),
    turns: fc.double({ min: 0.1, max: 400, noNaN: true }),
  })
  .map(
    (each) =>
      (number: number): CalibrationRun =>
        run(number, each.setting, each.rate, {
          doubt: { standard: each.doubt, degreesOfFreedom: each.degreesOfFreedom },
          source: each.hand ? 'hand' : 'stand',
          miscountChance: each.hand ? 0.05 : 0,
          leverMoved: each.leverMoved,
          configuration: each.otherGear ? 'high gear' : 'low gear',
          turns: turns(each.turns),
          setAside: each.aside ? { by: 'you', why: 'the bag slipped' } : null,
        }),
  );

const anyScale = fc
  .record({
    low: fc.integer({ min: -10, max: 10 }),
    span: fc.integer({ min: 5, max: 120 }),
    step: fc.constantFrom(0.25, 0.5, 1, 2, 5),
    closedAt: fc.integer({ min: -20, max: 10 }),
    leverPlay: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 2, noNaN: true })),
  })
  .map(({ low, span, step, closedAt, leverPlay }) => ({
    low,
    high: low + span,
    step,
    closedAt: Math.min(closedAt, low + span - 1),
    leverPlay,
    configuration: 'low gear',
    otherConfigurations: ['high gear'],
  }));

const anyRate = fc.double({ min: 0.01, max: 100, noNaN: true }).map(gramsPerSquareMetre);
const anyRequest: fc.Arbitrary<AdviceRequest> = fc
  .record({
    makers: fc.array(anyRun, { maxLength: 7 }),
    scale: anyScale,
    rate: anyRate,
    tolerance: fc.double({ min: 0.002, max: 0.3, noNaN: true }),
    confidence: fc.double({ min: 0.51, max: 0.99, noNaN: true }),
    repeatability: fc.double({ min: 0.0005, max: 0.1, noNaN: true }),
    rows: fc.option(fc.double({ min: 0, max: 0.1, noNaN: true })),
    chart: fc.option(
      fc.array(fc.record({ setting: fc.integer({ min: 0, max: 100 }), rate: anyRate }), { maxLength: 3 }),
    ),
  })
  .map(({ makers, scale, rate, tolerance, confidence, repeatability, rows, chart }) => ({
    ...blank,
    runs: makers.map((make, i) => make(i + 1)),
    scale,
    target: { rate, tolerance, confidence },
    rows,
    prior: {
      past: [],
      repeatability,
      chart: chart && {
        seed: { bulkDensity: 750, seedGrams: null },
        configuration: 'low gear',
        rows: chart,
      },
    },
  }));

/** Every number in a plain value, with the way to it. */
function numbersIn(value: unknown, path = ''): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) => numbersIn(each, `${path}.${key}`));
}

/** Every sentence in a plain value. */
function textsIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(textsIn);
}

describe('advice from whatever runs there are', () => {
  it('holds no figure that is none, and no sentence that shows one', () => {
    fc.assert(
      fc.property(anyRequest, (request) => {
        const advice = { ...advise(request), rounds: roundRateRows(request) };
        expect(numbersIn(advice).filter(([, value]) => !Number.isFinite(value))).toEqual([]);
        for (const text of textsIn(advice)) expect(text).not.toMatch(/NaN|Infinity|undefined|null/);
      }),
      { numRuns: 80 },
    );
  });

  it('never names a setting off the scale, nor between two marks unless the lever stands there', () => {
    fc.assert(
      fc.property(anyRequest, (request) => {
        const { next, stop, chart } = advise(request);
        const { low, high } = request.scale;
        const settings = [next?.setting, stop.setting, next?.interval.low, next?.interval.high];
        for (const setting of [...settings, ...chart.map((row) => row.setting)]) {
          if (setting === undefined || setting === null) continue;
          expect(setting).toBeGreaterThanOrEqual(low);
          expect(setting).toBeLessThanOrEqual(high);
        }
        if (next && !next.leverStays) expect(next.setting).toBe(nearestMark(request.scale, next.setting));
      }),
      { numRuns: 80 },
    );
  });

  it('gives intervals around their values and probabilities from 0 to 1; done only with runs and the wanted confidence', () => {
    fc.assert(
      fc.property(anyRequest, (request) => {
        const { stop, chart, curve, state } = advise(request);
        for (const { rate } of chart) {
          expect(rate.low).toBeGreaterThanOrEqual(0);
          expect(rate.high).toBeGreaterThanOrEqual(rate.low);
        }
        expect(stop.probability).toBeGreaterThanOrEqual(0);
        expect(stop.probability).toBeLessThanOrEqual(1 + 1e-12);
        expect(stop.done).toBe(state === 'done');
        if (stop.done) {
          expect(curve!.runs).toBeGreaterThan(0);
          expect(stop.probability).toBeGreaterThanOrEqual(request.target.confidence);
        }
        expect(stop.sentence.length).toBeGreaterThan(0);
      }),
      { numRuns: 80 },
    );
  });

  it('accounts for every run: in the model, or left out with a reason', () => {
    fc.assert(
      fc.property(anyRequest, (request) => {
        const { curve, leftOut } = advise(request);
        expect((curve?.runs ?? 0) + leftOut.length).toBe(request.runs.length);
        for (const { why } of leftOut) expect(why.length).toBeGreaterThan(0);
      }),
      { numRuns: 60 },
    );
  });
});

/** Sensible runs about a line, so that there is advice to compare. */
const soundRuns = fc
  .array(
    fc.record({
      setting: fc.integer({ min: 10, max: 90 }),
      off: fc.double({ min: -0.02, max: 0.02, noNaN: true }),
    }),
    { minLength: 1, maxLength: 5 },
  )
  .map((list) => list.map(({ setting, off }, i) => run(i + 1, setting, (1 + 0.2 * setting) * (1 + off))));

describe('advice does not depend on', () => {
  it('the unit of rate: all rates times a factor, the same settings and probabilities', () => {
    fc.assert(
      fc.property(soundRuns, fc.double({ min: 0.01, max: 50, noNaN: true }), (runs, factor) => {
        const times = (rate: number) => gramsPerSquareMetre(rate * factor);
        const scaled = {
          ...blank,
          target: { ...blank.target, rate: times(blank.target.rate) },
          runs: runs.map((each) => ({ ...each, rate: times(each.rate) })),
        };
        const [a, b] = [advise({ ...blank, runs }), advise(scaled)];
        expect(b.next?.setting).toBe(a.next?.setting);
        expect(b.stop.probability).toBeCloseTo(a.stop.probability, 6);
        expect(b.chart[50]!.rate.high / factor).toBeCloseTo(a.chart[50]!.rate.high, 6);
      }),
      { numRuns: 40 },
    );
  });

  it('the order of earlier runs', () => {
    fc.assert(
      fc.property(soundRuns, (runs) => {
        const [newest, ...earlier] = [...runs].reverse() as [CalibrationRun, ...CalibrationRun[]];
        const a = advise({ ...blank, runs });
        const b = advise({ ...blank, runs: [...earlier, newest] });
        expect(b.stop.probability).toBeCloseTo(a.stop.probability, 6);
        expect(b.next?.setting).toBe(a.next?.setting);
      }),
      { numRuns: 40 },
    );
  });

  it('runs set aside, whatever they say', () => {
    fc.assert(
      fc.property(soundRuns, anyRun, (runs, make) => {
        const aside = { ...make(99), setAside: { by: 'you', why: 'the bag slipped' } };
        const a = advise({ ...blank, runs });
        const b = advise({ ...blank, runs: [aside, ...runs] });
        expect(b.chart).toEqual(a.chart);
      }),
      { numRuns: 40 },
    );
  });
});

describe('more of the same', () => {
  it('another run on the line makes the setting surer, not less sure', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 60 }), (setting) => {
        const onLine = (x: number) => 1 + 0.225 * x;
        const two = [run(1, setting, onLine(setting)), run(2, 40, onLine(40), { doubt: known(0.01) })];
        const three = [...two, run(3, 40, onLine(40), { leverMoved: false })];
        const width = (runs: CalibrationRun[]) => {
          const { interval } = advise({ ...blank, runs }).next!;
          return interval.high - interval.low;
        };
        expect(width(three)).toBeLessThan(width(two));
      }),
      { numRuns: 40 },
    );
  });
});
