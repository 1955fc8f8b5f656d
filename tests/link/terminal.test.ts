import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { systemClock } from '../../server/clock.ts';
import { driverPort } from '../../server/link/port-factory.ts';
import { needs } from '../needs.ts';
import { describeLinkOn, Listener, until } from './contract.ts';
import { FakeBoard } from './fake-board.ts';
import { Terminal } from './terminal.ts';

/** The real serial driver on a pseudo-terminal, in real time. */
describe.runIf(needs('socat'))('through the serial driver', () => {
  describeLinkOn('a board on a pseudo-terminal', async () => {
    const board = new FakeBoard({ clock: systemClock });
    const terminal = new Terminal(board);
    await terminal.plug();
    return {
      clock: systemClock,
      path: terminal.path,
      createPort: driverPort,
      cells: board.cells,
      pass: (milliseconds) => pause(milliseconds),
      unplug: () => terminal.unplug(),
      plug: () => terminal.plug(),
      resetBoard: () => board.reset(),
      done: async () => {
        board.off();
        await terminal.remove();
      },
    };
  });

  it.each([
    ['/dev/no-such-port', 'There is no port'],
    ['/dev/null', 'not a serial port'],
    ['/tmp', 'not a serial port'],
  ])("%s: the driver's own words are understood", async (path, part) => {
    const heard = new Listener({ clock: systemClock, createPort: driverPort }, path);
    heard.link.start();
    await until({ pass: pause }, () => heard.link.view().condition === 'lost');
    expect(heard.link.view().sentence).toContain(part);
    await heard.link.stop();
  });

  it('a port that another program holds is said to be so, and taken once it is free', async () => {
    const board = new FakeBoard({ clock: systemClock });
    const terminal = new Terminal(board);
    await terminal.plug();
    const [first, second] = [0, 1].map(
      () => new Listener({ clock: systemClock, createPort: driverPort }, terminal.path),
    );
    first!.link.start();
    await until({ pass: pause }, () => first!.link.view().condition === 'connected');
    second!.link.start();
    await until({ pass: pause }, () => second!.link.view().condition === 'lost');
    expect(second!.link.view().sentence).toContain('Another program');
    await first!.link.stop();
    await until({ pass: pause }, () => second!.link.view().condition === 'connected');
    await second!.link.stop();
    board.off();
    await terminal.remove();
  });
});
