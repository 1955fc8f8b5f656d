import { describe, expect, it } from 'vitest';
import { Stand, sealed } from './stand.ts';

/** How long the motor ran since `fromMs` until it stopped for good. */
function stoppedAfter(stand: Stand, fromMs: number): number {
  const last = stand.motorChanges.at(-1)!;
  expect(last.on).toBe(false);
  return last.ms - fromMs;
}

const motorStand = () => new Stand({ settings: { cells: 1, pulsesPerTurn: 36, warnPulses: 10 } }).run(150);

describe('the motor starts', () => {
  it('never by itself, at power-up, reset or watchdog', () => {
    const stand = motorStand().run(500);
    stand.board.reset();
    stand.run(500);
    stand.board.hang();
    stand.run(500);
    stand.board.powerCycle();
    stand.run(500);
    expect(stand.of('I')).toHaveLength(4);
    expect(stand.motorChanges).toEqual([]);
  });

  it('only with the key of the newest arming, and with no key of before a reset', () => {
    const stand = motorStand();
    const first = stand.command('arm motor 100').slice(3);
    const second = stand.command('arm motor 100').slice(3);
    expect(stand.command(`go ${first}`)).toBe('no key');
    stand.board.reset();
    stand.run(200);
    expect(stand.command(`go ${second}`)).toBe('no state');
    const third = stand.command('arm motor 100').slice(3);
    expect(new Set([first, second, third]).size).toBe(3);
    expect(stand.command(`go ${second}`)).toBe('no key');
    expect(stand.motorChanges).toEqual([]);
    expect(stand.command(`go ${third}`)).toBe('ok');
    expect(stand.board.motor).toBe(true);
  });

  it('not by hand, and not without good settings or with the stop open', () => {
    const byHand = motorStand();
    byHand.start('hand', 20);
    expect(byHand.motorChanges).toEqual([]);
    const blank = new Stand({ eeprom: new Uint8Array(), values: [1] }).run(150);
    expect(blank.command('arm motor 20')).toBe('no settings');
    const stopped = motorStand();
    stopped.board.setStopOpen(true);
    stopped.run(10);
    expect(stopped.command('arm motor 20')).toBe('no button');
    const later = motorStand();
    const key = later.command('arm motor 20').slice(3);
    later.board.setStopOpen(true);
    later.run(10);
    expect(later.command(`go ${key}`)).toBe('no state');
    expect(later.last('E').slice(3, 5)).toEqual(['halted', 'button']);
    expect([...stopped.motorChanges, ...later.motorChanges]).toEqual([]);
  });

  it('not when the stop character came in between', () => {
    const stand = motorStand();
    const key = stand.command('arm motor 20').slice(3);
    stand.send('!', '');
    expect(stand.command(`go ${key}`)).toBe('no state');
    expect(stand.last('E').slice(3, 5)).toEqual(['halted', 'host']);
    expect(stand.motorChanges).toEqual([]);
  });
});

describe('the stop character on the heels of go', () => {
  it('leaves no moment at which the motor starts after it', () => {
    const characterCycles = (10 * 16_000_000) / 115_200;
    for (let delay = 0; delay < 16_000; delay += 250) {
      const stand = motorStand();
      const key = stand.command('arm motor 20').slice(3);
      stand.run(delay / 16_000);
      const line = `${sealed(`500 go ${key}`)}\n!`;
      const stopped = stand.board.cpu.cycles + line.length * characterCycles;
      stand.send(line, '');
      stand.run(20);
      expect(stand.board.motor).toBe(false);
      for (const { on, cycle } of stand.motorChanges) if (on) expect(cycle).toBeLessThan(stopped + 150);
      expect(stand.run(80).state).toBe('halted host');
    }
  });
});

