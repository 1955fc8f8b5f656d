/** The stand on one clock, its pace, and its port as a binding for serialport's stream. */
import { setTimeout as pause } from 'node:timers/promises';
import { SerialPortStream } from '@serialport/stream';
import { describe, expect, it } from 'vitest';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import { StandBinding } from '../../firmware-sim/serial.ts';
import { pace, runAsFastAsItGoes } from '../../firmware-sim/stand.ts';
import { setUp } from './setup.ts';
import { Talk, wireLine } from './talk.ts';

const path = 'emulated';

function openStream(binding: StandBinding, baudRate = 115_200): Promise<SerialPortStream> {
  return new Promise((resolve, reject) => {
    const stream: SerialPortStream = new SerialPortStream({ binding, path, baudRate }, (error) =>
      error ? reject(error) : resolve(stream),
    );
  });
}

function textOf(stream: SerialPortStream): () => string {
  let text = '';
  stream.on('data', (bytes: Buffer) => {
    text += bytes.toString('latin1');
  });
  return () => text;
}

describe('the time of a stand', () => {
  it('is the sum of what it was advanced by, and its clock’s', () => {
    const { stand } = setUp();
    for (let n = 0; n < 1000; n++) stand.advance(0.0003);
    expect(stand.seconds).toBeCloseTo(0.5, 9);
    expect(stand.clock.now()).toBeCloseTo(500, 6);
  });

  it('fires the clock’s timers at their time, in the midst of an advance', () => {
    const { stand } = setUp();
    const start = stand.clock.now();
    const fired: number[] = [];
    const again = () => {
      fired.push(stand.clock.now() - start);
      stand.clock.after(250, again);
    };
    stand.clock.after(250, again);
    stand.advance(1.1);
    expect(fired.map((milliseconds) => Math.round(milliseconds * 1000) / 1000)).toEqual([
      250, 500, 750, 1000,
    ]);
  });

  it('gives up when what is waited for does not come', async () => {
    const { stand } = setUp();
    await expect(runAsFastAsItGoes(stand, () => false, 0.1)).rejects.toThrow('did not come within 0.1 s');
  });

  it('keeps to a multiple of the host’s, and stands still once stopped', async () => {
    const { stand } = setUp();
    const pacing = pace(stand, 0.5);
    await pause(300);
    await pacing.stop();
    const seconds = stand.seconds;
    expect(seconds).toBeGreaterThan(0.2);
    await pause(30);
    expect(stand.seconds).toBe(seconds);
  });

  it('does not spiral at a pace that no host can keep', async () => {
    const { stand } = setUp();
    const pacing = pace(stand, 100_000);
    let turns = 0;
    const count = setInterval(() => turns++, 1);
    while (pacing.secondsLost === 0) await pause(10);
    clearInterval(count);
    await pacing.stop();
    expect(turns).toBeGreaterThan(2);
  });

  it('gives up, once and for good, what it fell behind by while the host was busy', async () => {
    const { stand } = setUp();
    const start = stand.seconds;
    const begun = performance.now();
    const pacing = pace(stand);
    await pause(20);
    const busyUntil = performance.now() + 600;
    while (performance.now() < busyUntil);
    await pause(100);
    await pacing.stop();
    const hostSeconds = (performance.now() - begun) / 1000;
    expect(pacing.secondsLost).toBeGreaterThan(0.3);
    expect(stand.seconds - start + pacing.secondsLost).toBeLessThanOrEqual(hostSeconds);
  });

  it('stops and tells when a listener fails', async () => {
    const { stand } = setUp();
    stand.onBytes(() => {
      throw new Error('listener');
    });
    const told = await new Promise((resolve) => pace(stand, 1, resolve));
    expect(told).toEqual(new Error('listener'));
  });
});

describe('a board taken back to an earlier moment', () => {
  it('does again what it did', () => {
    const { stand } = setUp(6);
    const { board } = stand;
    stand.write(wireLine('7 get'));
    const restore = board.save();
    const run = () => {
      restore();
      board.run(board.cpu.cycles + 1_000_000);
      return Buffer.from(board.serial.read()).toString('latin1');
    };
    const first = run();
    expect(first).toContain(' 7 ok');
    expect(run()).toBe(first);
  });

  it('does the same in steps of a cycle as in one go', () => {
    const { stand } = setUp(6);
    const { board } = stand;
    stand.write(wireLine('7 get'));
    const restore = board.save();
    const run = (cycles: number) => {
      restore();
      const end = board.cpu.cycles + 500_000;
      while (board.cpu.cycles < end) board.run(Math.min(end, board.cpu.cycles + cycles));
      return [board.cpu.cycles, board.cpu.pc, ...board.cpu.data, ...board.serial.read()];
    };
    const inOneGo = run(500_000);
    expect(run(1)).toEqual(inOneGo);
    expect(run(1000)).toEqual(inOneGo);
  });
});

