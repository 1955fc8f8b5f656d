import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { type IdealBoard, idealBoard } from '../../firmware-sim/ideal-board.ts';
import { PulseCounter } from '../../firmware-sim/pulse-counter.ts';
import type { World } from '../../firmware-sim/world.ts';
import type { Reading } from '../../server/link/readings.ts';
import { expectNear, variance } from './statistics.ts';

const settings = { pulsesPerTurn: 24, debounceMicros: 2500, direction: 1, warnPulses: 48 } as const;

function stand(scenario: Scenario, seed: number | string): { drill: Drill; board: IdealBoard } {
  const drill = createDrill(scenario, seed);
  return { drill, board: idealBoard(drill, settings) };
}

/** All readings until one fulfils `done`; at most two minutes of them. */
function readUntil(board: IdealBoard, done: (reading: Reading) => boolean): Reading[] {
  const readings: Reading[] = [];
  for (let i = 0; i < 9600; i++) {
    const reading = board.next();
    readings.push(reading);
    if (done(reading)) return readings;
  }
  throw new Error(`Not seen within ${readings.length} readings: ${JSON.stringify(readings.at(-1))}`);
}

const seconds = (count: number) => {
  let from = Number.NaN;
  return ({ boardMicros }: Reading) => {
    if (Number.isNaN(from)) from = boardMicros;
    return boardMicros - from >= count * 1e6;
  };
};

function start(board: IdealBoard, pulses: number, mode: 'motor' | 'hand' = 'motor'): void {
  const { ok, word } = board.arm(mode, pulses);
  expect(ok).toBe(true);
  expect(board.go(word)).toEqual({ ok: true, word: '' });
}

describe('a run by motor', () => {
  const { drill, board } = stand(oneRow, 'motor');
  const idle = readUntil(board, seconds(2));
  start(board, 240);
  const turning = readUntil(board, (r) => r.state === 'done');
  const resting = readUntil(board, seconds(5));

  it('reads 80 times a second or near it, each reading later than the one before', () => {
    const all = [...idle, ...turning, ...resting];
    expect(idle.length / 2).toBeGreaterThan(76);
    expect(idle.length / 2).toBeLessThan(84);
    expect(all.every((r, i) => i === 0 || r.boardMicros > all[i - 1]!.boardMicros)).toBe(true);
    expect(all.every((r, i) => i === 0 || r.sequence > all[i - 1]!.sequence)).toBe(true);
    expect(all.every((r) => Number.isInteger(r.boardMicros) && Number.isInteger(r.counts[0]))).toBe(true);
  });

  it('stops the motor at the preset count and counts on while the wheel coasts', () => {
    const first = idle.at(-1)!.forwardPulses;
    const last = resting.at(-1)!;
    expect(turning.at(-1)).toMatchObject({ state: 'done', why: 'preset', backwardPulses: 0 });
    expect(turning.at(-1)!.forwardPulses - first).toBe(240);
    expect(last.forwardPulses - first).toBeGreaterThan(243);
    expect(last.forwardPulses - first).toBeLessThan(260);
    expect(Math.abs(last.forwardPulses - first - 24 * drill.truth.turns())).toBeLessThan(1);
  });

  it('shows motor and lamp in its flags', () => {
    expect(idle.every((r) => r.flags === 0)).toBe(true);
    expect(turning.slice(0, -1).every((r) => (r.flags & 1) === 1)).toBe(true);
    expect(turning.at(-1)!.flags & 1).toBe(0);
    const lamp = (r: Reading) => (r.flags & 2) === 2;
    const near = turning.filter((r) => r.forwardPulses - idle.at(-1)!.forwardPulses >= 192);
    expect(turning.filter(lamp).every((r) => near.includes(r))).toBe(true);
    expect(near.some(lamp) && near.some((r) => !lamp(r))).toBe(true);
    expect(resting.filter(lamp).length).toBeGreaterThan(225);
    expect(lamp(resting.at(-1)!)).toBe(false);
  });

  it('tells the age of the newest pulse', () => {
    expect(idle[0]!.pulseAgeMicros).toBeNull();
    const spinning = turning.slice(200);
    expect(Math.max(...spinning.map((r) => r.pulseAgeMicros!))).toBeLessThan(70_000);
    expect(resting.at(-1)!.pulseAgeMicros).toBeGreaterThan(3_000_000);
  });

  it('is the same again under the same seed', () => {
    const again = stand(oneRow, 'motor').board;
    readUntil(again, seconds(2));
    start(again, 240);
    expect(readUntil(again, (r) => r.state === 'done')).toEqual(turning);
  });
});