describe('the motor stops', () => {
  it('at the preset count, and coasting is counted', () => {
    const stand = motorStand();
    stand.start('motor', 40);
    stand.run(stand.pulses(47, 200) + 50);
    expect(stand.motorChanges.map(({ on }) => on)).toEqual([true, false]);
    const [, , time, state, why, forward, backward] = stand.last('E');
    expect([state, why, forward, backward]).toEqual(['done', 'preset', '40', '0']);
    expect(stand.last('R').slice(3, 5)).toEqual(['47', '0']);
    expect(stand.state).toBe('done preset');
    // board time begins a little after power-up, so only differences compare
    expect(Number(time)).toBeGreaterThan(Number(stand.of('E').at(-2)!.fields[2]) + 190_000);
  });

  it('at the first pulse of a preset of one', () => {
    const stand = motorStand();
    stand.start('motor', 1);
    stand.run(stand.pulses(1, 100) + 30);
    expect(stand.board.motor).toBe(false);
    expect(stand.last('E').slice(3)).toEqual(['done', 'preset', '1', '0']);
  });

  it('when the count is complete after going back, not at the same number of pulses', () => {
    const stand = new Stand({ settings: { cells: 1, pulsesPerTurn: 36, direction: 1 } }).run(150);
    stand.start('motor', 3);
    stand.run(stand.pulses(2, 200, 0));
    stand.run(stand.pulses(1, 200, 1));
    stand.run(stand.pulses(1, 200, 0));
    expect(stand.board.motor).toBe(true);
    stand.run(stand.pulses(1, 200, 0) + 30);
    expect(stand.board.motor).toBe(false);
    expect(stand.last('E').slice(3)).toEqual(['done', 'preset', '4', '1']);
  });

  it('for good: a run stopped one pulse before its end stays stopped when the wheel runs on', () => {
    const stand = motorStand();
    stand.start('motor', 5);
    stand.run(stand.pulses(4, 200));
    expect(stand.command('stop')).toBe('ok');
    stand.run(stand.pulses(3, 200) + 30);
    expect(stand.state).toBe('halted host');
    expect(stand.last('R').slice(3, 5)).toEqual(['7', '0']);
  });

  it('1 s after the last word of the host', () => {
    const stand = motorStand();
    stand.start('motor', 10_000);
    stand.pulses(300, 100);
    const spoken = stand.ms;
    stand.run(1500);
    const took = stoppedAfter(stand, spoken);
    expect(took).toBeGreaterThan(980);
    expect(took).toBeLessThan(1100);
    expect(stand.state).toBe('halted silent');
    expect(Number.parseInt(stand.last('R')[8]!, 16) & 0x08).toBe(0x08);
  });

  it('not while the host beats, by hand not even then', () => {
    const stand = motorStand();
    stand.start('motor', 10_000);
    stand.pulses(300, 100);
    stand.runWithHost(2900);
    expect(stand.board.motor).toBe(true);
    const byHand = motorStand();
    byHand.start('hand', 100);
    byHand.run(5000);
    expect(byHand.state).toBe('turning -');
  });

  it('when the stop contact opens, and not for a glitch', () => {
    const stand = motorStand();
    stand.start('motor', 10_000);
    stand.board.setStopOpen(true);
    stand.run(1);
    stand.board.setStopOpen(false);
    stand.run(20);
    expect(stand.board.motor).toBe(true);
    stand.board.setStopOpen(true);
    const opened = stand.ms;
    stand.run(100);
    expect(stoppedAfter(stand, opened)).toBeLessThan(8);
    expect(stand.state).toBe('halted button');
  });

  it('at the stop character within 100 cycles of its reception', () => {
    const stand = motorStand();
    stand.start('motor', 10_000);
    const before = stand.ms;
    stand.send('12 nonsense!', '');
    stand.run(10);
    // twelve characters at 115 200 baud take 1.042 ms
    const cyclesAfter = (stoppedAfter(stand, before) - (12 * 10 * 1000) / 115_200) * 16_000;
    expect(cyclesAfter).toBeLessThan(100);
    stand.run(100);
    expect(stand.state).toBe('halted host');
  });

  it('at the stop command, typed or not', () => {
    for (const typed of [true, false]) {
      const stand = motorStand();
      stand.start('motor', 10_000);
      if (typed) stand.send('stop', '\r');
      else expect(stand.command('stop')).toBe('ok');
      stand.run(50);
      expect(stand.board.motor).toBe(false);
      expect(stand.state).toBe('halted host');
    }
  });

  it('3 s after the last pulse', () => {
    const stand = motorStand();
    stand.start('motor', 10_000);
    stand.runWithHost(stand.pulses(50, 100));
    const last = stand.ms;
    stand.runWithHost(3500);
    const took = stoppedAfter(stand, last);
    expect(took).toBeGreaterThan(2900);
    expect(took).toBeLessThan(3100);
    expect(stand.state).toBe('halted stalled');
  });

  it('half a turn back from the furthest point', () => {
    const stand = new Stand({ settings: { cells: 1, pulsesPerTurn: 36, direction: 1 } }).run(150);
    stand.start('motor', 10_000);
    stand.runWithHost(stand.pulses(50, 200, 0));
    stand.runWithHost(stand.pulses(17, 200, 1) + 20);
    expect(stand.board.motor).toBe(true);
    stand.runWithHost(stand.pulses(1, 200, 1) + 20);
    expect(stand.board.motor).toBe(false);
    expect(stand.state).toBe('halted reverse');
    expect(stand.last('R').slice(3, 5)).toEqual(['50', '18']);
  });

  it('when the program hangs, interrupts on or off, within 150 ms', () => {
    for (const interrupts of [true, false]) {
      const stand = motorStand();
      stand.start('motor', 10_000);
      const hung = stand.ms;
      stand.board.hang(interrupts);
      stand.run(400);
      expect(stoppedAfter(stand, hung)).toBeLessThan(150);
      expect(stand.last('I')).toContain('reset=W');
      expect(stand.state).toBe('idle -');
    }
  });
});

