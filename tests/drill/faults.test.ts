import { describe, expect, it } from 'vitest';
import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import { faultScenarios } from '../../firmware-sim/drill/fault-scenarios.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { idealBoard } from '../../firmware-sim/ideal-board.ts';
import type { Reading } from '../../server/link/readings.ts';
import { expectNear, mean, variance } from './statistics.ts';

interface Run {
  drill: Drill;
  readings: Reading[];
  /** True turns at each reading. */
  turns: number[];
  last: Reading;
}

/** Two seconds at rest, 25 turns by motor or by hand, eight seconds at rest. */
function run(scenario: Scenario, seed: string): Run {
  const drill = createDrill(scenario, seed);
  const board = idealBoard(drill, { pulsesPerTurn: 24, debounceMicros: 2500, direction: 1, warnPulses: 48 });
  const readings: Reading[] = [];
  const turns: number[] = [];
  const read = (until: (reading: Reading) => boolean) => {
    let reading: Reading;
    do {
      reading = board.next();
      readings.push(reading);
      turns.push(drill.truth.turns());
    } while (!until(reading) && readings.length < 12_000);
    return reading;
  };
  const after = (seconds: number) => {
    const end = (readings.at(-1)?.boardMicros ?? 0) + seconds * 1e6;
    return read((reading) => reading.boardMicros >= end);
  };
  after(2);
  board.go(board.arm(scenario.drive.hand === null ? 'motor' : 'hand', 600).word);
  drill.turnByHand();
  read((reading) => reading.state !== 'turning');
  return { drill, readings, turns, last: after(8) };
}

const preset = (name: string): Scenario => faultScenarios[name]!;
const runPreset = (name: string): Run => run(preset(name), name);

/** Mean grams that a cell shows over the readings that fulfil `during`. */
function grams({ readings, turns }: Run, during: (turns: number) => boolean, cell = 0): number {
  const counts = readings.filter((_, i) => during(turns[i]!)).map((reading) => reading.counts[cell]!);
  return (mean(counts) - oneRow.stated.zeroCount) / 1000;
}

const sound = run(oneRow, 'sound');
const bagGrams = oneRow.bag.emptyGrams;
/** Grams a turn between two places of a run. */
const slope = (of: Run, from: number, to: number, cell = 0) =>
  (grams(of, (t) => Math.abs(t - to) < 0.15, cell) - grams(of, (t) => Math.abs(t - from) < 0.15, cell)) /
  (to - from);

describe('seed that does not come', () => {
  it('the hopper runs empty: the flow starves and ends though the wheel turns', () => {
    const empty = runPreset('hopper-runs-empty');
    expect(empty.drill.truth.gramsMetered()).toBeGreaterThan(55);
    expect(empty.drill.truth.gramsMetered()).toBeLessThanOrEqual(60.2);
    expect(slope(empty, 2, 10)).toBeCloseTo(3.5, 0);
    expect(slope(empty, 23, 25)).toBeLessThan(0.5);
  });

  it('less head gives less seed: the slope falls', () => {
    // 12 % from 300 g to none: after 86 g some 3.4 %, too little to see in one run.
    const ratios = Array.from({ length: 24 }, (_, k) => {
      const { truth } = run(
        { ...preset('hopper-head'), hopper: { grams: 100, headEffect: 0.3, starvesBelowGrams: 1 } },
        `head ${k}`,
      ).drill;
      return truth.gramsCaught() / (truth.gramsPerTurn * truth.turns() * truth.runFactor);
    });
    // Mean of 1 - 0.3 x given / 100 along the way: the solution of g' = 3.47 (1 - 0.003 g) after 25.4 turns.
    const expected = (1 - Math.exp(-0.003 * 3.47 * 25.4)) / 0.003 / (3.47 * 25.4);
    expectNear(mean(ratios), expected, 0.01);
  });

  it('a mix separates: the small seed comes out at first, and less and less of it', () => {
    const separating = {
      ...preset('mix-separates'),
      hopper: { grams: 3000, headEffect: 0, starvesBelowGrams: 10 },
    };
    const drill = createDrill(separating, 'separates');
    drill.advance(0, { motor: false, lamp: false });
    const share = (from: { grams: number }[], to: readonly { grams: number }[]) => {
      const parts = to.map((now, i) => now.grams - (from[i]?.grams ?? 0));
      return parts[2]! / parts.reduce((sum, part) => sum + part, 0);
    };
    drill.advance(60, { motor: true, lamp: false });
    const early = drill.truth.seedsCaught().map((count) => ({ ...count }));
    drill.advance(300, { motor: true, lamp: false });
    const later = drill.truth.seedsCaught().map((count) => ({ ...count }));
    drill.advance(360, { motor: true, lamp: false });
    // Clover's 7 %, at about 0.08 kg and 0.86 kg given: 0.07 e^(-3 kg) against 0.93 e^(0.2 kg).
    expectNear(share([], early), 0.0555, 0.005);
    expectNear(share(later, drill.truth.seedsCaught()), 0.0048, 0.002);
  });

  it('a blocked tube: its own bag stops filling, its neighbours do not', () => {
    const blocked = runPreset('tube-blocks');
    const { truth } = blocked.drill;
    expect(slope(blocked, 12, 24, 2)).toBeCloseTo(0, 1);
    expect(slope(blocked, 12, 24, 3)).toBeGreaterThan(2.8);
    expect(truth.gramsCaught(2) / truth.gramsCaught(3)).toBeLessThan(0.5);
  });

  it('a bridge of three turns: the flow comes back', () => {
    const bridged = runPreset('flow-stops-a-while');
    expect(slope(bridged, 10.7, 12.8)).toBeLessThan(0.3);
    expect(slope(bridged, 14, 24)).toBeCloseTo(3.5, 0);
  });
});

