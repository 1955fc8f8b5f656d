import { afterEach, describe, expect, it } from 'vitest';
import { PaperBench } from './bench.ts';

let bench: PaperBench;

afterEach(async () => {
  expect(await bench.end()).toBe(0);
  for (const cable of bench.cables.values()) expect(cable.openNow).toBe(0);
});

describe('what is on the port', () => {
  it('is another device: says so, stays off its wire, and leaves it to the user', async () => {
    bench = new PaperBench();
    bench.cable.deliver(Buffer.from(''));
    const gps = bench.lay('/dev/ttyB', null);
    bench.link.choose('/dev/ttyB');
    bench.link.start();
    await bench.until(() => bench.view.condition === 'asking');
    for (let i = 0; i < 40; i++) {
      gps.deliver(Buffer.from('$GPRMC,123519,A,4807.038,N*6A\r\n'));
      await bench.pass(100);
    }
    expect(bench.view).toMatchObject({ condition: 'wrong-device', path: '/dev/ttyB', board: null });
    expect(bench.view.sentence).toContain('not a Catchbench stand');
    expect(bench.heard.lines).toEqual([]);
    bench.link.choose('/dev/ttyA');
    await bench.until(() => bench.view.condition === 'connected');
  });

  it('is nothing that answers: says so, and takes the stand when it gets its power', async () => {
    bench = new PaperBench();
    bench.board.mute = true;
    bench.link.start();
    await bench.until(() => bench.view.condition === 'wrong-device');
    expect(bench.view.sentence).toContain('nothing answers');
    await bench.pass(30_000);
    bench.board.mute = false;
    bench.board.reset();
    await bench.until(() => bench.view.condition === 'connected', 100);
  });

  it('is a stand of another version: says which, and takes none of its lines', async () => {
    bench = new PaperBench({ protocol: 2 });
    bench.link.start();
    await bench.until(() => bench.view.condition === 'wrong-version');
    await bench.pass(5000);
    expect(bench.view.sentence).toMatch(/version 2 .* version 1.*Update this program/);
    expect(bench.heard.lines).toEqual([]);
    expect(await bench.link.send({ command: 'arm', mode: 'motor', pulses: 10 })).toMatchObject({
      failure: 'not-connected',
    });
  });

  it('is a board that starts anew when its port is opened and speaks two seconds later', async () => {
    bench = new PaperBench();
    bench.board.mute = true;
    bench.link.start();
    await bench.pass(2000);
    bench.board.mute = false;
    bench.board.reset();
    await bench.until(() => bench.view.condition === 'connected', 100);
    expect(bench.heard.conditions).toEqual(['opening', 'asking', 'connected']);
  });

  it.each([
    ['Error Resource temporarily unavailable Cannot lock port', 'Another program'],
    ['Error: Permission denied, cannot open /dev/ttyA', 'dialout'],
    ['Error: No such file or directory, cannot open /dev/ttyA', 'no port /dev/ttyA'],
    ['Opening COM3: Access denied', 'Another program'],
    ['Error: Input/output error, cannot open /dev/ttyA', 'Plug it in again'],
    ['Something quite new', 'Something quite new'],
  ])('will not open (%s): says why and tries again until it does', async (words, part) => {
    bench = new PaperBench();
    bench.cable.openFault = words;
    bench.link.start();
    await bench.until(() => bench.view.condition === 'lost');
    expect(bench.view.sentence).toContain(part);
    await bench.pass(10_000);
    expect(bench.heard.conditions).toEqual(['opening', 'lost']);
    bench.cable.openFault = null;
    await bench.until(() => bench.view.condition === 'connected', 2500);
  });

  it('has a path that no port can have: a sentence, not a crash', async () => {
    bench = new PaperBench({ path: '' });
    bench.link.start();
    await bench.until(() => bench.view.condition === 'lost');
    expect(bench.view.sentence).toContain('could not be used');
  });

  it('is found by itself where it is the only one', async () => {
    bench = new PaperBench({ path: null, ports: ['/dev/ttyA'] });
    await bench.connect();
    expect(bench.view.path).toBe('/dev/ttyA');
  });
});

