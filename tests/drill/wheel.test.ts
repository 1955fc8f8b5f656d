import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createDrill } from '../../firmware-sim/drill/drill.ts';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { PulseSensor } from '../../firmware-sim/drill/wheel.ts';
import type { WheelEdge } from '../../firmware-sim/world.ts';
import { calm, edgesOf, motorOff, motorOn } from './runs.ts';
import { expectNear, mean, variance } from './statistics.ts';

const rises = (edges: readonly WheelEdge[]) =>
  edges.filter((edge, i) => edge.a === 1 && (i === 0 || edges[i - 1]!.a === 0));

/** A sensor of 10 pulses a turn moved at one turn a second from 0.05 turns to each of the places in turn. */
function follow(places: readonly number[], bounceSeconds = 0): WheelEdge[] {
  const sensor = new PulseSensor(
    { pulsesPerTurn: 10, duty: 0.5, bounceSeconds, directionSensor: true },
    randomStreams(1),
    0.05,
  );
  let at = 0.05;
  let seconds = 1;
  for (const place of places) {
    const way = place - at;
    const endSeconds = seconds + Math.abs(way);
    sensor.follow({ seconds, endSeconds, turns: at, speed: Math.sign(way), acceleration: 0 }, place);
    [at, seconds] = [place, endSeconds];
  }
  return sensor.take(seconds + 1);
}