describe('seed that comes unasked', () => {
  it('a leak runs while the wheel stands', () => {
    const { drill, readings } = runPreset('seed-leaks');
    const still = (from: number, to: number) =>
      mean(readings.filter((r) => r.boardMicros > from && r.boardMicros < to).map((r) => r.counts[0]!)) /
      1000;
    const end = readings.at(-1)!.boardMicros;
    const perSecond = (still(end - 1e6, end) - still(end - 5e6, end - 4e6)) / 4;
    expect(drill.truth.turnsPerMinute()).toBe(0);
    expect(perSecond).toBeGreaterThan(0.02);
    expect(perSecond).toBeLessThan(0.1);
  });
});

describe('hands on the bag', () => {
  it('a knock swings the reading and leaves the catch as it was', () => {
    const knocked = run(preset('bag-knocked'), 'sound');
    const at = knocked.turns.findIndex((turns) => turns >= 10);
    const swing = knocked.readings
      .slice(at, at + 20)
      .map((r, i) => (r.counts[0]! - sound.readings[at + i]!.counts[0]!) / 1000);
    expect(Math.max(...swing)).toBeGreaterThan(25);
    expect(Math.min(...swing)).toBeLessThan(-10);
    expect(knocked.last.counts).toEqual(sound.last.counts);
  });

  it('something laid on it adds its weight for good', () => {
    const leaned = run(preset('bag-leaned-on'), 'sound');
    expect(leaned.last.counts[0]! - sound.last.counts[0]!).toBeCloseTo(12_000, -2);
    expect(leaned.drill.truth.gramsCaught()).toBe(sound.drill.truth.gramsCaught());
  });

  it('a bag that touches the floor weighs too little beyond that', () => {
    const touching = run(preset('bag-touches'), 'sound');
    const caught = touching.drill.truth.gramsCaught();
    const shown = (touching.last.counts[0]! - oneRow.stated.zeroCount) / 1000 - bagGrams;
    expect(caught).toBe(sound.drill.truth.gramsCaught());
    expect(shown).toBeCloseTo(50 + 0.4 * (caught - 50), 0);
  });

  it('an emptied bag reads its tare again', () => {
    const drill = createDrill(oneRow, 'emptied');
    drill.advance(1, { motor: false, lamp: false });
    const before = drill.convert(0, 1);
    drill.advance(11, { motor: true, lamp: false });
    drill.advance(20, { motor: false, lamp: false });
    expect(drill.convert(0, 20) - before).toBeGreaterThan(20_000);
    drill.emptyBags();
    drill.advance(30, { motor: false, lamp: false });
    expect(Math.abs(drill.convert(0, 30) - before)).toBeLessThan(300);
    expect(drill.truth.gramsCaught()).toBe(0);
  });
});

