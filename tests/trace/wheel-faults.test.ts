import { describe, expect, it } from 'vitest';
import type { Fault } from '../../firmware-sim/drill/faults.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { calm, edgesOf } from '../drill/runs.ts';

/** The imagined wheel's sick magnets, edge by edge: about 20 turns of 24 magnets at 45 turns a minute. */
const seconds = 27;

function rises(change: Partial<Scenario>): number[] {
  const scenario = { ...calm, drive: { ...calm.drive, wander: 0 }, ...change };
  const edges = edgesOf(scenario, 'magnets', seconds).filter((edge) => edge.seconds > 5 && edge.seconds < 26);
  return edges
    .filter((edge, index) => index > 0 && edge.a === 1 && edges[index - 1]!.a === 0)
    .map((e) => e.seconds);
}

const waits = (times: number[]) => times.slice(1).map((time, index) => time - times[index]!);
const share = (all: number[], of: (wait: number) => boolean) => all.filter(of).length / all.length;
const usual = 60 / 45 / 24;
const ill = (fault: Fault) => waits(rises({ faults: [fault] }));
const near = (value: number) => (wait: number) => Math.abs(wait / usual - value) < 0.03;

describe('magnets of the imagined wheel', () => {
  it('a sound wheel gives a pulse every 24th of a turn', () => {
    expect(share(waits(rises({})), near(1))).toBe(1);
  });

  it('a missing one leaves a gap of two spacings, once every 23 pulses', () => {
    const all = ill({ kind: 'magnet-missing', magnet: 5, afterTurns: 0 });
    expect(share(all, near(2))).toBeCloseTo(1 / 23, 2);
    expect(share(all, near(1))).toBeCloseTo(22 / 23, 2);
  });

  it('a cracked one gives a second pulse at its place on the wheel, once every 25 pulses', () => {
    const all = ill({ kind: 'magnet-doubled', magnet: 5, behind: 0.3, afterTurns: 0 });
    expect(share(all, near(0.3))).toBeCloseTo(1 / 25, 2);
    expect(share(all, near(0.7))).toBeCloseTo(1 / 25, 2);
  });

  it('a late one comes late, and costs no pulse', () => {
    const all = ill({ kind: 'magnet-late', magnet: 5, by: 0.2, afterTurns: 0 });
    expect(share(all, near(1.2))).toBeCloseTo(1 / 24, 2);
    expect(share(all, near(0.8))).toBeCloseTo(1 / 24, 2);
  });

  it('magnets off their place keep that place turn after turn', () => {
    const all = waits(rises({ wheel: { ...calm.wheel, placementSpread: 0.03 } }));
    const spread = Math.sqrt(all.reduce((sum, wait) => sum + (wait / usual - 1) ** 2, 0) / all.length);
    // Differences of two places, each with a spread of 0.03.
    expect(spread).toBeGreaterThan(0.025);
    expect(spread).toBeLessThan(0.06);
    expect(all.slice(24).every((wait, index) => Math.abs(wait - all[index]!) < 0.01 * usual)).toBe(true);
  });
});
