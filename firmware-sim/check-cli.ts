/** `npm run stand -- check`: the check of a stand in this terminal. */
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { SerialPortStream } from '@serialport/stream';
import { systemClock } from '../server/clock.ts';
import { driverPort } from '../server/link/port-factory.ts';
import { dataFolder } from '../server/records/folder.ts';
import { openRecords } from '../server/records/open.ts';
import { keepCheck } from '../server/stand/keep.ts';
import { type OwnLine, openLine } from '../server/stand/link-line.ts';
import { type CheckReport, reportText } from '../server/stand/report.ts';
import { checkInTerminal, type FinishedCheck } from '../server/stand/terminal.ts';
import type { StandKnown } from '../server/stand/types.ts';
import type { StandCommand } from './command-line.ts';
import { createHandledStand } from './emulated.ts';
import { pace } from './pacing.ts';
import { Player } from './player.ts';
import { StandBinding } from './serial.ts';

const now = (): string => new Date().toISOString();

/** Lines typed, one at a time; null once there are no more. */
function typedLines(): { read: () => Promise<string | null>; close: () => void } {
  const input = createInterface({ input: process.stdin });
  const lines = input[Symbol.asyncIterator]();
  return {
    read: async () => {
      const next = await lines.next();
      return next.done ? null : next.value;
    },
    close: () => input.close(),
  };
}

/** Waits until the stand has said what it is; says meanwhile what there is to say. */
async function waitForStand(line: OwnLine): Promise<StandKnown> {
  let said = '';
  for (;;) {
    const known = line.known();
    if (known !== null) return known;
    const sentence = line.sentence();
    if (sentence !== said) console.log(sentence);
    said = sentence;
    await pause(50);
  }
}

/** Exit code: 0 where all passed, 2 where something did not. */
function end(report: CheckReport): number {
  console.log(`\n${reportText(report)}`);
  return report.passed ? 0 : 2;
}

/** Puts the check with the records of this computer; where they cannot be had, the print is what there is. */
async function keep(check: FinishedCheck): Promise<void> {
  try {
    const store = await openRecords(dataFolder());
    await keepCheck(store, check.report, check.state);
    await store.shut();
    console.log('The check is kept with the records.');
  } catch (error) {
    console.log(`The check was NOT kept, print it. ${(error as Error).message}`);
  }
}

/** Leads through the check of the stand on a port. */
export async function checkOnPort({ port, by }: StandCommand & { command: 'check' }): Promise<number> {
  const line = openLine(
    { clock: systemClock, createPort: driverPort, listPorts: async () => [], path: port },
    () => {},
  );
  const typed = typedLines();
  try {
    const known = await waitForStand(line);
    const check = await checkInTerminal({ line, print: console.log, read: typed.read, by, now }, known);
    await keep(check);
    return end(check.report);
  } finally {
    typed.close();
    await line.close();
  }
}

/** Shows the check on an emulated stand whose person is played. Nothing is kept. */
export async function checkEmulated(options: StandCommand & { command: 'check-emulated' }): Promise<number> {
  const { speed, cells, seed, by } = options;
  const { stand, person } = createHandledStand(cells, seed);
  const binding = new StandBinding(stand);
  const player = new Player(stand, person);
  const pacing = pace(stand, speed);
  const line = openLine(
    {
      clock: stand.clock,
      createPort: (path) => new SerialPortStream({ binding, path, baudRate: 115_200, autoOpen: false }),
      listPorts: async () => [],
      path: binding.path,
    },
    () => {},
  );
  console.log(`An emulated stand, ${speed} times real time, seed ${seed}; its person is played.`);
  const known = await waitForStand(line);
  const { report } = await checkInTerminal(
    {
      line,
      print: console.log,
      read: () => player.read(),
      asked: (ask, state) => player.asked(ask, state),
      by,
      now,
    },
    known,
  );
  await line.close();
  await pacing.stop();
  return end(report);
}
