import { setTimeout as pause } from 'node:timers/promises';
import { describe } from 'vitest';
import { systemClock } from '../../server/clock.ts';
import { driverPort } from '../../server/link/port-factory.ts';
import { needs } from '../needs.ts';
import { describeLinkOn } from './contract.ts';
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
});
