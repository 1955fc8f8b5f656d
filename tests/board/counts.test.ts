/** That the real firmware counts every pulse and reads every converter right. */
import { describe, expect, it } from 'vitest';
import { setUp } from './setup.ts';

describe('pulses', () => {
  it.each([1, 6])('none of them is lost at 2 kHz with %i cells and the host asking all the time', (cells) => {
    const { world, stand, talk } = setUp(cells);
    const pulses = 8000;
    world.planPulses(stand.seconds + 0.05, 2000, pulses);
    for (let n = 0; n < 82; n++) {
      talk.send(n % 2 ? 'get' : 'id');
      stand.advance(0.05);
    }
    const health = talk.health();
    expect(talk.now()).toMatchObject({ forward: pulses, backward: 0 });
    expect(health).toMatchObject({ bounced: 0, rxlost: 0, rxbad: 0 });
    expect(talk.damaged).toBe(0);
  });

  it('are counted by their direction', () => {
    const { world, stand, talk } = setUp();
    world.planPulses(stand.seconds, 500, 300, 0);
    world.planPulses(stand.seconds + 0.7, 500, 120, 1);
    stand.advance(1.2);
    expect(talk.now()).toMatchObject({ forward: 300, backward: 120 });
  });

  it('shorter after the edge before than the debounce are told as bounces', () => {
    const { world, stand, talk } = setUp(1, { debounceMicroseconds: 2000 });
    world.planPulses(stand.seconds, 1000, 50);
    world.planPulses(stand.seconds + 0.1, 50, 20);
    stand.advance(0.6);
    expect(talk.now().forward).toBe(21);
    expect(talk.health().bounced).toBeGreaterThanOrEqual(49);
  });
});

describe('converters', () => {
  it.each([1, 2, 3, 4, 5, 6])('%i of them are read to the last bit', (cells) => {
    const { world, stand, talk } = setUp(cells);
    const edges = [0, 1, -1, 8388607, -8388608, 0x555555, -0x555556, 84_000];
    for (let round = 0; round < edges.length; round++) {
      world.values.forEach((_, cell) => {
        world.values[cell] = edges[(round + cell) % edges.length]!;
      });
      stand.advance(0.1);
      expect(talk.now().counts).toEqual(world.values);
    }
    expect(talk.health()).toMatchObject({ late: 0, desync: 0 });
  });

  it('come about as often as the slowest of them converts', () => {
    const { stand, talk } = setUp(6);
    talk.forget();
    stand.advance(10);
    // Hertz 79.36 to 80.96; a conversion that falls into a reading is lost to that reading.
    expect(talk.readings().length / 10).toBeGreaterThan(77);
    expect(talk.readings().length / 10).toBeLessThan(80.1);
    expect(talk.readings().every(({ counts }) => !counts.includes(null))).toBe(true);
  });

  it('that give nothing are told as missing, and the others are still read', () => {
    const { world, stand, talk } = setUp(3);
    world.hertz[1] = 1e-6;
    stand.powerCycle();
    talk.forget();
    stand.advance(1);
    expect(talk.now().counts).toEqual([1000, null, 3000]);
    expect(talk.now().flags & 0x10).toBe(0x10);
    expect(talk.readings().length).toBeGreaterThan(15);
  });
});
