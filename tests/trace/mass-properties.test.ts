import { describe, expect, it } from 'vitest';
import { faultScenarios } from '../../firmware-sim/drill/fault-scenarios.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import type { Finding } from '../../server/domain/trace/finding.ts';
import type { TraceReading } from '../../server/domain/trace/reading.ts';
import { addToTrace, noTrace, type TraceState, traceFindings } from '../../server/domain/trace/trace.ts';
import { knowledgeOf, tracedRun } from './traced.ts';

const course = { beforeSeconds: 8, turns: 25, afterSeconds: 10 };

function preset(name: string): { findings: Finding[]; state: TraceState } {
  const scenario = faultScenarios[name]!;
  const { state } = tracedRun(scenario, name, course, knowledgeOf(scenario));
  return { findings: traceFindings(state), state };
}

const named = (name: string) => preset(name).findings.filter(({ kind }) => !kind.startsWith('pulse-per'));

describe('the presets of the imagined drill, one thing wrong in each', () => {
  const right: [preset: string, kind: string, cell: number | null, turns: number][] = [
    ['tube-blocks', 'tube-blocked', 2, 10],
    ['flow-stops-a-while', 'flow-stopped', null, 10],
    ['bag-knocked', 'bag-knocked', 0, 10],
    ['bag-leaned-on', 'bag-leaned-on', 0, 10],
    ['cell-loose', 'cell-dead', 0, 10],
    ['cell-stuck', 'cell-dead', 0, 10],
  ];
  it.each(right)('%s: %s, and when', (name, kind, cell, turns) => {
    const findings = named(name);
    expect(findings.map((finding) => [finding.kind, finding.cell])).toEqual([[kind, cell]]);
    expect(Math.abs(findings[0]!.from.turns - turns)).toBeLessThan(0.7);
    expect(findings[0]!.sure).toBeGreaterThan(0.95);
  });

  it('a bag that touches from 50 g on: at that catch', () => {
    const [finding, ...more] = named('bag-touches');
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ kind: 'bag-touching', cell: 0 });
    // 50 g at 3.47 g a turn.
    expect(Math.abs(finding!.from.turns - 50 / 3.47)).toBeLessThan(1.5);
  });

  it('a hopper of 60 g: the flow stops', () => {
    expect(named('hopper-runs-empty').map(({ kind }) => kind)).toEqual(['flow-stopped']);
  });

  it('a leak: before the start and after the end', () => {
    const [before, after, ...more] = named('seed-leaks');
    expect(more).toEqual([]);
    expect(before).toMatchObject({ kind: 'leak', cell: 0 });
    expect(before!.from.seconds).toBeLessThan(0);
    expect(after!.from.turns).toBeGreaterThan(25);
  });

  it('a shaken bench: noise, from before the start', () => {
    const [finding] = named('bench-shakes');
    expect(finding).toMatchObject({ kind: 'scale-noisy' });
    expect(finding!.from.seconds).toBeLessThan(0);
  });

  it('a bridge that gives way ends the finding', () => {
    const [finding] = named('flow-stops-a-while');
    expect(Math.abs(finding!.until!.turns - 13)).toBeLessThan(0.8);
  });

  it('less head by 3 % over a run, and a mix that separates, cannot be seen and are not named', () => {
    // 12 % of 300 g over 86 g caught: a trend of 3 % against a standard deviation of sqrt(12 x 0.025 / 86) = 6 %.
    expect(named('hopper-head')).toEqual([]);
    expect(named('mix-separates')).toEqual([]);
  });
});

describe('a finding', () => {
  it('comes with a picture of at most 64 finite points a series, and is plain data', () => {
    for (const name of Object.keys(faultScenarios)) {
      const { findings, state } = preset(name);
      expect(JSON.parse(JSON.stringify(state))).toEqual(state);
      for (const { evidence, sure, sentence } of findings) {
        expect(sure).toBeGreaterThanOrEqual(0.5);
        expect(sure).toBeLessThanOrEqual(1);
        expect(sentence).toMatch(/^[A-Z].*\.$/);
        for (const { x, y } of evidence.series) {
          expect(x.length).toBe(y.length);
          expect(x.length).toBeLessThanOrEqual(64);
          expect([...x, ...y].every(Number.isFinite)).toBe(true);
        }
      }
    }
  });
});

/** Every reading of a run. */
function readingsOf(scenario: Scenario, turns: number): TraceReading[] {
  const readings: TraceReading[] = [];
  tracedRun(scenario, 'readings', { ...course, turns }, knowledgeOf(scenario), (_, { reading }) =>
    readings.push(reading),
  );
  return readings;
}

describe('the trace as a state', () => {
  it('keeps a bounded size: a run four times as long is no larger', () => {
    const size = (turns: number) => {
      let state = noTrace(knowledgeOf(oneRow));
      for (const reading of readingsOf(oneRow, turns)) state = addToTrace(state, reading);
      return JSON.stringify(state.mass).length;
    };
    expect(size(320)).toBeLessThan(1.3 * size(80));
  });

  it('goes on from a copy as from itself, and leaves what it was made from as it was', () => {
    const readings = readingsOf(sixRows, 6);
    const half = Math.floor(readings.length / 2);
    let state = noTrace(knowledgeOf(sixRows));
    for (const reading of readings.slice(0, half)) state = addToTrace(state, reading);
    const kept = JSON.stringify(state);
    let copy: TraceState = JSON.parse(kept);
    let own = state;
    for (const reading of readings.slice(half)) {
      copy = addToTrace(copy, reading);
      own = addToTrace(own, reading);
    }
    expect(copy).toEqual(own);
    expect(JSON.stringify(state)).toBe(kept);
  });

  it('makes nothing of a cell that tells nothing from the first', () => {
    let state = noTrace(knowledgeOf(sixRows));
    for (const reading of readingsOf(sixRows, 4)) {
      const cellGrams = reading.cellGrams.map((grams, cell) => (cell === 4 ? null : grams));
      state = addToTrace(state, { ...reading, cellGrams });
    }
    const kinds = traceFindings(state).filter(({ kind }) => !kind.startsWith('pulse-per'));
    expect(kinds.map(({ kind, cell }) => [kind, cell])).toEqual([['cell-dead', 4]]);
  });
});