describe('a command', () => {
  it('is asked again once, under a new tag, when no answer comes, and then given up', async () => {
    bench = await new PaperBench().connect();
    bench.taken();
    bench.board.deafTo.add('arm');
    const result = bench.link.send({ command: 'arm', mode: 'motor', pulses: 10 });
    await bench.pass(600);
    expect(await result).toMatchObject({
      ok: false,
      failure: 'no-answer',
      sentence: expect.stringMatching(/stand/),
    });
    expect(bench.taken()).toEqual(['arm motor 10', 'arm motor 10']);
  });

  it('go is never written twice', async () => {
    bench = await new PaperBench().connect();
    bench.taken();
    bench.board.deafTo.add('go');
    const result = bench.link.send({ command: 'go', key: '101' });
    await bench.pass(5000);
    expect(await result).toMatchObject({ failure: 'no-answer' });
    expect(bench.taken()).toEqual(['go 101']);
  });

  it('waits for the answer to the one before', async () => {
    bench = await new PaperBench().connect();
    bench.taken();
    bench.board.deafTo.add('health');
    const first = bench.link.send({ command: 'health' });
    const second = bench.link.send({ command: 'arm', mode: 'hand', pulses: 5 });
    await bench.pass(400);
    expect(bench.taken()).toEqual(['health', 'health']);
    await bench.pass(200);
    expect(bench.taken()).toEqual(['arm hand 5']);
    expect(await first).toMatchObject({ ok: false });
    expect(await second).toMatchObject({ ok: true, word: '101' });
  });

  it('is refused when too many wait, and when it could never be right', async () => {
    bench = await new PaperBench().connect();
    bench.board.deafTo.add('health');
    const results = Array.from({ length: 20 }, () => bench.link.send({ command: 'health' }));
    expect(await results.at(-1)).toMatchObject({ ok: false, failure: 'too-many' });
    expect(await bench.link.send({ command: 'arm', mode: 'motor', pulses: 0 })).toMatchObject({
      failure: 'invalid',
      sentence: expect.stringContaining('16777215'),
    });
    await bench.pass(10_000);
  });

  it('of an earlier connection reaches nobody', async () => {
    bench = await new PaperBench().connect();
    bench.board.deafTo = new Set(['arm', 'go']);
    const before = [
      bench.link.send({ command: 'arm', mode: 'motor', pulses: 10 }),
      bench.link.send({ command: 'go', key: '101' }),
    ];
    await bench.pass(20);
    bench.cable.unplug();
    await bench.until(() => bench.view.condition === 'lost');
    for (const result of before) expect(await result).toMatchObject({ failure: 'not-connected' });
    bench.taken();
    bench.cable.plugged = true;
    await bench.until(() => bench.view.condition === 'connected');
    await bench.pass(3000);
    expect(bench.taken().filter((command) => /arm|go/.test(command))).toEqual([]);
  });

  it('save has the settings read again before it is done', async () => {
    bench = await new PaperBench().connect();
    bench.board.settings.set('slope1', '123000');
    const saved = bench.link.send({ command: 'save' });
    await bench.pass(500);
    expect(await saved).toMatchObject({ ok: true });
    expect(bench.link.standFacts()?.cells[0]?.gramsPerCount).toBe(123000e-9);
  });
});

describe('stop', () => {
  it('is written at once, its one character first, while another command waits for its answer', async () => {
    bench = await new PaperBench().connect();
    bench.taken();
    bench.board.deafTo.add('get');
    void bench.link.send({ command: 'get' });
    await bench.pass(1);
    const result = bench.link.stopNow();
    await bench.pass(1);
    expect(bench.taken()).toEqual(['get', '!', 'stop']);
    expect(await result).toEqual({ ok: true, word: '' });
  });

  it('overtakes what waits or is in the air, which is not tried again', async () => {
    bench = await new PaperBench().connect();
    bench.taken();
    bench.board.deafTo.add('arm');
    const results = [
      bench.link.send({ command: 'arm', mode: 'motor', pulses: 10 }),
      bench.link.send({ command: 'go', key: '101' }),
    ];
    await bench.pass(1);
    void bench.link.send({ command: 'stop' });
    await bench.pass(5000);
    for (const result of results) expect(await result).toMatchObject({ failure: 'overtaken' });
    expect(bench.taken()).toEqual(['arm motor 10', '!', 'stop']);
  });

  it('is written again, four times in all, until the board has answered', async () => {
    bench = await new PaperBench().connect();
    bench.taken();
    bench.board.deafTo.add('stop');
    const result = bench.link.stopNow();
    await bench.pass(600);
    bench.board.deafTo.clear();
    await bench.pass(250);
    expect(await result).toMatchObject({ ok: true });
    expect(bench.taken()).toEqual(['!', 'stop', '!', 'stop', '!', 'stop', '!', 'stop']);
  });

  it('works again after one that failed', async () => {
    bench = await new PaperBench().connect();
    bench.board.deafTo.add('stop');
    const failed = bench.link.stopNow();
    await bench.pass(1100);
    expect(await failed).toMatchObject({ failure: 'no-answer' });
    bench.board.deafTo.clear();
    const again = bench.link.stopNow();
    await bench.pass(10);
    expect(await again).toMatchObject({ ok: true });
  });

  it('goes out also while the board has been silent for a moment', async () => {
    bench = await new PaperBench().connect();
    bench.board.mute = true;
    await bench.until(() => bench.view.condition === 'silent');
    bench.taken();
    void bench.link.stopNow();
    await bench.pass(1);
    expect(bench.taken()).toEqual(['!', 'stop']);
  });
});