describe('the preset count', () => {
  it('drops the motor within a millisecond of its last pulse', () => {
    const drill = createDrill({ ...oneRow, wheel: { ...oneRow.wheel, bounceSeconds: 0 } }, 'drop');
    let motorUntil = 0;
    const rises: number[] = [];
    const watched: World = {
      cells: 1,
      advance: (at, outputs) => {
        if (outputs.motor) motorUntil = at;
        const edges = drill.advance(at, outputs);
        rises.push(...edges.filter(({ a, b }) => a === 1 && b === 0).map((edge) => edge.seconds));
        return edges;
      },
      conversionPeriod: (cell) => drill.conversionPeriod(cell),
      convert: (cell, at) => drill.convert(cell, at),
      stopOpen: () => false,
    };
    const board = idealBoard(watched, settings);
    board.next();
    const before = board.next().forwardPulses;
    start(board, 100);
    readUntil(board, (r) => r.state === 'done');
    const preset = rises.filter((at) => at > 0)[before + 99]!;
    expect(motorUntil).toBeGreaterThanOrEqual(preset);
    expect(motorUntil - preset).toBeLessThanOrEqual(0.001 + 1e-9);
  });

  it('counts each run from its own start', () => {
    const { board } = stand(oneRow, 'twice');
    for (let i = 0; i < 2; i++) {
      const before = readUntil(board, seconds(4)).at(-1)!.forwardPulses;
      start(board, 48);
      const done = readUntil(board, (r) => r.state === 'done').at(-1)!;
      expect(done.forwardPulses - before).toBe(48);
    }
  });
});

describe('pulses', () => {
  it('are neither lost nor doubled by chatter, over many runs', () => {
    const errors = Array.from({ length: 40 }, (_, k) => {
      const { drill, board } = stand(oneRow, `count ${k}`);
      board.next();
      start(board, 120);
      readUntil(board, (r) => r.state === 'done');
      const last = readUntil(board, seconds(4)).at(-1)!;
      return last.forwardPulses - 24 * drill.truth.turns();
    });
    expect(errors.every((error) => Math.abs(error) < 1)).toBe(true);
    // Both ends of the way lie anywhere between two pulses: variance 1/6 of a pulse squared.
    expect(variance(errors)).toBeCloseTo(1 / 6, 1);
  });

  it('count only after quiet, as the wire protocol says', () => {
    const gaps = fc.array(fc.integer({ min: 1, max: 8000 }), { maxLength: 60 });
    fc.assert(
      fc.property(gaps, (micros) => {
        const counter = new PulseCounter(0.0025, 0);
        let [at, a, expected] = [1_000_000, 0 as 0 | 1, 0];
        micros.forEach((gap, i) => {
          at += gap;
          a = a === 0 ? 1 : 0;
          if (a === 1 && (i === 0 || gap >= 2500)) expected++;
          counter.see({ seconds: at / 1e6, a, b: 0 });
        });
        // A gap of just 2500 µs may fall to either side in binary seconds.
        fc.pre(!micros.includes(2500));
        expect(counter.forward).toBe(expected);
      }),
    );
  });

  it('go backward when line B says so, and the other way round with the sensor turned', () => {
    for (const [direction, b, forward] of [
      [1, 0, 1],
      [1, 1, 0],
      [2, 0, 0],
      [2, 1, 1],
      [0, 1, 1],
    ] as const) {
      const counter = new PulseCounter(0.001, direction);
      expect(counter.see({ seconds: 1, a: 1, b })).toBe(true);
      expect([counter.forward, counter.backward]).toEqual([forward, 1 - forward]);
    }
  });

  it('do not count a line that is high at power-up', () => {
    const counter = new PulseCounter(0.001, 0);
    expect(counter.see({ seconds: 0, a: 1, b: 0 })).toBe(false);
    expect(counter.forward).toBe(0);
  });
});

