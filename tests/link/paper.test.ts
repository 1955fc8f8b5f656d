import { describeLinkOn } from './contract.ts';
import { FakeBoard } from './fake-board.ts';
import { FakeCable } from './fake-cable.ts';
import { TestClock } from './test-clock.ts';

describeLinkOn('a board on a port on paper', async () => {
  const clock = new TestClock();
  const board = new FakeBoard({ clock });
  const cable = new FakeCable('/dev/ttyPAPER', board);
  return {
    clock,
    path: cable.path,
    createPort: cable.createPort,
    cells: board.cells,
    pass: (milliseconds) => clock.pass(milliseconds),
    unplug: () => cable.unplug(),
    plug: () => {
      cable.plugged = true;
    },
    resetBoard: () => board.reset(),
    done: () => board.off(),
  };
});
