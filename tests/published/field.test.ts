import { describe, expect, it } from 'vitest';
import { areaSown, compareField, publishedFactors, type StandRate } from '../../server/domain/field-check.ts';
import { judgeRows, publishedRowLimits } from '../../server/domain/row-limits.ts';
import { fewRowsDoubt, summarizeRows } from '../../server/domain/rows.ts';
import { grams, gramsPerSquareMetre, metres, squareMetres, turns } from '../../server/domain/units.ts';

// Field & Solie, Introduction to Agricultural Engineering Technology (2007), worked problem: 12 of 25 meters caught over 50 turns, each to lie
// within 5 % of their mean. READ: catches, mean 22.575 g, band 21.4 to 23.7 g, all pass. Computed: variation 1.324 %, extremes +1.44 and
// -2.55 %. The seed is not named: lumpiness as of small grain, 0.04 g.
describe('twelve meters of a textbook', () => {
  const catches = [22.6, 22.4, 22.0, 22.9, 22.7, 22.6, 22.0, 22.8, 22.8, 22.7, 22.6, 22.8];
  const rows = catches.map((caught, index) => ({
    name: `row ${index + 1}`,
    caught: grams(caught),
    turns: turns(50),
    weighing: 0.05,
  }));
  const summary = summarizeRows(rows, { lumpiness: grams(0.04), cellSlope: 0, repeatability: 0, turns: 0 });

  it('mean, variation and extremes', () => {
    expect(summary.gramsPerTurn * 50).toBeCloseTo(22.575, 10);
    expect(100 * summary.seen.variation).toBeCloseTo(1.324, 3);
    const away = summary.differences.map((each) => 100 * each.away);
    expect(Math.max(...away)).toBeCloseTo(1.44, 2);
    expect(Math.min(...away)).toBeCloseTo(-2.55, 2);
    expect(summary.farthest).toMatchObject({ name: 'row 3' });
  });

  it('all pass the 5 % of the textbook, though single seeds of that size would leave it unsure', () => {
    const textbook = publishedRowLimits.find((each) => each.key === 'textbook')!;
    const band = catches.filter((caught) => caught >= 22.575 * 0.95 && caught <= 22.575 * 1.05);
    expect(band).toHaveLength(12);
    expect([22.575 * 0.95, 22.575 * 1.05].map((each) => each.toFixed(1))).toEqual(['21.4', '23.7']);
    expect(judgeRows(summary, textbook)).toMatchObject({ rows: [], verdict: 'unsure' });
    const fine = summarizeRows(rows, { lumpiness: grams(0.0004), cellSlope: 0, repeatability: 0, turns: 0 });
    expect(judgeRows(fine, textbook)).toMatchObject({ rows: [], verdict: 'within' });
  });
});

// W. G. Cochran, Sampling Techniques (1977), 2.6; figures computed: rows with 5 % variation, twenty of them.
it('one row of twenty adds 4.9 %, four add 2.2 %, all add nothing', () => {
  expect(100 * fewRowsDoubt(0.05, 1, 20).standard).toBeCloseTo(4.9, 1);
  expect(100 * fewRowsDoubt(0.05, 4, 20).standard).toBeCloseTo(2.2, 1);
  expect(fewRowsDoubt(0.05, 20, 20).standard).toBe(0);
});

const geometry = { circumference: metres(2.4), rowSpacing: metres(7.5 * 0.0254), rowsCaught: 24, slip: 0 };
const stand: StandRate = {
  rate: gramsPerSquareMetre(10),
  parts: [
    { part: 'repeatability', relative: 0.01, degreesOfFreedom: Number.POSITIVE_INFINITY, common: false },
  ],
  geometry,
};

/** A hectare sown, weighed and measured to half a percent each. */
const hectareAt = (share: number) =>
  compareField(stand, {
    name: 'the field',
    used: grams(100_000 * share),
    usedDoubt: 500 * share,
    onStandScale: false,
    area: { kind: 'measured', area: squareMetres(10_000), doubt: 50 },
  });

// L. A. Yousif, Gezira Journal of Agricultural Science, article 575: rates in the field as a share of the stationary ones, fluted meter, two
// seasons. READ.
describe('field rates of five crops', () => {
  it.each([
    ['sorghum', 0.95],
    ['millet', 0.88],
    ['sesame', 0.96],
    ['sunflower', 0.95],
    ['cotton', 0.85],
  ])('%s: %s of the stationary rate, beyond doubt where known to 1.2 %%', (_, share) => {
    const { factor, correction, slip, beyondDoubt, suspicious } = hectareAt(share);
    expect(factor).toBeCloseTo(share, 12);
    expect(correction).toBeCloseTo(1 / share, 12);
    expect(slip.value).toBeCloseTo(1 - share, 12);
    expect(beyondDoubt).toBe(true);
    expect(suspicious).toBe(false);
    expect(share).toBeGreaterThanOrEqual(publishedFactors.low);
    expect(share).toBeLessThanOrEqual(publishedFactors.high);
  });
});

// Nirala, International Journal of Agricultural Engineering 4(2) (2011) 193-199: skid of the ground wheel 4.53 %. READ.
it('a skid of 4.53 % shows as such', () => {
  expect(hectareAt(1 - 0.0453).slip.value).toBeCloseTo(0.0453, 12);
});

// Cover crop mixtures require properly calibrated grain drill, Southeast Farm Press. READ: 24 openers at 7.5 in make 15.0 ft, a twentieth
// of an acre is 2 178 ft², or 145.2 ft to drive.
it('145.2 ft with 24 openers at 7.5 in are 2178 ft², by rows or by width', () => {
  const distance = metres(145.2 * 0.3048);
  const byRows = areaSown({ kind: 'rows', distance, distanceDoubt: 0, rows: 24 }, geometry);
  const byWidth = areaSown(
    { kind: 'driven', distance, distanceDoubt: 0, width: metres(15 * 0.3048), widthDoubt: 0 },
    geometry,
  );
  expect(byRows.area / 0.3048 ** 2).toBeCloseTo(2178, 8);
  expect(byWidth.area / 0.3048 ** 2).toBeCloseTo(2178, 8);
});
