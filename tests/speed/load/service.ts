import { SerialPortStream } from '@serialport/stream';
import { sixRows } from '../../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../../firmware-sim/emulated.ts';
import { pace } from '../../../firmware-sim/pacing.ts';
import { StandBinding } from '../../../firmware-sim/serial.ts';
import { statedPlan } from '../../../server/demo.ts';
import { startService } from '../../../server/service.ts';

/**
 * One whole service with an emulated stand of six cells, as a process of its own: `node service.js <data folder> <times real time> <turns of a run>`.
 * It makes run after run, and every half second tells its parent when the last byte of each reading came (milliseconds of the computer's clock).
 */

export interface ServiceReport {
  address?: string;
  /** Seconds of the run's own clock, and when that reading's last byte came. */
  came?: [seconds: number, epochMillis: number][];
  bytesResident: number;
  /** Processor time since the process began, milliseconds. */
  processorMillis: number;
  runsEnded: number;
  /** Seconds of the stand's own time. */
  standSeconds: number;
}

const [folder = '', speedText = '1', turnsText = '50'] = process.argv.slice(2);
const epochNow = (): number => performance.timeOrigin + performance.now();

const { stand } = createEmulatedStand(sixRows, 'load');
const binding = new StandBinding(stand);
let newestByteAt = 0;
let rest = '';
stand.onBytes((bytes) => {
  rest = (rest + Buffer.from(bytes).toString('latin1')).split('\n').at(-1)!;
  if (rest === '' || /^R \d+ (\d+) /.test(rest)) newestByteAt = epochNow();
});

const service = await startService({
  clock: stand.clock,
  link: {
    createPort: (path) => new SerialPortStream({ binding, path, baudRate: 115_200, autoOpen: false }),
    listPorts: async () => [],
    path: binding.path,
  },
  folder,
  demo: true,
  plan: { ...statedPlan(sixRows), turns: Number(turnsText) },
  port: 0,
  say: (sentence) => console.error(sentence),
});
const { session } = service;
const pacing = pace(stand, Number(speedText));

let came: [number, number][] = [];
let newestSeconds = -1;
let runsEnded = 0;
session.listen({
  changed: () => {
    const { figures } = session.view().run;
    if (figures.phase !== 'turning' || figures.seconds === newestSeconds) return;
    newestSeconds = figures.seconds;
    came.push([figures.seconds, newestByteAt]);
  },
  began: () => {},
  planned: () => {},
});

function report(more: Partial<ServiceReport> = {}): void {
  const { user, system } = process.cpuUsage();
  process.send?.({
    came,
    bytesResident: process.memoryUsage.rss(),
    processorMillis: (user + system) / 1000,
    runsEnded,
    standSeconds: stand.seconds,
    ...more,
  } satisfies ServiceReport);
  came = [];
}

let ending = false;
process.once('message', () => {
  ending = true;
});
process.once('disconnect', () => process.exit(1));

const wait = (millis: number) => new Promise((resolve) => setTimeout(resolve, millis));
report({ address: service.address });
const reporting = setInterval(report, 500);
while (!ending) {
  const { phase } = session.view().run.figures;
  if (phase === 'finished' || phase === 'idle') {
    if (phase === 'finished') runsEnded += 1;
    const armed = await session.arm();
    if (armed.ok) await session.start();
  }
  await wait(20);
}
clearInterval(reporting);
report();
await service.close();
await pacing.stop();
process.disconnect();
