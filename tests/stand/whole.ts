import { SerialPortStream } from '@serialport/stream';
import { EepromStore } from '../../firmware-sim/board/eeprom-store.ts';
import { createDrill } from '../../firmware-sim/drill/drill.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { eepromForScenario, personBeside } from '../../firmware-sim/emulated.ts';
import type { PersonOptions } from '../../firmware-sim/person.ts';
import { Player } from '../../firmware-sim/player.ts';
import { StandBinding } from '../../firmware-sim/serial.ts';
import { runAsFastAsItGoes, Stand } from '../../firmware-sim/stand.ts';
import type { CheckState } from '../../server/stand/check.ts';
import { openLine } from '../../server/stand/link-line.ts';
import type { CheckReport } from '../../server/stand/report.ts';
import { checkInTerminal } from '../../server/stand/terminal.ts';
import type { Ask, StandKnown, StepName, StepResult } from '../../server/stand/types.ts';

/** The whole check in a terminal, on the emulated stand with its person played, as fast as it goes. */

export interface WholeOptions {
  cells?: number;
  seed?: number;
  /** The firmware, where it is not this project's own. */
  hex?: string;
  person?: Partial<PersonOptions>;
  scenario?: (scenario: Scenario) => Scenario;
  /** Erased instead of set up. */
  blank?: boolean;
  /** Steps to do; all others are left out. */
  only?: readonly StepName[];
  /** What is typed instead of what the player would, by code of the ask; undefined leaves it to the player. */
  typed?: (ask: Ask) => string | undefined;
}

export interface Whole {
  report: CheckReport;
  /** Result by step. */
  steps: Partial<Record<StepName, StepResult>>;
  said: string[];
  settings: Readonly<Record<string, string>>;
  found: { cell: number; gramsPerCount: number }[];
  /** Pulses of the drill that the motor turned. */
  turnsByMotor: number;
  motorStarts: number;
}

async function known(stand: Stand, line: ReturnType<typeof openLine>): Promise<StandKnown> {
  await runAsFastAsItGoes(stand, () => line.known() !== null, 10);
  return line.known()!;
}

export async function wholeCheck(options: WholeOptions = {}): Promise<Whole> {
  const { cells = 1, seed = 7, hex, person: hands = {}, blank = false, only, typed } = options;
  const plain = { ...(cells === 1 ? oneRow : sixRows), cells };
  const scenario = options.scenario?.(plain) ?? plain;
  const drill = createDrill(scenario, seed);
  const person = personBeside(drill, scenario, hands);
  const eeprom = new EepromStore(blank ? undefined : eepromForScenario(scenario));
  const stand = new Stand({ world: person, eeprom, ...(hex === undefined ? {} : { hex }) });
  let motorStarts = 0;
  stand.board.onMotor = (on) => {
    if (on) motorStarts++;
  };
  const binding = new StandBinding(stand);
  const createPort = (path: string) =>
    new SerialPortStream({ binding, path, baudRate: 115_200, autoOpen: false });
  const line = openLine(
    { clock: stand.clock, createPort, listPorts: async () => [], path: binding.path },
    () => {},
  );
  const skip = ({ acts }: Ask, { step }: CheckState) =>
    only !== undefined && !only.includes(step) && acts.includes('skip') ? 'skip' : undefined;
  const player = new Player(stand, person, (ask, state) => skip(ask, state) ?? typed?.(ask));
  const said: string[] = [];
  const read = () => player.read();
  const asked = (ask: Ask, state: CheckState) => player.asked(ask, state);
  const facts = await known(stand, line);
  let over = false;
  const checking = checkInTerminal(
    { line, print: (text) => said.push(text), read, asked, by: 'test', now: () => '2026-11-25T12:00:00Z' },
    facts,
  ).finally(() => {
    over = true;
  });
  await runAsFastAsItGoes(stand, () => over, 2000);
  const { report, state } = await checking;
  await Promise.all([line.close(), runAsFastAsItGoes(stand, () => false, 0.1).catch(() => {})]);
  return {
    report,
    steps: Object.fromEntries(state.results.map((each) => [each.step, each])),
    said,
    settings: Object.fromEntries(state.known.settings),
    found: state.found.map(({ cell, calibration }) => ({ cell, gramsPerCount: calibration.gramsPerCount })),
    turnsByMotor: drill.truth.turns(),
    motorStarts,
  };
}
