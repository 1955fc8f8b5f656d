/** The real firmware on an emulated stand over a plain world, ready to be talked to. */
import { EepromStore } from '../../firmware-sim/board/eeprom-store.ts';
import { eepromFor, Stand, type StandSettings } from '../../firmware-sim/stand.ts';
import { PlainWorld } from './plain-world.ts';
import { Talk } from './talk.ts';

/** Longer than the board takes from power-up to its first reading. */
const startSeconds = 0.2;

export interface Setup {
  world: PlainWorld;
  stand: Stand;
  talk: Talk;
  eeprom: EepromStore;
}

/** @param settings what differs from a plain stand of `cells` cells. */
export function setUp(cells = 1, settings: Partial<StandSettings> = {}): Setup {
  const world = new PlainWorld(cells);
  const eeprom = new EepromStore(eepromFor({ cells, debounceMicroseconds: 100, ...settings }));
  const stand = new Stand({ world, eeprom });
  const talk = new Talk(stand);
  stand.advance(startSeconds);
  return { world, stand, talk, eeprom };
}
