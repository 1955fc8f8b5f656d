import { SerialPortStream } from '@serialport/stream';
import { sixRows } from '../../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../../firmware-sim/emulated.ts';
import { pace } from '../../../firmware-sim/pacing.ts';
import { StandBinding } from '../../../firmware-sim/serial.ts';
import { systemClock } from '../../../server/clock.ts';
import { statedPlan } from '../../../server/demo.ts';
import { driverPort } from '../../../server/link/port-factory.ts';
import { type ServiceOptions, startService } from '../../../server/service.ts';

/**
 * One whole service, as a process of its own: `node service.js <data folder> <turns of a run> <times real time> <port>`. Without a port it has an emulated
 * stand of six cells inside. It makes run after run, and reports to its parent every half second.
 */

export interface ServiceReport {
  /** Where its page is. */
  address: string;
  /** Board time at which the run's own seconds are nought, microseconds; null while no wheel turns. */
  startMicros: number | null;
  bytesResident: number;
  /** Processor time since the process began, milliseconds. */
  processorMillis: number;
  runsEnded: number;
  /** Seconds of the stand's time. */
  standSeconds: number;
}

const [folder = '', turnsText = '50', speedText = '1', port = ''] = process.argv.slice(2);

/** What the service stands on, and how that is ended. */
type Ground = Pick<ServiceOptions, 'clock' | 'link'> & { end: () => Promise<void> };

function standInside(): Ground {
  const { stand } = createEmulatedStand(sixRows, 'load');
  const binding = new StandBinding(stand);
  const pacing = pace(stand, Number(speedText));
  return {
    clock: stand.clock,
    link: {
      createPort: (path) => new SerialPortStream({ binding, path, baudRate: 115_200, autoOpen: false }),
      listPorts: async () => [],
      path: binding.path,
    },
    end: () => pacing.stop(),
  };
}

const standOnPort = (): Ground => ({
  clock: systemClock,
  link: { createPort: driverPort, listPorts: async () => [], path: port },
  end: async () => {},
});

const { clock, link, end } = port === '' ? standInside() : standOnPort();
const service = await startService({
  clock,
  link,
  folder,
  demo: true,
  plan: { ...statedPlan(sixRows), turns: Number(turnsText) },
  port: 0,
  say: (sentence) => console.error(sentence),
});
const { address, session } = service;
let runsEnded = 0;
let newestMicros = 0;
session.readings(({ boardMicros }) => {
  newestMicros = boardMicros;
});

function report(): void {
  const { user, system } = process.cpuUsage();
  const { phase, seconds } = session.view().run.figures;
  process.send?.({
    address,
    startMicros: phase === 'turning' ? Math.round(newestMicros - seconds * 1e6) : null,
    bytesResident: process.memoryUsage.rss(),
    processorMillis: (user + system) / 1000,
    runsEnded,
    standSeconds: clock.now() / 1000,
  } satisfies ServiceReport);
}

let ending = false;
process.once('message', () => {
  ending = true;
});
process.once('disconnect', () => process.exit(1));

const wait = (millis: number) => new Promise((resolve) => setTimeout(resolve, millis));
report();
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
await end();
process.disconnect();
