import { describe, expect, it } from 'vitest';
import { createDrill } from '../../firmware-sim/drill/drill.ts';
import { presets } from '../../firmware-sim/drill/presets.ts';
import { drawScenario, type Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { chiSquareZ, correlation, mean, variance } from './statistics.ts';

/** Everything a board would see of 12 s, as text; called in steps of `step` seconds. */
function record(scenario: Scenario, seed: number | string, step = 0.001): string {
  const drill = createDrill(scenario, seed);
  const next = Array.from({ length: drill.cells }, (_, cell) => drill.conversionPeriod(cell));
  const seen: string[] = [];
  const steps = Math.round(12 / step);
  for (let i = 1; i <= steps; i++) {
    const at = i * step;
    const edges = drill.advance(at, { motor: at > 2 + step / 2 && at <= 8 + step / 2, lamp: false });
    for (const edge of edges) seen.push(`edge ${edge.seconds} ${edge.a} ${edge.b}`);
    for (let cell = 0; cell < drill.cells; cell++) {
      for (; next[cell]! <= at; next[cell]! += drill.conversionPeriod(cell)) {
        seen.push(`${cell} ${next[cell]} ${drill.convert(cell, next[cell]!)}`);
      }
    }
  }
  return seen.join('\n');
}

describe('the same seed', () => {
  it('gives the same run, byte for byte', () => {
    expect(record(oneRow, 5)).toBe(record(oneRow, 5));
    expect(record(sixRows, 'x')).toBe(record(sixRows, 'x'));
  });

  it('survives its scenario being written and read as JSON', () => {
    expect(record(JSON.parse(JSON.stringify(oneRow)), 5)).toBe(record(oneRow, 5));
  });

  it('gives another run under another seed', () => {
    expect(record(oneRow, 5)).not.toBe(record(oneRow, 6));
  });

  it('gives the same edges whether the board looks every millisecond or every eight', () => {
    const edges = (step: number) =>
      record(oneRow, 5, step)
        .split('\n')
        .filter((line) => line.startsWith('edge'));
    expect(edges(0.008)).toEqual(edges(0.001));
  });

  it('keeps the seeds when a source of noise goes', () => {
    const noiseless: Scenario = { ...oneRow, converter: { ...oneRow.converter, noiseCounts: 0 } };
    const caught = (scenario: Scenario) => {
      const drill = createDrill(scenario, 9);
      drill.advance(0, { motor: false, lamp: false });
      drill.advance(10, { motor: true, lamp: false });
      drill.convert(0, 10);
      return drill.truth.seedsCaught();
    };
    expect(caught(noiseless)).toEqual(caught(oneRow));
  });
});

describe('scenarios', () => {
  it.each(Object.entries(presets))(
    '%s can exist and runs without a value that is no number',
    (_, scenario) => {
      expect(record(scenario, 1, 0.004)).not.toContain('NaN');
    },
  );

  it.each([
    [{ cells: 7 }, /cells/],
    [{ faults: [{ kind: 'cell-loose' as const, cell: 1, afterTurns: 0 }] }, /cell not fitted/],
    [{ hopper: { grams: 0, headEffect: 0, starvesBelowGrams: 1 } }, /hopper/],
    [{ mix: [] }, /mix/],
    [{ bag: { ...oneRow.bag, dampingRatio: 1 } }, /dampingRatio/],
    [{ wheel: { ...oneRow.wheel, duty: 0.9 } }, /duty/],
    [{ meter: { ...oneRow.meter, packing: Number.NaN } }, /packing/],
  ])('that cannot exist are refused in words: %o', (change, words) => {
    expect(() => createDrill({ ...oneRow, ...change }, 1)).toThrow(words);
  });

  it('draw each true figure about the stated one with the stated doubt, the figures independently', () => {
    const { stated } = oneRow;
    const drawn = Array.from({ length: 1000 }, (_, k) => drawScenario(oneRow, `spread ${k}`));
    const series = [
      drawn.map(({ geometry }) => (geometry.rowSpacingMetres - 0.1905) / stated.rowSpacingDoubtMetres),
      drawn.map(({ geometry }) => (geometry.circumferenceMetres - 2.6924) / stated.circumferenceDoubtMetres),
      drawn.map(({ geometry }) => (geometry.slip - 0.04) / stated.slipDoubt),
      drawn.map(({ converter }) => (1000 / converter.countsPerGram - 1) / stated.gramsPerCountDoubt),
    ];
    series.forEach((z, i) => {
      expect(Math.abs(mean(z)) * Math.sqrt(z.length)).toBeLessThan(3);
      expect(Math.abs(chiSquareZ((z.length - 1) * variance(z), z.length - 1))).toBeLessThan(3);
      for (const other of series.slice(0, i)) {
        expect(Math.abs(correlation(z, other)) * Math.sqrt(z.length)).toBeLessThan(3);
      }
    });
  });

  it('draw a true drill about the stated one, the same for the same seed', () => {
    expect(drawScenario(oneRow, 1)).toEqual(drawScenario(oneRow, 1));
    expect(drawScenario(oneRow, 1).geometry).not.toEqual(drawScenario(oneRow, 2).geometry);
    const certain = { ...oneRow, stated: { ...oneRow.stated, slipDoubt: 0, circumferenceDoubtMetres: 0 } };
    expect(drawScenario(certain, 3).geometry.slip).toBe(0.04);
    expect(drawScenario(certain, 3).geometry.circumferenceMetres).toBe(2.6924);
  });
});
