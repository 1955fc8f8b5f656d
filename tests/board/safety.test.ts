/** What the board does by itself, and what it never does: the real firmware against `hardware-notes/protocol.md`. */
import { describe, expect, it } from 'vitest';
import { eepromFor, Stand } from '../../firmware-sim/stand.ts';
import { PlainWorld } from './plain-world.ts';
import { setUp } from './setup.ts';
import { Talk } from './talk.ts';

/** Every change of the motor output, in seconds. */
function watchMotor(stand: Stand): { on: boolean; seconds: number }[] {
  const changes: { on: boolean; seconds: number }[] = [];
  stand.board.onMotor = (on, cycle) => changes.push({ on, seconds: cycle / 16e6 });
  return changes;
}

describe('the motor', () => {
  it('is dropped by the pulse that completes the preset, and what the wheel coasts is still counted', () => {
    const { world, stand, talk } = setUp();
    const changes = watchMotor(stand);
    talk.beat();
    talk.turn(50);
    const start = stand.seconds + 0.1;
    world.planPulses(start, 100, 60);
    stand.advance(1.5);
    expect(changes.map(({ on }) => on)).toEqual([true, false]);
    // The 50th pulse is 49 periods after the first.
    const late = changes[1]!.seconds - (start + 0.49);
    expect(late).toBeGreaterThan(0);
    expect(late).toBeLessThan(12.5e-6);
    expect(talk.now()).toMatchObject({ forward: 60, state: 'done', why: 'preset' });
  });

  it('goes off within 1.1 s once the host is silent, and the board says why', () => {
    for (let offset = 0; offset < 10; offset++) {
      const { world, stand, talk } = setUp();
      const changes = watchMotor(stand);
      talk.beat();
      talk.turn(1_000_000);
      world.planPulses(stand.seconds, 100, 300);
      stand.advance(0.4 + offset * 0.025);
      talk.fallSilent();
      // The last byte that is still on its way belongs to the host's last word.
      while (stand.board.serial.waiting > 0) stand.advance(0.0001);
      const silentSince = stand.seconds;
      stand.advance(2);
      expect(changes.map(({ on }) => on)).toEqual([true, false]);
      expect(changes[1]!.seconds - silentSince).toBeGreaterThan(0.7);
      expect(changes[1]!.seconds - silentSince).toBeLessThan(1.1);
      expect(talk.now()).toMatchObject({ state: 'halted', why: 'silent' });
    }
  });

  it.each([
    ['with interrupts off', false],
    ['with interrupts on', true],
  ])('goes off within 300 ms when the program hangs %s, and stays off after the reset', (_, interrupts) => {
    const { world, stand, talk } = setUp(6);
    talk.beat();
    talk.turn(1_000_000);
    world.planPulses(stand.seconds, 100, 300);
    stand.advance(0.5);
    expect(stand.board.motor).toBe(true);
    const changes = watchMotor(stand);
    const hungAt = stand.seconds;
    stand.board.hang(interrupts);
    talk.forget();
    stand.advance(1.5);
    expect(changes.map(({ on }) => on)).toEqual([false]);
    expect(changes[0]!.seconds - hungAt).toBeLessThan(0.3);
    expect(talk.of('I')[0]?.join(' ')).toContain('reset=W');
    expect(talk.now()).toMatchObject({ state: 'idle', why: '-', flags: 0 });
  });

  it('never starts at power-up, at a reset or when a host comes, whatever the wheel does', () => {
    for (const eeprom of [eepromFor({ debounceMicroseconds: 100 }), new Uint8Array(), new Uint8Array(1024)]) {
      const world = new PlainWorld(1);
      const stand = new Stand({ world, eeprom });
      const changes = watchMotor(stand);
      world.planPulses(0.001, 500, 1500);
      const talk = new Talk(stand);
      stand.advance(0.5);
      stand.reset();
      stand.advance(0.5);
      stand.powerCycle();
      stand.advance(0.5);
      talk.beat();
      talk.ask('id');
      talk.fallSilent();
      stand.advance(1.5);
      talk.ask('id');
      expect(changes).toEqual([]);
    }
  });

  it.each(['reset', 'powerCycle', 'hang'] as const)('does not start with a key from before a %s', (event) => {
    const { stand, talk } = setUp();
    const key = talk.ask('arm motor 100').slice(3);
    if (event === 'hang') stand.board.hang();
    else stand[event]();
    stand.advance(0.5);
    const changes = watchMotor(stand);
    expect(talk.ask(`go ${key}`)).toBe('no state');
    const newKey = talk.ask('arm motor 100').slice(3);
    expect(newKey).not.toBe(key);
    expect(talk.ask(`go ${key}`)).toBe('no key');
    expect(changes).toEqual([]);
    expect(talk.ask(`go ${newKey}`)).toBe('ok');
    expect(changes.map(({ on }) => on)).toEqual([true]);
  });

  it('goes off when the stop contact opens, at "!", at stop, when the wheel stalls and when it runs backwards', () => {
    const endings: [string, (setup: ReturnType<typeof setUp>) => void, number][] = [
      ['button', ({ world }) => (world.open = true), 0.05],
      ['host', ({ stand }) => stand.write(new TextEncoder().encode('!')), 0.002],
      ['host', ({ talk }) => talk.send('stop'), 0.05],
      ['stalled', () => {}, 3.2],
      ['reverse', ({ world, stand }) => world.planPulses(stand.seconds, 100, 31, 1), 0.4],
    ];
    for (const [why, end, seconds] of endings) {
      const setup = setUp();
      const { stand, talk } = setup;
      talk.beat();
      talk.turn(1000);
      expect(stand.board.motor).toBe(true);
      end(setup);
      stand.advance(seconds);
      expect(stand.board.motor, why).toBe(false);
      stand.advance(0.1);
      expect(talk.now()).toMatchObject({ state: 'halted', why });
    }
  });

  it('cannot be armed while the stop contact is open or the settings are not good', () => {
    const { world, stand, talk } = setUp();
    world.open = true;
    stand.advance(0.1);
    expect(talk.ask('arm motor 10')).toBe('no button');
    const blank = new Stand({ world: new PlainWorld(1) });
    const host = new Talk(blank);
    blank.advance(0.2);
    expect(host.ask('arm motor 10')).toBe('no settings');
  });
});

