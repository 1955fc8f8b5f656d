import { describe, expect, it } from 'vitest';
import { type plan, ScriptedRun } from './script.ts';

/** A run of 10 turns at 6 g/m²: 30 g, at 3 g a turn. */
function turning(gramsPerTurn: number, seconds: number, turns: number, change: Partial<typeof plan> = {}) {
  const run = new ScriptedRun(change);
  run.gramsPerTurn = gramsPerTurn;
  run.shake = (second) => 0.02 * Math.sin(997 * second);
  run.started().read(seconds, turns);
  return run;
}

describe('while the wheel turns', () => {
  it('the run foretells what it will end with', () => {
    const { forecast, verdict } = turning(3, 8, 6).shown;
    expect(forecast!.turns).toBe(10);
    expect(forecast!.grams).toBeCloseTo(30, 0);
    expect(forecast!.gramsLow).toBeLessThan(30);
    expect(forecast!.gramsHigh).toBeGreaterThan(30);
    expect(forecast!.gramsPerSquareMetre).toBeCloseTo(6, 1);
    expect(verdict!.chanceInside).toBeGreaterThan(0.5);
  });

  it('a run that will miss is called, with the rule of proportion, and nothing acts by itself', () => {
    const run = turning(1.5, 8, 6);
    const { verdict, phase } = run.shown;
    expect(verdict!.kind).toBe('too-little');
    expect(verdict!.sentence).toMatch(/will end at 15.* where 30.* about 2\.0 times.*You may stop/);
    expect(phase).toBe('turning');
    expect(run.sent('stop')).toBe(0);
    expect(turning(4.5, 8, 6).shown.verdict!).toMatchObject({ kind: 'too-much' });
  });

  it('nothing is foretold before the wheel turns, nor after', () => {
    expect(new ScriptedRun().ready().shown).toMatchObject({ forecast: null, verdict: null });
    const run = turning(3, 8, 6);
    run.ended('done', 'preset').read(5);
    expect(run.shown).toMatchObject({ phase: 'finished', forecast: null, verdict: null });
  });
});

describe('the planned speed', () => {
  // 2.5 m to the turn: 1.875 m/s are 0.75 turns a second.
  const planned = { plannedSpeedMetresPerSecond: 1.875 };

  it('is not spoken of where the plan names none', () => {
    expect(turning(3, 8, 6).shown.speed).toBeNull();
  });

  it('shows where the speed lies and what share of the turns was on plan', () => {
    expect(turning(3, 8, 6, planned).shown.speed).toMatchObject({ now: 'on-plan' });
    expect(turning(3, 8, 6, planned).shown.speed!.shareOnPlan).toBeGreaterThan(0.9);
    const fast = turning(3, 4, 6, planned).shown.speed!;
    expect(fast.now).toBe('fast');
    expect(fast.shareOnPlan).toBeLessThan(0.1);
    expect(fast.lowTurnsPerMinute).toBeCloseTo(40.5, 6);
    expect(fast.highTurnsPerMinute).toBeCloseTo(49.5, 6);
  });
});

describe('the trace', () => {
  it('reads along: a wheel that turns while nothing falls is a finding of the run', () => {
    const run = turning(3, 6, 4.5);
    expect(run.shown.findings.filter(({ kind }) => kind === 'flow-stopped')).toEqual([]);
    run.gramsPerTurn = 0;
    run.read(4, 3);
    const found = run.shown.findings.find(({ kind }) => kind === 'flow-stopped');
    expect(found).toMatchObject({ spoils: true });
    expect(found!.from.turns).toBeGreaterThan(4);
    expect(found!.from.turns).toBeLessThan(6);
  });
});