describe('the pulse lines', () => {
  it('give the stated pulses for every turn, each in its place', () => {
    const drill = createDrill(calm, 'pulses');
    drill.advance(0, motorOff);
    const edges = drill.advance(30, motorOn);
    const turns = drill.truth.turns();
    expect(Math.abs(rises(edges).length - 24 * turns)).toBeLessThan(1);
  });

  it('say which way: forwards B is low when A rises, backwards it is high', () => {
    const forwards = follow([0.95]);
    const both = follow([0.95, 0.05]);
    const back = rises(both).slice(rises(forwards).length);
    expect(rises(forwards)).toHaveLength(9);
    expect(rises(forwards).every((edge) => edge.b === 0)).toBe(true);
    expect(back).toHaveLength(9);
    expect(back.every((edge) => edge.b === 1)).toBe(true);
  });

  it('stand as the wheel stands, wherever it has been: A high in the first half of a pulse, B a quarter behind', () => {
    const places = fc.array(fc.double({ min: -2, max: 3, noNaN: true }), { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(places, (walk) => {
        const pulses = walk.at(-1)! * 10;
        const part = pulses - Math.floor(pulses);
        // Just on an edge either level will do.
        fc.pre(Math.min(...[0, 0.25, 0.5, 0.75, 1].map((mark) => Math.abs(part - mark))) > 1e-6);
        const edges = follow(walk);
        const last = edges.at(-1) ?? { a: 0, b: 1 };
        expect([last.a, last.b]).toEqual([part < 0.5 ? 1 : 0, part > 0.25 && part < 0.75 ? 1 : 0]);
        expect(edges.every((edge, i) => i === 0 || edge.seconds >= edges[i - 1]!.seconds)).toBe(true);
      }),
    );
  });

  it('tell at time 0 how they stand at power-up', () => {
    const levels = new Set<string>();
    for (let seed = 0; seed < 60; seed++) {
      const first = createDrill(calm, seed).advance(0, motorOff);
      expect(first.length).toBeLessThan(2);
      levels.add(first.map(({ seconds, a, b }) => `${seconds}${a}${b}`).join());
    }
    expect([...levels].sort()).toEqual(['', '001', '010', '011']);
  });

  it('come in order of time, and on time when the wheel runs evenly', () => {
    const edges = edgesOf(oneRow, 'order', 20);
    expect(edges.every((edge, i) => i === 0 || edge.seconds >= edges[i - 1]!.seconds)).toBe(true);
    const even: Scenario = { ...calm, drive: { ...calm.drive, wander: 0 } };
    const times = rises(edgesOf(even, 'even', 20).filter((e) => e.seconds > 10 && e.seconds < 20)).map(
      (e) => e.seconds,
    );
    const gaps = times.slice(1).map((time, i) => time - times[i]!);
    expect(mean(gaps)).toBeCloseTo(60 / 45 / 24, 6);
    expect(Math.sqrt(variance(gaps))).toBeLessThan(1e-6);
  });
});

describe('chatter', () => {
  it('follows both edges of A, dies out in the stated time, and ends on the true level', () => {
    const clean = edgesOf(calm, 'chatter', 10);
    const chattering = edgesOf({ ...calm, wheel: { ...calm.wheel, bounceSeconds: 0.0015 } }, 'chatter', 10);
    expect(chattering.length).toBeGreaterThan(2 * clean.length);
    const aChanges = clean.filter((edge, i) => edge.a !== (i === 0 ? 0 : clean[i - 1]!.a));
    for (const edge of chattering) {
      const since = Math.min(
        ...clean.map((true_) => (true_.seconds <= edge.seconds ? edge.seconds - true_.seconds : 9)),
      );
      expect(since).toBeLessThanOrEqual(0.0015);
    }
    for (const { seconds, a } of aChanges) {
      const settled = chattering.filter((edge) => edge.seconds <= seconds + 0.0015).at(-1);
      expect(settled?.a).toBe(a);
    }
    const spikes = (level: 0 | 1) =>
      chattering.filter((edge, i) => i > 0 && edge.a === level && chattering[i - 1]!.a !== level).length;
    expect(spikes(0)).toBeGreaterThan(aChanges.length);
  });

  it('never outlives the next true edge', () => {
    const edges = follow([3.95], 0.2);
    expect(edges.length).toBeGreaterThan(160);
    expect(edges.every((edge, i) => i === 0 || edge.seconds >= edges[i - 1]!.seconds)).toBe(true);
  });
});

describe('the wheel', () => {
  it('runs up to its speed and keeps to it within its wander', () => {
    const drill = createDrill(oneRow, 'speed');
    drill.advance(0, motorOff);
    const speeds: number[] = [];
    for (let at = 0.1; at < 120; at += 0.1) {
      drill.advance(at, motorOn);
      if (at > 3) speeds.push(drill.truth.turnsPerMinute());
    }
    expectNear(mean(speeds), 45, 1);
    expect(Math.sqrt(variance(speeds)) / 45).toBeGreaterThan(0.005);
    expect(Math.sqrt(variance(speeds)) / 45).toBeLessThan(0.04);
  });

  it('coasts on by the stated turns once the motor drops', () => {
    const coasted = Array.from({ length: 300 }, (_, seed) => {
      const drill = createDrill({ ...oneRow, drive: { ...oneRow.drive, wander: 0 } }, seed);
      drill.advance(0, motorOff);
      drill.advance(10, motorOn);
      const before = drill.truth.turns();
      drill.advance(20, motorOff);
      expect(drill.truth.turnsPerMinute()).toBe(0);
      return drill.truth.turns() - before;
    });
    expectNear(mean(coasted), 0.4, 0.012);
    expectNear(Math.sqrt(variance(coasted)), 0.07, 0.009);
    expect(Math.min(...coasted)).toBeGreaterThan(0.15);
    expect(Math.max(...coasted)).toBeLessThan(0.65);
  });

  it('never moves by itself', () => {
    const drill = createDrill(oneRow, 'rest');
    drill.advance(0, motorOff);
    expect(drill.advance(1000, { motor: false, lamp: true })).toEqual([]);
    expect(drill.truth.turns()).toBe(0);
  });

  it('turned by hand runs unevenly, and stops some time after the lamp stays on', () => {
    const drill = createDrill(byHand, 'hand');
    drill.advance(1, motorOff);
    drill.turnByHand();
    const speeds: number[] = [];
    for (let at = 1; at < 21; at += 0.05) {
      drill.advance(at, { motor: false, lamp: at % 0.25 < 0.1 });
      if (at > 3) speeds.push(drill.truth.turnsPerMinute());
    }
    expect(mean(speeds)).toBeCloseTo(35, -1);
    expect(Math.max(...speeds) - Math.min(...speeds)).toBeGreaterThan(8);
    const before = drill.truth.turns();
    for (let at = 21; at < 30; at += 0.05) drill.advance(at, { motor: false, lamp: true });
    expect(drill.truth.turnsPerMinute()).toBe(0);
    expect(drill.truth.turns() - before).toBeGreaterThan(0.2);
    expect(drill.truth.turns() - before).toBeLessThan(1);
  });
});