describe('stop on a port whose stand is not understood any more', () => {
  it.each(['asking', 'wrong-device'])('goes out while %s, by its one character', async (condition) => {
    bench = await new PaperBench().connect();
    bench.cable.unplug();
    await bench.until(() => bench.view.condition === 'lost');
    bench.board.mute = true;
    bench.cable.plugged = true;
    await bench.until(() => bench.view.condition === 'asking');
    bench.cable.deliver(Buffer.from('%%%\r\n'));
    await bench.until(() => bench.view.condition === condition, 5000);
    bench.taken();
    expect(await bench.link.stopNow()).toMatchObject({ failure: 'not-connected' });
    expect(bench.taken()).toEqual(['!']);
  });
});

describe('what goes wrong on the way', () => {
  it('a failed write: the port object is dropped and a new one takes its place', async () => {
    bench = await new PaperBench().connect();
    bench.cable.writeFault = 'Input/output error, cannot write';
    await bench.until(() => bench.view.condition === 'lost');
    bench.cable.writeFault = null;
    await bench.until(() => bench.view.condition === 'connected');
    expect(bench.cable.opened).toBe(2);
    expect(bench.cable.openMost).toBe(1);
  });

  it('silence: said after half a second, a new port after two', async () => {
    bench = await new PaperBench().connect();
    bench.board.mute = true;
    await bench.pass(600);
    expect(bench.view.condition).toBe('silent');
    expect(await bench.link.send({ command: 'health' })).toMatchObject({ failure: 'not-connected' });
    await bench.pass(1600);
    expect(bench.view.condition).toBe('lost');
    expect(bench.view.sentence).toContain('silent');
    bench.board.mute = false;
    await bench.until(() => bench.view.condition === 'connected');
    expect(bench.cable.openMost).toBe(1);
  });

  it('lost lines are counted', async () => {
    bench = await new PaperBench().connect();
    bench.board.skip(5);
    await bench.pass(100);
    expect(bench.link.figures().missed).toBe(5);
  });

  it('a reset whose identity was lost is noticed by the counters, and the board asked who it is', async () => {
    bench = await new PaperBench().connect();
    await bench.pass(1000);
    bench.board.mute = true;
    bench.board.reset();
    bench.board.mute = false;
    await bench.pass(200);
    expect(bench.heard.boots.map((identity) => identity.boot)).toEqual([8]);
    expect(bench.view).toMatchObject({ condition: 'connected', board: { boot: 8 } });
    expect(bench.link.figures().refused.restarted).toBe(1);
    const readings = bench.heard.readings;
    const place = readings.findIndex(
      (reading, i) => i > 0 && reading.boardMicros < readings[i - 1]!.boardMicros,
    );
    const identityPlace = bench.heard.lines.findIndex((line) => line.kind === 'identity' && line.boot === 8);
    expect(bench.heard.lines.indexOf(readings[place]!)).toBeGreaterThan(identityPlace);
  });

  it('a reset fails what was in the air, and the settings are read anew', async () => {
    bench = await new PaperBench().connect();
    bench.board.deafTo.add('health');
    const result = bench.link.send({ command: 'health' });
    await bench.pass(1);
    bench.board.settings.set('slope1', '4321');
    bench.board.reset();
    await bench.pass(1);
    expect(await result).toMatchObject({ failure: 'not-connected' });
    await bench.pass(200);
    expect(bench.link.standFacts()?.cells[0]?.gramsPerCount).toBe(4321e-9);
    expect(bench.taken().filter((command) => command === 'get')).toHaveLength(2);
  });

  it('a cable out while Stop waits for its answer: said at once', async () => {
    bench = await new PaperBench().connect();
    bench.board.deafTo.add('stop');
    const result = bench.link.stopNow();
    await bench.pass(1);
    bench.cable.unplug();
    await bench.pass(10);
    expect(await result).toMatchObject({ failure: 'not-connected' });
  });

  it('after an outage nothing is handed on, and no facts are known, until the board has said who it is', async () => {
    bench = await new PaperBench().connect();
    bench.cable.unplug();
    await bench.until(() => bench.view.condition === 'lost');
    bench.board.deafTo.add('get');
    bench.board.shy = true;
    const before = bench.heard.lines.length;
    bench.cable.plugged = true;
    await bench.until(() => bench.view.condition === 'asking');
    await bench.pass(1000);
    expect(bench.heard.lines.length).toBe(before);
    bench.board.shy = false;
    await bench.until(() => bench.view.condition === 'connected');
    expect(bench.link.settings()).toBeNull();
    expect(bench.link.standFacts()).toBeNull();
  });

  it('a board that comes back with firmware of another version is taken no further', async () => {
    bench = await new PaperBench().connect();
    bench.board.protocol = 2;
    bench.board.reset();
    await bench.pass(1);
    const before = bench.heard.lines.length;
    await bench.pass(1000);
    expect(bench.view.condition).toBe('wrong-version');
    expect(bench.heard.lines.length).toBe(before);
  });

  it("another stand's settings never fill the gaps in this one's", async () => {
    bench = await new PaperBench().connect();
    bench.cable.unplug();
    await bench.until(() => bench.view.condition === 'lost');
    bench.board.name = 'other';
    bench.board.settings.delete('zero2');
    bench.cable.plugged = true;
    await bench.until(() => bench.view.condition === 'connected');
    await bench.pass(1000);
    expect(bench.link.standFacts()).toBeNull();
  });

  it('half a line before an outage does not meet the rest of another after it', async () => {
    bench = await new PaperBench().connect();
    bench.cable.deliver(Buffer.from('R 1 2 3'));
    await bench.pass(1);
    bench.cable.unplug();
    await bench.until(() => bench.view.condition === 'lost');
    const { refused } = bench.link.figures();
    bench.cable.plugged = true;
    await bench.until(() => bench.view.condition === 'connected');
    expect(bench.link.figures().refused['wrong-check']).toBe(refused['wrong-check']);
    expect(bench.link.figures().refused['no-check']).toBe(refused['no-check']);
  });

  it('a wire cut in one direction: the stand is heard, and said not to hear', async () => {
    bench = await new PaperBench().connect();
    bench.cable.cutOutward = true;
    await bench.pass(4000);
    expect(bench.view.condition).toBe('connected');
    expect(bench.view.sentence).toContain('does not hear');
    bench.cable.cutOutward = false;
    await bench.pass(500);
    expect(bench.view.sentence).toBe('The stand bench is connected.');
  });

  it('another stand under the same path is another board, with its own settings', async () => {
    bench = await new PaperBench().connect();
    bench.cable.unplug();
    await bench.until(() => bench.view.condition === 'lost');
    bench.board.name = 'other';
    bench.board.settings.set('slope1', '77');
    bench.cable.plugged = true;
    await bench.until(() => bench.link.standFacts() !== null);
    expect(bench.heard.boots.map((identity) => identity.name)).toEqual(['other']);
    expect(bench.link.standFacts()).toMatchObject({ name: 'other', cells: [{ gramsPerCount: 77e-9 }, {}] });
  });

  it('settings that come incomplete are asked for again', async () => {
    bench = new PaperBench();
    const zero2 = bench.board.settings.get('zero2')!;
    bench.board.settings.delete('zero2');
    bench.link.start();
    await bench.until(() => bench.view.condition === 'connected');
    await bench.pass(1000);
    expect(bench.link.standFacts()).toBeNull();
    bench.board.settings.set('zero2', zero2);
    await bench.pass(2500);
    expect(bench.link.standFacts()?.cells).toHaveLength(2);
  });

  it('a port chosen while another is still opening: the late one is closed, the chosen one used', async () => {
    bench = new PaperBench();
    const slow = bench.lay('/dev/ttyB', null);
    let open = () => {};
    slow.openGate = new Promise((resolve) => {
      open = resolve;
    });
    bench.link.choose('/dev/ttyB');
    bench.link.start();
    await bench.pass(100);
    bench.link.choose('/dev/ttyA');
    await bench.until(() => bench.view.condition === 'connected');
    open();
    await bench.pass(10);
    expect(slow.opened).toBe(1);
    expect(slow.openNow).toBe(0);
    expect(bench.view).toMatchObject({ condition: 'connected', path: '/dev/ttyA' });
  });

  it('stopped and started again at any moment of an opening: no port is left behind', async () => {
    for (let turns = 0; turns < 30; turns++) {
      bench = new PaperBench();
      bench.link.start();
      for (let i = 0; i < turns; i++) await Promise.resolve();
      void bench.link.stop();
      bench.link.start();
      await bench.until(() => bench.link.standFacts() !== null, 3000);
      expect(bench.cable.openMost).toBe(1);
      await bench.end();
      expect(bench.cable.openNow).toBe(0);
    }
  });

  it('a driver that never finishes opening is said to be stuck', async () => {
    bench = new PaperBench();
    bench.cable.openGate = new Promise(() => {});
    bench.link.start();
    await bench.pass(10_100);
    expect(bench.view.condition).toBe('lost');
    expect(bench.view.sentence).toContain('does not respond');
    const stopped = bench.link.stop();
    await bench.pass(2500);
    await stopped;
  });
});