describe('an arming', () => {
  it('runs out after 30 s', () => {
    const stand = motorStand();
    stand.command('arm motor 10');
    stand.runWithHost(29_800);
    expect(stand.state).toBe('armed -');
    stand.runWithHost(500);
    expect(stand.state).toBe('halted expired');
  });

  it('is refused while turning, and allowed in every other state', () => {
    const stand = motorStand();
    stand.start('motor', 2);
    expect(stand.command('arm motor 10')).toBe('no state');
    stand.run(stand.pulses(2, 100) + 20);
    expect(stand.state).toBe('done preset');
    expect(stand.command('arm hand 10')).toMatch(/^ok \d+$/);
    stand.command('stop');
    expect(stand.command('arm hand 10')).toMatch(/^ok \d+$/);
    expect(stand.command('arm hand 10')).toMatch(/^ok \d+$/);
  });
});

describe('the lamp', () => {
  it('beats during the last pulses and shines for 3 s after the end', () => {
    const stand = motorStand();
    stand.start('hand', 40);
    stand.run(stand.pulses(29, 100) + 5);
    const dark = lampSamples(stand, 600);
    expect(dark).toBe(0);
    stand.run(stand.pulses(1, 100) + 5);
    const beats = lampSamples(stand, 600);
    expect(beats).toBeGreaterThan(150);
    expect(beats).toBeLessThan(250);
    stand.run(stand.pulses(10, 100) + 5);
    expect(lampSamples(stand, 2900)).toBeGreaterThan(2890);
    stand.run(200);
    expect(lampSamples(stand, 600)).toBe(0);
  });
});

/** Milliseconds out of `ms` in which the lamp was on. */
function lampSamples(stand: Stand, ms: number): number {
  let on = 0;
  for (let n = 0; n < ms; n++) if (stand.run(1).board.lamp) on++;
  return on;
}
