import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeRows, publishedRowLimits, type RowLimit } from '../../server/domain/row-limits.ts';
import {
  fewRowsDoubt,
  type RowCatch,
  type RowNoise,
  summarizeRows,
  variationOf,
} from '../../server/domain/rows.ts';
import { grams, turns } from '../../server/domain/units.ts';
import { between, near, refused } from './lots.ts';
import { noiseFrom } from './noise.ts';

const quiet: RowNoise = { lumpiness: grams(0.04), cellSlope: 0, repeatability: 0, turns: 0 };
const rowsOf = (catches: number[], over = 20): RowCatch[] =>
  catches.map((caught, index) => ({
    name: `row ${index + 1}`,
    caught: grams(caught),
    turns: turns(over),
    weighing: 0.1,
  }));
/** Tenths of a gram, as a scale shows them. */
const catches = fc.array(
  fc.integer({ min: 100, max: 2000 }).map((tenths) => tenths / 10),
  { minLength: 2, maxLength: 24 },
);

describe('rows', () => {
  it('of 80 g with seeds of 0.04 g differ by 2.2 % from chance alone', () => {
    const { chance, gramsPerTurn } = summarizeRows(rowsOf([80, 80, 80, 80]), quiet);
    near(chance, Math.hypot(Math.sqrt(0.04 / 80), 0.1 / 80));
    near(gramsPerTurn, 4);
  });

  it('do not depend on their order, nor on unit or length of the test where chance goes along', () => {
    fc.assert(
      fc.property(catches, between(0.5, 20), (list, by) => {
        const there = summarizeRows(rowsOf(list), quiet);
        const rows = rowsOf(
          list.map((caught) => by * caught),
          20 * by,
        )
          .map((row) => ({ ...row, weighing: 0.1 * by }))
          .reverse();
        const back = summarizeRows(rows, { ...quiet, lumpiness: grams(0.04 * by) });
        near(back.gramsPerTurn, there.gramsPerTurn, 1e-9);
        expect(back.seen.variation).toBeCloseTo(there.seen.variation, 9);
        expect(back.verdict.chiSquare).toBeCloseTo(there.verdict.chiSquare, 6);
      }),
    );
  });

  it('caught one after the other over different turns compare per turn', () => {
    const rows = [rowsOf([80], 20)[0]!, { ...rowsOf([40], 10)[0]!, name: 'row 2' }];
    const { seen, differences } = summarizeRows(rows, { ...quiet, repeatability: 0.02, turns: 0.1 });
    expect(seen.variation).toBeCloseTo(0, 12);
    near(differences[1]!.doubt, Math.hypot(Math.sqrt(0.04 / 40), 0.1 / 40, 0.02, 0.1 / 10));
  });

  it('say which is farthest, and differ no more than chance where chance explains it', () => {
    const calm = summarizeRows(rowsOf([80, 82, 78, 81, 79]), quiet);
    expect(calm.verdict.beyondChance).toBe(false);
    expect(calm.real.standard).toBe(0);
    expect(calm.sentence).toMatch(/^The rows differ no more than chance.*that may be luck\.$/);
    const wild = summarizeRows(rowsOf([80, 90, 70, 85, 75]), quiet);
    expect(wild.verdict.beyondChance).toBe(true);
    near(wild.real.standard ** 2, wild.seen.variation ** 2 - wild.chance ** 2, 1e-6);
    expect(wild.farthest).toMatchObject({ name: 'row 2' });
    near(wild.farthest.away, 0.125);
    expect(wild.sentence).toMatch(
      /is the drill's own\. Row 2 is farthest from the mean, 12\.5 % above it\.$/,
    );
  });

  it('a blocked row is offered, with where to look', () => {
    const { outlier, farthest, verdict } = summarizeRows(rowsOf([80, 82, 0, 81, 79, 80]), quiet);
    expect(outlier).toMatchObject({ index: 2, name: 'row 3', away: -1 });
    expect(outlier!.sentence).toMatch(/^Row 3 gave 100 % less than the others.*tube.*\.$/);
    expect(farthest.name).toBe('row 3');
    expect(verdict.beyondChance).toBe(true);
  });

  it('are alike for fewer when noise grows: the verdict never hardens, the real spread never grows', () => {
    fc.assert(
      fc.property(catches, between(1.1, 10), (list, more) => {
        const calm = summarizeRows(rowsOf(list), quiet);
        const noisy = summarizeRows(rowsOf(list), { ...quiet, lumpiness: grams(0.04 * more) });
        expect(noisy.verdict.probability).toBeGreaterThanOrEqual(calm.verdict.probability);
        expect(noisy.real.standard).toBeLessThanOrEqual(calm.real.standard + 1e-12);
        expect(calm.seen.low).toBeLessThanOrEqual(calm.seen.variation);
        expect(calm.seen.high).toBeGreaterThanOrEqual(calm.seen.variation);
      }),
    );
  });

  it('refuse what cannot be', () => {
    refused(() => summarizeRows(rowsOf([80]), quiet), 'too-few', 'caught');
    refused(() => summarizeRows([], quiet), 'too-few', 'caught');
    refused(() => summarizeRows(rowsOf([80, -1]), quiet), 'out-of-range', 'caught');
    refused(() => summarizeRows(rowsOf([0, 0, 0]), quiet), 'too-few', 'caught');
    const unsound = { ...rowsOf([80])[0]!, caught: Number.NaN as never };
    refused(() => summarizeRows([unsound, unsound], quiet), 'not-a-number', 'caught');
    refused(() => summarizeRows(rowsOf([80, 81], 0), quiet), 'out-of-range', 'turns');
    for (const field of ['lumpiness', 'cellSlope', 'repeatability', 'turns'] as const) {
      refused(() => summarizeRows(rowsOf([80, 81]), { ...quiet, [field]: -1 }), 'out-of-range', field);
    }
    refused(() => summarizeRows(rowsOf([80, 81]), quiet, 0), 'out-of-range', 'confidence');
    refused(() => variationOf([-1, 1]), 'out-of-range', 'values');
  });
});

