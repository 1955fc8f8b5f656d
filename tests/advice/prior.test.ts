import { describe, expect, it } from 'vitest';
import { advise } from '../../server/domain/advice/advise.ts';
import type {
  AdvicePrior,
  AdviceRequest,
  PastCalibration,
  PrintedChart,
} from '../../server/domain/advice/types.ts';
import { gramsPerSquareMetre, turns } from '../../server/domain/units.ts';
import { blank, known, run } from './requests.ts';

/** What is offered before the first run, and how much of it remains once there are runs. */

const line = (setting: number) => 1 + 0.225 * setting;

const chart: PrintedChart = {
  seed: { bulkDensity: 770, seedGrams: null },
  configuration: 'low gear',
  rows: [20, 40, 60].map((setting) => ({ setting, rate: gramsPerSquareMetre(line(setting)) })),
};

const past: PastCalibration = {
  name: 'the calibration of 3 April',
  configuration: 'low gear',
  seed: { bulkDensity: 770, seedGrams: 0.03 },
  runs: [25, 40, 50].map((setting) => ({
    setting,
    rate: gramsPerSquareMetre(line(setting)),
    doubt: known(0.008),
  })),
};

const from = (prior: Partial<AdvicePrior>, more: Partial<AdviceRequest> = {}) =>
  advise({ ...blank, prior: { ...blank.prior, ...prior }, ...more });

/** Relative width of the 95 % interval of the rate at 40. */
function widthAt40(prior: Partial<AdvicePrior>, more: Partial<AdviceRequest> = {}): number {
  const { rate } = from(prior, more).chart[40]!;
  return (rate.high - rate.low) / rate.value;
}

describe('before the first run', () => {
  it('the printed chart gives a first setting, with the doubt that such charts deserve', () => {
    const { state, next, findings } = from({ chart });
    expect(state).toBe('start');
    expect(Math.abs(next!.setting - 40)).toBeLessThanOrEqual(2);
    expect(next!.restsOn).toEqual(['the printed chart']);
    expect(findings[0]!.sentence).toMatch(/no run yet.*printed chart alone/);
    // Mississippi State University Extension, publication 3112 (READ): chart and actual rate may differ by 25 to 50 %.
    const half = widthAt40({ chart }) / 2;
    expect(half).toBeGreaterThan(0.4);
    expect(half).toBeLessThan(0.8);
  });

  it('a chart for another density is scaled by bulk density, with more doubt', () => {
    const light = { ...chart, seed: { bulkDensity: 385, seedGrams: null } };
    const { next } = from({ chart: light });
    // Twice the density, twice the rate: half the target must stand on the chart, but for the pull of a small offset.
    expect(Math.abs(next!.setting - (5 - 1) / 0.225)).toBeLessThanOrEqual(4);
    expect(widthAt40({ chart: light })).toBeGreaterThan(widthAt40({ chart }));
  });

  it('two rows are enough', () => {
    const { next } = from({ chart: { ...chart, rows: chart.rows.slice(0, 2) } });
    expect(Math.abs(next!.setting - 40)).toBeLessThanOrEqual(2);
  });

  it('the drill’s own past says more than the printed chart, and another configuration less than the same', () => {
    const other = { ...past, configuration: 'high gear' };
    expect(from({ past: [past] }).next!.setting).toBe(40);
    expect(widthAt40({ past: [past] })).toBeLessThan(0.5 * widthAt40({ chart }));
    expect(widthAt40({ past: [other] })).toBeGreaterThan(3 * widthAt40({ past: [past] }));
  });

  it('a past with seed half as heavy by volume is scaled too', () => {
    const light = { ...past, seed: { bulkDensity: 385, seedGrams: 0.03 } };
    expect(Math.abs(from({ past: [light] }).next!.setting - (5 - 1) / 0.225)).toBeLessThanOrEqual(3);
  });

  it('several calibrations say more than one', () => {
    const three = [1, 2, 3].map((n) => ({ ...past, name: `calibration ${n}` }));
    expect(widthAt40({ past: three })).toBeLessThan(widthAt40({ past: [past] }));
  });

  it.each([
    ['of unknown density', { bulkDensity: null, seedGrams: 0.03 }],
    ['of much lighter seed', { bulkDensity: 400, seedGrams: 0.03 }],
    ['of much smaller seed', { bulkDensity: 770, seedGrams: 0.001 }],
  ])('a past %s says less', (_, seed) => {
    expect(widthAt40({ past: [{ ...past, seed }] })).toBeGreaterThan(1.3 * widthAt40({ past: [past] }));
  });
});

describe('once there are runs', () => {
  const runs = [run(1, 30, line(30)), run(2, 40, line(40)), run(3, 40, line(40), { leverMoved: false })];

  it('a short scouting run gives a next setting with its doubt', () => {
    const scout = run(1, 20, line(20), { doubt: known(0.05), turns: turns(3) });
    const { next } = from({}, { runs: [scout] });
    expect(next!.interval.low).toBeLessThan(line(40) / 0.3);
    expect(next!.interval.low).toBeLessThan(40);
    expect(next!.interval.high).toBeGreaterThan(40);
    expect(next!.interval.high - next!.interval.low).toBeGreaterThan(10);
  });

  it('the past helps the first run', () => {
    const one = { runs: runs.slice(0, 1) };
    expect(widthAt40({ past: [past] }, one)).toBeLessThan(0.8 * widthAt40({}, one));
  });

  it.each([
    [
      'a past',
      {
        past: [{ ...past, runs: past.runs.map((r) => ({ ...r, rate: gramsPerSquareMetre(1.3 * r.rate) })) }],
      },
    ],
    [
      'a chart',
      {
        chart: { ...chart, rows: chart.rows.map((r) => ({ ...r, rate: gramsPerSquareMetre(1.5 * r.rate) })) },
      },
    ],
  ])('%s that is quite wrong is overruled', (_, prior) => {
    const { chart: marks } = from(prior, { runs });
    expect(Math.abs(marks[40]!.rate.value / line(40) - 1)).toBeLessThan(0.01);
  });

  it('the explanation shows what came from elsewhere, and how far it is trusted', () => {
    const text = JSON.stringify(from({ past: [past], chart }, { runs }).explanation);
    expect(text).toContain('The calibration of 3 April, brought to this seed’s bulk density');
    expect(text).toContain('The printed chart, brought to this seed’s bulk density');
    expect(text).toContain('Relative doubt of its factor');
  });
});
