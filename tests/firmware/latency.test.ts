import { describe, expect, it } from 'vitest';
import { Stand, sealed } from './stand.ts';

/** Longest from a pulse edge to the motor pin: 12.5 µs. */
const EDGE_TO_MOTOR = 200;
const CYCLES_PER_MS = 16_000;
/** What a reading of six converters takes at most, from its first clock pulse to its last; the sweep covers more. */
const SWEEP_CYCLES = 1600;

/** Commands without end, good ones that fill the transmitter and bad ones, at the full speed of the line. */
function saturate(stand: Stand): void {
  const flood = `${sealed('9 get')}\n${sealed('9 health')}\n${'9 beat*0000\n'.repeat(6)}${sealed('9 beat')}\n`;
  while (stand.board.serial.room > flood.length) stand.send(flood, '');
}

/** Ends the flood, and the line that it ends in. */
function quieten(stand: Stand): void {
  stand.board.serial.discardUnsent();
  stand.run(100);
  stand.send('');
  stand.run(100);
}

/** A stand with six cells whose motor turns, one pulse before its end, with both directions of the line full. */
function beforeTheLastPulse(): Stand {
  const stand = new Stand({ settings: { cells: 6, debounceMicroseconds: 100 } }).run(150);
  stand.start('motor', 1);
  saturate(stand);
  return stand.run(40);
}

/** Cycles from an edge `offset` cycles from now to the motor pin. */
function cyclesToMotor(stand: Stand, offset: number): number {
  const edge = stand.board.cpu.cycles + offset;
  stand.motorChanges.length = 0;
  stand.board.setWheelAt(edge, 1, 0);
  stand.board.run(edge + 400);
  expect(stand.motorChanges.map(({ on }) => on)).toEqual([false]);
  return stand.motorChanges[0]!.cycle - edge;
}

/** A small seeded generator (Numerical Recipes' linear congruence; from memory). */
function randomNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

describe('from a pulse edge to the motor pin, six cells and both directions of the line saturated', () => {
  it('takes at most 200 cycles at 10 000 random moments', () => {
    const stand = beforeTheLastPulse();
    const random = randomNumbers(7);
    const taken: number[] = [];
    // A hundred moments in each of a hundred milliseconds: from each moment the stand goes back to the start of its millisecond.
    for (let ms = 0; ms < 100; ms++) {
      if (stand.board.serial.waiting < 1500) saturate(stand);
      const back = stand.board.save();
      for (let n = 0; n < 100; n++) {
        taken.push(cyclesToMotor(stand, Math.floor(random() * CYCLES_PER_MS)));
        back();
      }
      stand.run(1);
    }
    taken.sort((a, b) => a - b);
    console.info(
      `edge to motor pin: median ${taken[5000]}, worst ${taken.at(-1)} cycles of ${taken.length} edges`,
    );
    expect(taken).toHaveLength(10_000);
    expect(taken[0]).toBeGreaterThan(50);
    expect(taken.at(-1)).toBeLessThanOrEqual(EDGE_TO_MOTOR);
    quieten(stand);
    expect(stand.health('rxlost')).toBeGreaterThan(0);
  }, 120_000);

  it('takes at most 200 cycles at every cycle of a converter reading', () => {
    const stand = beforeTheLastPulse();
    const { cpu } = stand.board;
    let back = stand.board.save();
    let clockedAt = 0;
    // The first clock pulse after now, found by letting the stand run ahead of a saved moment.
    const clockHigh = () => ((cpu.data[0x2b] as number) & 0x20) !== 0;
    while (!clockHigh()) {
      if (cpu.cycles % 64 === 0) back = stand.board.save();
      stand.board.run(cpu.cycles + 1);
    }
    clockedAt = cpu.cycles;
    back();
    const lead = clockedAt - cpu.cycles;
    let worst = 0;
    for (let offset = 0; offset < SWEEP_CYCLES; offset++) {
      worst = Math.max(worst, cyclesToMotor(stand, lead + offset));
      back();
    }
    console.info(
      `edge to motor pin: worst ${worst} cycles in a sweep of ${SWEEP_CYCLES} from the first clock pulse`,
    );
    expect(worst).toBeGreaterThan(74);
    expect(worst).toBeLessThanOrEqual(EDGE_TO_MOTOR);
  }, 120_000);
});

describe('pulses', () => {
  it('are all counted at 2 kHz, six cells and both directions of the line saturated', () => {
    const stand = new Stand({ settings: { cells: 6, debounceMicroseconds: 100 } }).run(150);
    const pulses = 4000;
    const end = stand.ms + stand.pulses(pulses, 2000) + 20;
    while (stand.ms < end) {
      saturate(stand);
      stand.run(20);
    }
    quieten(stand);
    expect(stand.last('R').slice(3, 5)).toEqual([String(pulses), '0']);
    expect(stand.health('bounced')).toBe(0);
  }, 120_000);

  it('count once each through bounce at both edges, in both directions', () => {
    const stand = new Stand({ settings: { cells: 1, debounceMicroseconds: 500, direction: 1 } }).run(150);
    const random = randomNumbers(11);
    let cycle = stand.board.cpu.cycles + 1000;
    for (let n = 0; n < 60; n++) {
      const b = n < 45 ? 0 : 1;
      for (const level of [1, 0] as const) {
        stand.board.setWheelAt(cycle, level, b);
        for (let bounce = 0; bounce < 4; bounce++) {
          cycle += Math.floor(random() * 6000) + 20; // up to 375 µs apart
          stand.board.setWheelAt(cycle, level ? 0 : 1, b);
          cycle += Math.floor(random() * 6000) + 20;
          stand.board.setWheelAt(cycle, level, b);
        }
        cycle += 3 * CYCLES_PER_MS;
      }
    }
    stand.run(cycle / CYCLES_PER_MS - stand.ms + 30);
    expect(stand.last('R').slice(3, 5)).toEqual(['45', '15']);
    expect(stand.health('bounced')).toBeGreaterThan(200);
  });

  it('are told apart by direction, and the other way round', () => {
    for (const [direction, expected] of [
      [0, ['5', '0']],
      [1, ['2', '3']],
      [2, ['3', '2']],
    ] as const) {
      const stand = new Stand({ settings: { cells: 1, direction } }).run(150);
      stand.run(stand.pulses(2, 100, 0));
      stand.run(stand.pulses(3, 100, 1) + 30);
      expect(stand.last('R').slice(3, 5)).toEqual(expected);
    }
  });

  it('make their age known, up to 10 s', () => {
    const stand = new Stand().run(150);
    expect(stand.last('R')[5]).toBe('9999999');
    stand.run(stand.pulses(1, 1000));
    const [, , , , , age] = stand.run(200).last('R');
    expect(Number(age)).toBeGreaterThan(180_000);
    expect(Number(age)).toBeLessThan(203_000);
    expect(stand.run(10_000).last('R')[5]).toBe('9999999');
  });
});
