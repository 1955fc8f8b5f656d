/** An imagined drill on an emulated stand, set up for each other. */
import { createDrill, type Drill } from './drill/drill.ts';
import type { Scenario } from './drill/scenario.ts';
import { oneRow, sixRows } from './drill/scenarios.ts';
import { type PersonOptions, PersonWorld } from './person.ts';
import { eepromFor, Stand } from './stand.ts';

const nanogramsPerGram = 1e9;

/** The lamp starts this many turns before the end. */
const warnTurns = 2;

/** The EEPROM of a stand whose owner has set it up as the scenario states: pulses, debounce, cells, slopes and zeros. */
export function eepromForScenario({ stated, wheel, cells }: Scenario): Uint8Array {
  return eepromFor({
    name: 'bench-1',
    pulsesPerTurn: stated.pulsesPerTurn,
    debounceMicroseconds: stated.debounceMicros,
    cells,
    direction: wheel.directionSensor ? 1 : 0,
    warnPulses: warnTurns * stated.pulsesPerTurn,
    slopesNanograms: Array(cells).fill(Math.round(stated.gramsPerCount * nanogramsPerGram)),
    zerosCounts: Array(cells).fill(Math.round(stated.zeroCount)),
  });
}

/**
 * A stand over a drill made from `scenario`: the same seed gives the same run. It runs this project's firmware, or that of the Intel HEX file whose
 * text is `hex`.
 */
export function createEmulatedStand(
  scenario: Scenario,
  seed: number | string,
  hex?: string,
): { stand: Stand; drill: Drill } {
  const drill = createDrill(scenario, seed);
  const eeprom = eepromForScenario(scenario);
  return { stand: new Stand({ world: drill, eeprom, ...(hex === undefined ? {} : { hex }) }), drill };
}

/** An imagined drill on an emulated stand with somebody beside it who has hands. */
export interface HandledStand {
  stand: Stand;
  drill: Drill;
  person: PersonWorld;
}

/** The person beside a drill made from `scenario`. */
export function personBeside(
  drill: Drill,
  scenario: Scenario,
  options: Partial<PersonOptions> = {},
): PersonWorld {
  const { pulsesPerTurn } = scenario.wheel;
  const { countsPerGram } = scenario.converter;
  return new PersonWorld(drill, { pulsesPerTurn, countsPerGram, ...options });
}

/** An imagined drill on an emulated stand, set up for each other, and a person beside them. The same seed gives the same run. */
export function createHandledDrill(
  scenario: Scenario,
  seed: number | string,
  options: Partial<PersonOptions> = {},
): HandledStand {
  const drill = createDrill(scenario, seed);
  const person = personBeside(drill, scenario, options);
  return { stand: new Stand({ world: person, eeprom: eepromForScenario(scenario) }), drill, person };
}

/** The usual drill with so many cells, from 1 to 6, a row over each, and a person beside it. */
export function createHandledStand(cells: number, seed: number | string): HandledStand {
  return createHandledDrill({ ...(cells === 1 ? oneRow : sixRows), cells }, seed);
}