describe('the cell and the bench', () => {
  it('a loose wire drives the converter to its end', () => {
    const { readings, turns } = runPreset('cell-loose');
    expect(
      readings.every(
        (r, i) => (r.counts[0] === 8_388_607) === turns[i]! >= 10 || Math.abs(turns[i]! - 10) < 0.02,
      ),
    ).toBe(true);
  });

  it('a shaken bench is seen with the wheel at rest', () => {
    const rest = ({ readings }: Run) =>
      Math.sqrt(variance(readings.slice(20, 150).map((r) => r.counts[0]!))) / 1000;
    expectNear(rest(runPreset('bench-shakes')), 1.5, 0.3);
    expect(rest(sound)).toBeLessThan(0.06);
  });
});

describe('the wheel and its sensor', () => {
  it('missed pulses: the wheel makes more turns than were counted', () => {
    const { drill, last } = runPreset('pulses-missed');
    expectNear(last.forwardPulses / 24 / drill.truth.turns(), 0.9, 0.035);
  });

  it('doubled pulses: it makes fewer', () => {
    const { drill, last } = runPreset('pulses-doubled');
    expectNear(last.forwardPulses / 24 / drill.truth.turns(), 1.1, 0.035);
  });

  it('a wheel that rolls back is counted backwards', () => {
    const { drill, last } = runPreset('wheel-rolls-back');
    expect(last.backwardPulses).toBeGreaterThanOrEqual(5);
    expect(last.backwardPulses).toBeLessThanOrEqual(7);
    expect(Math.abs(last.forwardPulses - last.backwardPulses - 24 * drill.truth.turns())).toBeLessThan(1.6);
    expect(drill.truth.turnsPerMinute()).toBe(0);
  });

  it('a jammed wheel stops, and the board gives up on it', () => {
    const { drill, last } = runPreset('wheel-jams');
    expect(last).toMatchObject({ state: 'halted', why: 'stalled' });
    expect(drill.truth.turns()).toBeGreaterThan(10);
    expect(drill.truth.turns()).toBeLessThan(10.2);
  });

  it('the stop button ends the run and is let go again', () => {
    const { last, readings } = runPreset('stop-pressed');
    expect(last).toMatchObject({ state: 'halted', why: 'button' });
    expect(readings.some((r) => (r.flags & 4) === 4)).toBe(true);
    const drill = createDrill(preset('stop-pressed'), 1);
    drill.advance(0, { motor: false, lamp: false });
    drill.advance(30, { motor: true, lamp: false });
    expect(drill.stopOpen()).toBe(true);
    drill.advance(60, { motor: false, lamp: false });
    expect(drill.stopOpen()).toBe(false);
  });

  it('an unsteady hand shows in the speed and not in the catch', () => {
    const speeds = ({ readings }: Run) => {
      const pulses = readings.filter((r, i) => i > 0 && r.forwardPulses > readings[i - 1]!.forwardPulses);
      const gaps = pulses.slice(60, 500).map((r, i) => r.boardMicros - pulses[i + 59]!.boardMicros);
      return Math.sqrt(variance(gaps)) / mean(gaps);
    };
    const uneven = runPreset('uneven-hand');
    expect(speeds(uneven)).toBeGreaterThan(1.5 * speeds(run(byHand, 'hand')));
    const { truth } = uneven.drill;
    const expected = truth.gramsPerTurn * truth.turns() * truth.runFactor;
    expect(Math.abs(truth.gramsCaught() - expected) / Math.sqrt(expected * truth.lumpGrams)).toBeLessThan(3);
  });
});

describe('faults', () => {
  it('leave a run untouched until they begin', () => {
    const late: Scenario = {
      ...oneRow,
      faults: [
        { kind: 'wheel-jams', afterTurns: 1000 },
        { kind: 'leak', cell: 0, gramsPerSecond: 1, afterTurns: 1000 },
      ],
    };
    expect(run(late, 'sound').readings).toEqual(sound.readings);
  });

  it('are the same again under the same seed', () => {
    for (const name of ['pulses-missed', 'seed-leaks', 'bench-shakes']) {
      expect(run(preset(name), 'again').readings).toEqual(run(preset(name), 'again').readings);
    }
  });
});
