import fc from 'fast-check';
import Schema from 'typebox/schema';
import { describe, expect, it } from 'vitest';
import { HandRunBody, PrintedChartBody } from '../../server/http/calibration-messages.ts';
import {
  convertHand,
  convertLid,
  type HandDrafts,
  lidDrafts,
  readHandRun,
  readLid,
  readRows,
} from '../../web/src/state/entry.ts';
import { evidencePlot, plotBox } from '../../web/src/state/evidence-plot.ts';
import { found } from './invented.ts';

const scale = { low: 0, high: 80 };
const typed: HandDrafts = { setting: '30', turns: '25', grams: '85,5', scaleStep: '1', countedByEye: true };

describe('a catch weighed by hand', () => {
  it('is read in grams or ounces', () => {
    expect(readHandRun(typed, scale, 'metric').body).toEqual({
      setting: 30,
      turns: 25,
      grams: 85.5,
      scaleStepGrams: 1,
      countedByEye: true,
    });
    // 28.349523125 g an ounce (exact: a sixteenth of the avoirdupois pound).
    expect(readHandRun({ ...typed, grams: '3' }, scale, 'us').body?.grams).toBeCloseTo(85.048569375, 9);
    expect(readHandRun({ ...typed, grams: '85 g' }, scale, 'us').body?.grams).toBe(85);
  });

  it('says which field is wrong', () => {
    expect(readHandRun({ ...typed, setting: '81', grams: '' }, scale, 'metric')).toMatchObject({
      body: null,
      faults: { setting: { kind: 'range', low: '0', high: '80' }, grams: { kind: 'empty' } },
    });
    expect(readHandRun({ ...typed, setting: '81' }, null, 'metric').faults).toEqual({});
    expect(readHandRun({ ...typed, turns: '0' }, scale, 'metric').faults).toHaveProperty('turns');
  });

  it('makes what the server takes, or nothing', () => {
    const text = fc.oneof(
      fc.string(),
      fc.constantFrom('0', '25', '1e3', '-1', '2000', '99999999', '0,5', '½'),
    );
    const drafts = fc.record({
      setting: text,
      turns: text,
      grams: text,
      scaleStep: text,
      countedByEye: fc.boolean(),
    });
    fc.assert(
      fc.property(drafts, fc.constantFrom('metric' as const, 'us' as const), (some, system) => {
        const { body } = readHandRun(some, scale, system);
        if (body !== null) expect(Schema.Check(HandRunBody, body)).toBe(true);
      }),
    );
  });

  it('keeps its mass over a change of units, and nonsense as it was typed', () => {
    const there = convertHand({ ...typed, scaleStep: 'fine' }, 'metric', 'us');
    expect(there).toMatchObject({ setting: '30', grams: '3.0159237', scaleStep: 'fine' });
    expect(Number(convertHand(there, 'us', 'metric').grams)).toBeCloseTo(85.5, 5);
  });
});

describe('rows of the chart on the lid', () => {
  const rows = [
    { setting: '20', rate: '40' },
    { setting: '', rate: '' },
    { setting: '40', rate: '71.4 lb/ac' },
  ];

  it('are read, empty ones left out', () => {
    const { body } = readLid({ density: '75', rows }, scale, 'metric');
    expect(body).toEqual({
      bulkDensityKilogramsPerCubicMetre: 750,
      rows: [
        { setting: 20, gramsPerSquareMetre: 4 },
        // 1 lb/ac is 0.1120851156194456 g/m² (exact definitions of pound and acre).
        { setting: 40, gramsPerSquareMetre: expect.closeTo(71.4 * 0.1120851156194456, 9) },
      ],
    });
    expect(Schema.Check(PrintedChartBody, body)).toBe(true);
  });

  it('are refused half full, beside the field', () => {
    const half = readLid({ density: 'x', rows: [{ setting: '20', rate: '' }] }, scale, 'metric');
    expect(half).toMatchObject({
      body: null,
      faults: { density: { kind: 'nonsense' }, rows: [{ rate: { kind: 'empty' } }] },
    });
  });

  it('are shown as they are on record, with room for three', () => {
    const kept = lidDrafts([{ setting: 20, gramsPerSquareMetre: 4 }], 720, 'metric');
    expect(kept.density).toBe('72');
    expect(lidDrafts([], null, 'us').density).toBe('');
    expect(kept.rows).toEqual([
      { setting: '20', rate: '40' },
      { setting: '', rate: '' },
      { setting: '', rate: '' },
    ]);
    expect(convertLid({ density: '', rows }, 'metric', 'us').rows[0]).toEqual({
      setting: '20',
      rate: '35.687165',
    });
  });
});

describe('catches of several rows', () => {
  const several = { turns: '25', catches: '85,2 88; 84.6', scaleStep: '1', together: true };

  it('are read apart, in the unit of the page', () => {
    expect(readRows(several, 'metric').body).toEqual({
      turns: 25,
      grams: [85.2, 88, 84.6],
      scaleStepGrams: 1,
      together: true,
    });
    expect(readRows({ ...several, catches: '3 3' }, 'us').body?.grams[0]).toBeCloseTo(85.048569375, 9);
  });

  it('say what is wrong: one row alone, a word among them', () => {
    expect(readRows({ ...several, catches: '85' }, 'metric').faults).toHaveProperty('catches');
    expect(readRows({ ...several, catches: '85 x 90' }, 'metric').faults.catches?.kind).toBe('nonsense');
    expect(readRows({ ...several, turns: '0' }, 'metric').faults).toHaveProperty('turns');
  });
});

describe('the small picture of a finding', () => {
  it('stays in its box, whatever the evidence', () => {
    const numbers = fc.array(fc.double(), { maxLength: 64 });
    const series = fc.array(
      fc.record({
        role: fc.constantFrom('seen' as const, 'expected' as const, 'limit' as const),
        x: numbers,
        y: numbers,
      }),
      { maxLength: 3 },
    );
    fc.assert(
      fc.property(series, (some) => {
        const { lines } = evidencePlot({ x: 'turns', y: 'grams', series: some });
        for (const { path, dots } of lines) {
          expect(path).not.toMatch(/NaN|Infinity|e/);
          for (const [x, y] of dots) {
            expect(x).toBeGreaterThanOrEqual(plotBox.left - 0.1);
            expect(x).toBeLessThanOrEqual(plotBox.width - plotBox.right + 0.1);
            expect(y).toBeGreaterThanOrEqual(plotBox.top - 0.1);
            expect(y).toBeLessThanOrEqual(plotBox.height - plotBox.bottom + 0.1);
          }
        }
      }),
    );
  });

  it('has a line for each series, with dots for what was seen alone', () => {
    const { lines, x } = evidencePlot(found[1]!.evidence);
    expect(lines.map(({ role, dots }) => [role, dots.length])).toEqual([
      ['seen', 16],
      ['expected', 0],
      ['limit', 0],
    ]);
    expect(x).toEqual([4, 12]);
  });
});