describe('the lamp', () => {
  it('announces the end of a turn by hand and then says that it is reached', () => {
    const { world, stand, talk } = setUp(1, { warnPulses: 20 });
    talk.turn(100, 'hand');
    world.planPulses(stand.seconds + 0.01, 100, 100);
    const lit: number[] = [];
    stand.onStep(() => {
      if (stand.board.lamp) lit.push(stand.seconds);
    });
    const start = stand.seconds;
    stand.advance(5);
    expect(stand.board.motor).toBe(false);
    expect(lit[0]! - start).toBeGreaterThan(0.79);
    expect(lit[0]! - start).toBeLessThan(1);
    // Steadily for 3 s after the last pulse, 1 s after the first.
    expect(lit.at(-1)! - start).toBeCloseTo(1 + 3, 1);
  });
});

describe('identical stimuli', () => {
  it('give identical bytes', () => {
    const run = () => {
      const { world, stand, talk } = setUp(6);
      talk.beat();
      talk.turn(200);
      world.planPulses(stand.seconds + 0.0123, 333, 250);
      stand.advance(2);
      return talk.bytes;
    };
    expect(run()).toEqual(run());
  });

  it('give identical bytes however the time is cut into slices', () => {
    const run = (slice: number) => {
      const { stand, talk } = setUp(6);
      for (let n = 0; n < 1 / slice - 1e-9; n++) stand.advance(slice);
      return talk.bytes;
    };
    expect(run(0.001)).toEqual(run(0.05));
  });
});