describe('the binding', () => {
  it('carries lines both ways, at the pace of the line', async () => {
    const { stand } = setUp();
    const stream = await openStream(new StandBinding(stand));
    const text = textOf(stream);
    stream.write(wireLine('41 id'));
    const start = stand.seconds;
    await runAsFastAsItGoes(stand, () => text().includes(' 41 ok'), 1);
    expect(stand.seconds - start).toBeLessThan(0.06);
    // 11520 bytes a second to the board; drain waits for the last of them.
    const before = stand.seconds;
    let drained = false;
    stream.write(Buffer.alloc(11_520, '\n'));
    stream.drain(() => {
      drained = true;
    });
    await runAsFastAsItGoes(stand, () => drained, 3);
    expect(stand.seconds - before).toBeGreaterThan(0.99);
    expect(stand.seconds - before).toBeLessThan(1.05);
    await new Promise((resolve) => stream.close(resolve));
  });

  it('loses what the board says while it is closed, and resets the board only when asked to', async () => {
    const { stand } = setUp();
    for (const dtrReset of [false, true]) {
      stand.advance(0.5);
      const stream = await openStream(new StandBinding(stand, { dtrReset }));
      const text = textOf(stream);
      await runAsFastAsItGoes(stand, () => /R .*\r\n/.test(text()), 1);
      expect(text().length).toBeLessThan(300);
      expect(text().includes('reset=E')).toBe(dtrReset);
      await new Promise((resolve) => stream.close(resolve));
    }
  });

  it('is lost with the cable: the stream closes as disconnected, and opens again once plugged in', async () => {
    const { stand } = setUp();
    const binding = new StandBinding(stand);
    const stream = await openStream(binding);
    textOf(stream);
    const closed = new Promise<{ disconnected: boolean }>((resolve) => stream.once('close', resolve));
    binding.unplug();
    expect((await closed).disconnected).toBe(true);
    expect(await binding.list()).toEqual([]);
    await expect(openStream(binding)).rejects.toThrow('No such file or directory');
    binding.plug();
    const again = await openStream(binding);
    const text = textOf(again);
    await runAsFastAsItGoes(stand, () => text().includes('\r\n'), 1);
    await new Promise((resolve) => again.close(resolve));
  });

  it('fails a write that waits when the cable is pulled', async () => {
    const { stand } = setUp();
    const binding = new StandBinding(stand);
    const port = await binding.open({ path, baudRate: 115_200 });
    const write = port.write(Buffer.alloc(10_000));
    binding.unplug();
    await expect(write).rejects.toThrow('unplugged');
    await expect(port.read(Buffer.alloc(1), 0, 1)).rejects.toThrow('unplugged');
  });

  it('opens once at a time, and only by its name', async () => {
    const { stand } = setUp();
    const binding = new StandBinding(stand);
    const port = await binding.open({ path, baudRate: 115_200 });
    await expect(binding.open({ path, baudRate: 115_200 })).rejects.toThrow('Cannot lock port');
    await port.close();
    await expect(binding.open({ path: '/dev/ttyUSB0', baudRate: 115_200 })).rejects.toThrow('No such file');
    expect((await binding.list()).map((info) => info.path)).toEqual([path]);
  });

  it('makes rubbish of a line at the wrong speed', async () => {
    const { stand } = setUp();
    const stream = await openStream(new StandBinding(stand), 57_600);
    const text = textOf(stream);
    stream.write(wireLine('9 id'));
    await runAsFastAsItGoes(stand, () => text().length > 2000, 2);
    expect(text()).not.toMatch(/R \d+|A \d+/);
    await new Promise((resolve) => stream.close(resolve));
  });
});

describe('an imagined drill on the stand', () => {
  it('is set up as its scenario states, and its turns are counted, bounces and all', () => {
    const { stand, drill } = createEmulatedStand(oneRow, 3);
    const talk = new Talk(stand);
    stand.advance(0.2);
    expect(talk.of('I')[0]?.join(' ')).toMatch(
      /settings=ok .* ppt=24 cells=1 direction=1 debounce=2500 arm=0$/,
    );
    talk.beat();
    talk.turn(5 * 24);
    stand.advance(12);
    expect(talk.now()).toMatchObject({ state: 'done', why: 'preset', backward: 0 });
    expect(Math.abs(talk.now().forward - 24 * drill.truth.turns())).toBeLessThanOrEqual(1);
    expect(drill.truth.turns()).toBeGreaterThan(5);
    expect(talk.health().bounced).toBeGreaterThan(100);
  });
});

describe('host code on the stand’s clock', () => {
  /** A host that beats, arms, starts and waits for the end, by way of the stream alone. */
  async function run(): Promise<{ text: string; seconds: number }> {
    const { stand } = createEmulatedStand(oneRow, 5);
    const stream = await openStream(new StandBinding(stand));
    let text = '';
    let started = false;
    let tag = 100;
    const beat = () => {
      stream.write(wireLine(`${tag++} beat`));
      stand.clock.after(250, beat);
    };
    stream.on('data', (bytes: Buffer) => {
      text += bytes.toString('latin1');
      const key = /A \d+ 1 ok (\d+)\*/.exec(text);
      if (key && !started) stream.write(wireLine(`2 go ${key[1]}`));
      started ||= key !== null;
    });
    stand.clock.after(300, beat);
    stand.clock.after(400, () => stream.write(wireLine('1 arm motor 48')));
    await runAsFastAsItGoes(stand, () => text.includes(' done preset '), 20);
    await new Promise((resolve) => stream.close(resolve));
    return { text, seconds: stand.seconds };
  }

  it('runs in step with it: twice the same, byte for byte', async () => {
    const first = await run();
    expect(await run()).toEqual(first);
    // Two turns at 45 a minute take 2.7 s, and the motor has to run up.
    expect(first.seconds).toBeGreaterThan(3);
    expect(first.seconds).toBeLessThan(5);
  });
});
