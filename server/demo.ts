import { join } from 'node:path';
import { SerialPortStream } from '@serialport/stream';
import type { Drill } from '../firmware-sim/drill/drill.ts';
import { drawScenario, type Scenario } from '../firmware-sim/drill/scenario.ts';
import { oneRow } from '../firmware-sim/drill/scenarios.ts';
import { createHandledDrill } from '../firmware-sim/emulated.ts';
import { Player } from '../firmware-sim/player.ts';
import { StandBinding } from '../firmware-sim/serial.ts';
import { pace } from '../firmware-sim/stand.ts';
import { loadDemoWeek } from './demo/load.ts';
import type { Plan } from './http/messages.ts';
import { type Service, type ServiceOptions, startService } from './service.ts';

/**
 * The demo: the real service over an emulated stand in the same process. Of the imagined drill it knows what a user would know who has measured it
 * and read the bag's label (`stated`), never what is true of it.
 */

export interface DemoOptions extends Pick<ServiceOptions, 'port' | 'say' | 'reaching'> {
  /** Folder of the real records; the demo keeps its own in a folder inside. */
  folder: string;
  /** The same seed gives the same drill. */
  seed: string;
  /** Times real time. */
  speed: number;
}

/** The plan of someone who has this drill before them. */
export function statedPlan({ stated, cells, rowsPerCell, drive, meter }: Scenario): Plan {
  return {
    drill: {
      name: stated.drillName,
      setting: String(meter.setting), // the lever's mark, which anyone can read
      rowSpacingMetres: stated.rowSpacingMetres,
      rowSpacingDoubtMetres: stated.rowSpacingDoubtMetres,
      circumferenceMetres: stated.circumferenceMetres,
      circumferenceDoubtMetres: stated.circumferenceDoubtMetres,
      slip: stated.slip,
      slipDoubt: stated.slipDoubt,
      rowCount: 12,
      scale: {
        low: 0,
        high: 80,
        step: 1,
        closedAt: 0,
        leverPlay: 0.2,
        configuration: 'coarse gate',
        otherConfigurations: ['fine gate'],
      },
    },
    rowsCaught: cells * rowsPerCell,
    seed: {
      name: stated.seedName,
      seedMassGrams: stated.seedMassGrams,
      repeatability: stated.repeatability,
    },
    target: { gramsPerSquareMetre: stated.targetGramsPerSquareMetre, tolerance: stated.tolerance },
    turns: stated.turns,
    mode: drive.hand === null ? 'motor' : 'hand',
    plannedSpeedMetresPerSecond: null,
  };
}

/** The drill as the demo's user finds it: the lever where the last crop left it, too low for the mix. */
const asFound: Scenario = {
  ...oneRow,
  name: 'the demo',
  meter: { ...oneRow.meter, setting: 24, leverPlayMarks: 0.2 },
};

/** The mark that a person means who writes '32', '32,5' or 'notch 32', or null. */
export function markIn(setting: string): number | null {
  const number = /\d+(?:[.,]\d+)?/.exec(setting)?.[0];
  return number === undefined ? null : Number(number.replace(',', '.'));
}

/** Whoever gets the stand ready has set the lever as the plan says. */
function followLever(service: Service, drill: Drill): void {
  const { session } = service;
  session.listen({
    changed: () => {},
    planned: () => {},
    began: () => {
      const mark = markIn(session.view().run.plan.drill.setting);
      drill.setLever(mark ?? drill.scenario.meter.setting);
    },
  });
}

/** Starts the demo; its stand's time passes until it is closed. */
export async function startDemo({ seed, speed, folder, ...options }: DemoOptions): Promise<Service> {
  const { stand, drill, person } = createHandledDrill(drawScenario(asFound, seed), seed);
  const player = new Player(stand, person);
  const binding = new StandBinding(stand);
  const leaving = new AbortController();
  let loading: Promise<void> = Promise.resolve();
  const service = await startService({
    // The host's waits last as long for the stand as they would at its own speed.
    clock: stand.clock,
    link: {
      createPort: (path) => new SerialPortStream({ binding, path, baudRate: 115_200, autoOpen: false }),
      listPorts: async () => [{ path: binding.path, label: 'the emulated stand of the demo' }],
      path: binding.path,
    },
    folder: join(folder, 'demo'),
    demo: true,
    plan: statedPlan(asFound),
    putOn: (cell, grams) => drill.putOn(cell, grams),
    hands: {
      asked: (ask) => player.useHands(ask),
      hang: (cell, grams) => person.hang(cell, grams),
    },
    opened: (records) => {
      loading = loadDemoWeek(records, leaving.signal).catch((error: Error) =>
        options.say(`The demo’s week could not be put on record: ${error.message}`),
      );
    },
    ...options,
  });
  followLever(service, drill);
  const pacing = pace(stand, speed, (error) => options.say(`The emulated stand has failed: ${error}`));
  return {
    ...service,
    async close() {
      leaving.abort();
      await loading;
      await service.close();
      await pacing.stop();
    },
  };
}
