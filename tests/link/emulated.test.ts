import { setImmediate as turn } from 'node:timers/promises';
import { StandBinding } from '../../firmware-sim/serial.ts';
import { eepromFor, Stand } from '../../firmware-sim/stand.ts';
import type { World } from '../../firmware-sim/world.ts';
import { portFactory } from '../../server/link/port-factory.ts';
import { describeLinkOn } from './contract.ts';

const cells = 2;

/** A wheel that stands and bags that hang still. */
const stillWorld: World = {
  cells,
  advance: () => [],
  conversionPeriod: (cell) => 1 / (80 + cell),
  convert: (cell) => 1000 * (cell + 1),
  stopOpen: () => false,
};

const settings = {
  name: 'emulated',
  pulsesPerTurn: 24,
  debounceMicroseconds: 2500,
  cells,
  direction: 1 as const,
  warnPulses: 48,
  slopesNanograms: [5_000_000, -4_000_001],
  zerosCounts: [-1234, 5678],
};

/** The project's own firmware in emulation; the same suite as for the board on paper. */
describeLinkOn('the emulated stand', async () => {
  const stand = new Stand({ world: stillWorld, eeprom: eepromFor(settings) });
  const binding = new StandBinding(stand, { path: 'emulated' });
  const pass = async (milliseconds: number) => {
    for (let passed = 0; passed < milliseconds; passed += 5) {
      stand.advance(0.005);
      await turn();
      await turn();
    }
  };
  await pass(500);
  return {
    clock: stand.clock,
    path: binding.path,
    createPort: portFactory(binding),
    cells,
    pass,
    unplug: () => binding.unplug(),
    plug: () => binding.plug(),
    resetBoard: () => stand.reset(),
    done: () => {},
  };
});