describe('commands', () => {
  it("refuse in the protocol's words", () => {
    const { drill, board } = stand(oneRow, 'words');
    expect(board.go('1')).toEqual({ ok: false, word: 'state' });
    for (const pulses of [0, -1, 1.5, 16_777_216, Number.NaN]) {
      expect(board.arm('motor', pulses)).toEqual({ ok: false, word: 'value' });
    }
    drill.pressStop();
    expect(board.arm('motor', 10)).toEqual({ ok: false, word: 'button' });
    drill.releaseStop();
    const old = board.arm('motor', 10).word;
    const { word } = board.arm('motor', 10);
    expect(word).not.toBe(old);
    expect(board.go(old)).toEqual({ ok: false, word: 'key' });
    expect(board.go(word).ok).toBe(true);
    expect(board.arm('motor', 10)).toEqual({ ok: false, word: 'state' });
  });

  it('stop a run, and do no harm at other times', () => {
    const { board } = stand(oneRow, 'stop');
    expect(board.stop().ok).toBe(true);
    expect(board.next().state).toBe('idle');
    start(board, 500);
    readUntil(board, seconds(5));
    board.stop();
    expect(board.next()).toMatchObject({ state: 'halted', why: 'host', flags: 0 });
  });
});

describe('what the board ends by itself', () => {
  it('the stop button', () => {
    const { drill, board } = stand(oneRow, 'button');
    start(board, 500);
    readUntil(board, seconds(5));
    drill.pressStop();
    const [, next] = [board.next(), board.next()];
    expect(next).toMatchObject({ state: 'halted', why: 'button', flags: 4 });
  });

  it('an arming that nobody starts', () => {
    const { board } = stand(oneRow, 'expired');
    board.arm('motor', 10);
    const readings = readUntil(board, (r) => r.state === 'halted');
    expect(readings.at(-1)!.why).toBe('expired');
    expectNear(readings.at(-1)!.boardMicros / 1e6, 30, 0.1);
  });

  it('a motor that turns nothing', () => {
    const stuck: Scenario = { ...oneRow, drive: { ...oneRow.drive, spinUpSeconds: 1e9 } };
    const { board } = stand(stuck, 'stuck');
    start(board, 500);
    const last = readUntil(board, (r) => r.state === 'halted').at(-1)!;
    expect(last).toMatchObject({ why: 'stalled', forwardPulses: 0 });
    expectNear(last.boardMicros / 1e6, 3, 0.1);
  });

  it('a wheel that runs backwards under the motor', () => {
    const { drill } = stand(oneRow, 'reverse');
    const board = idealBoard(drill, { ...settings, direction: 2 });
    start(board, 500);
    const last = readUntil(board, (r) => r.state === 'halted').at(-1)!;
    expect(last.why).toBe('reverse');
    expect(last.backwardPulses).toBeGreaterThanOrEqual(12);
    expect(last.backwardPulses).toBeLessThanOrEqual(13);
  });
});

describe('other stands', () => {
  it('by hand: the lamp ends it, the motor stays off, the totals hold the way too far', () => {
    const { drill, board } = stand(byHand, 'hand');
    start(board, 240, 'hand');
    drill.turnByHand();
    const turning = readUntil(board, (r) => r.state === 'done');
    const last = readUntil(board, seconds(6)).at(-1)!;
    expect(turning.every((r) => (r.flags & 1) === 0)).toBe(true);
    expect(last.forwardPulses).toBeGreaterThan(243);
    expect(last.forwardPulses).toBeLessThan(275);
    expect(drill.truth.turnsPerMinute()).toBe(0);
  });

  it('six cells: a reading waits for the slowest', () => {
    const { drill, board } = stand(sixRows, 'six');
    const slowest = Math.max(...[0, 1, 2, 3, 4, 5].map((cell) => drill.conversionPeriod(cell)));
    const readings = readUntil(board, seconds(20));
    expect(readings.length).toBeGreaterThan(0.98 * (20 / slowest));
    expect(readings.length).toBeLessThan(1.02 * (20 / slowest));
    expect(readings.every((r) => r.counts.length === 6 && !r.counts.includes(null))).toBe(true);
  });

  it('a cell that gives nothing: readings every tenth of a second, with a gap and a flag', () => {
    const drill = createDrill(sixRows, 'dead');
    const dead: World = {
      cells: 6,
      advance: (at, outputs) => drill.advance(at, outputs),
      conversionPeriod: (cell) => (cell === 2 ? Number.POSITIVE_INFINITY : drill.conversionPeriod(cell)),
      convert: (cell, at) => drill.convert(cell, at),
      stopOpen: () => false,
    };
    const board = idealBoard(dead, settings);
    const readings = readUntil(board, seconds(2));
    expect(readings.length).toBe(21);
    expect(readings.every((r) => r.counts[2] === null && r.counts[3] !== null && r.flags === 0x10)).toBe(
      true,
    );
  });
});