describe('limits', () => {
  const limit = (of: RowLimit['of'], size: number): RowLimit => ({
    key: 'test',
    of,
    limit: size,
    source: 'nobody',
    mark: 'READ',
  });
  const rows = summarizeRows(rowsOf([800, 820, 780, 900, 790, 810]), quiet);

  it('are met, missed, or cannot be told', () => {
    expect(judgeRows(rows, limit('each-row', 0.2)).verdict).toBe('within');
    expect(judgeRows(rows, limit('each-row', 0.05))).toMatchObject({ verdict: 'beyond', rows: ['row 4'] });
    expect(judgeRows(rows, limit('each-row', 0.1))).toMatchObject({ verdict: 'unsure', rows: ['row 4'] });
    expect(judgeRows(rows, limit('variation', 0.2)).verdict).toBe('within');
    expect(judgeRows(rows, limit('variation', 0.02)).verdict).toBe('beyond');
    expect(judgeRows(rows, limit('variation', 0.05)).verdict).toBe('unsure');
  });

  it('are shown with their source', () => {
    expect(judgeRows(rows, limit('each-row', 0.05)).sentence).toBe(
      'row 4 differs from the mean by more than 5 % (nobody).',
    );
    for (const published of publishedRowLimits) {
      expect(judgeRows(rows, published).sentence).toContain(published.source);
      expect(published.source.length).toBeGreaterThan(20);
    }
    refused(() => judgeRows(rows, limit('variation', 1)), 'out-of-range', 'limit');
    refused(() => judgeRows(rows, limit('variation', 0.1), 0), 'out-of-range', 'confidence');
  });
});

describe('few rows for all', () => {
  it('the more rows caught the less they add, and nothing when all are', () => {
    fc.assert(
      fc.property(between(0.001, 0.3), fc.integer({ min: 2, max: 60 }), (spread, rows) => {
        let before = Number.POSITIVE_INFINITY;
        for (let caught = 1; caught <= rows; caught += 1) {
          const { standard } = fewRowsDoubt(spread, caught, rows);
          expect(standard).toBeLessThan(before);
          before = standard;
        }
        expect(before).toBe(0);
      }),
    );
    expect(fewRowsDoubt(0.05, 1, 20, 6).degreesOfFreedom).toBe(5);
  });

  // Rows drawn without putting back: the formula against the thing itself.
  it('is how far the mean of rows picked by lot lies from that of all', () => {
    const all = [0.93, 0.97, 0.99, 1, 1.01, 1.02, 1.03, 1.05];
    const normal = noiseFrom(3);
    const squares = Array.from({ length: 20_000 }, () => {
      const picked = all
        .map((value) => ({ value, lot: normal() }))
        .sort((a, b) => a.lot - b.lot)
        .slice(0, 3);
      return (picked.reduce((sum, each) => sum + each.value, 0) / 3 - 1) ** 2;
    });
    const seen = Math.sqrt(squares.reduce((sum, each) => sum + each, 0) / squares.length);
    const spread = variationOf(all).variation;
    expect(Math.abs(seen / fewRowsDoubt(spread, 3, 8).standard - 1)).toBeLessThan(0.02);
  });

  it('refuses what cannot be', () => {
    refused(() => fewRowsDoubt(0.05, 0, 20), 'out-of-range', 'caught');
    refused(() => fewRowsDoubt(0.05, 21, 20), 'out-of-range', 'caught');
    refused(() => fewRowsDoubt(0.05, 1.5, 20), 'out-of-range', 'rows');
    refused(() => fewRowsDoubt(0.05, 1, 20, 1), 'out-of-range', 'rows');
    refused(() => fewRowsDoubt(-0.05, 1, 20), 'out-of-range', 'spread');
    refused(() => fewRowsDoubt(Number.NaN, 1, 20), 'not-a-number', 'spread');
  });
});
