import { describe, expect, it } from 'vitest';
import { Stand } from './stand.ts';

const CYCLES_PER_MS = 16_000;

/** A small seeded generator (Numerical Recipes' linear congruence; from memory). */
function randomNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

describe('pulses', () => {
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
