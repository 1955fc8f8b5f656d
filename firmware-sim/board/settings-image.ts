/** The board's settings as the bytes that lie in its EEPROM; the layout is told in `firmware-sim/firmware/settings.h`. */
import { eepromBytes } from './eeprom-store.ts';

/** The board's settings, named and ranged as in `hardware-notes/protocol.md`. */
export interface StandSettings {
  /** 1 to 16 of A-Z a-z 0-9 _ - */
  name: string;
  pulsesPerTurn: number;
  debounceMicroseconds: number;
  /** Load cells fitted, 1 to 6. */
  cells: number;
  /** 0 no direction sensor, 1 fitted, 2 fitted and the other way round. */
  direction: 0 | 1 | 2;
  warnPulses: number;
  /** Nanograms per count of each cell, not 0; 1 for cells beyond those given. */
  slopesNanograms: readonly number[];
  /** Counts of each cell with nothing hung on; 0 for cells beyond those given. */
  zerosCounts: readonly number[];
}

const version = 1;
const copyBytes = 78;
const checkOffset = 76;
const copies = [0x020, 0x0a0];
const nameBytes = 16;
const cellsMost = 6;

/** A stand's settings in which only what matters need be said. */
export function standSettings(changes: Partial<StandSettings> = {}): StandSettings {
  return {
    name: 'stand',
    pulsesPerTurn: 60,
    debounceMicroseconds: 200,
    cells: 1,
    direction: 1,
    warnPulses: 120,
    slopesNanograms: [],
    zerosCounts: [],
    ...changes,
  };
}

/** The whole EEPROM, 1024 bytes, with these settings saved once: both copies of generation 1, all else erased. */
export function eepromFor(changes: Partial<StandSettings> = {}): Uint8Array {
  const image = new Uint8Array(eepromBytes).fill(0xff);
  const copy = settingsCopy(standSettings(changes), 1);
  for (const address of copies) image.set(copy, address);
  return image;
}

/** One copy of the settings, 78 bytes, check included. */
export function settingsCopy(settings: StandSettings, generation: number): Uint8Array {
  const copy = new Uint8Array(copyBytes);
  const view = new DataView(copy.buffer);
  view.setUint8(0, version);
  view.setUint8(1, copyBytes);
  view.setUint16(2, generation, true);
  copy.set(new TextEncoder().encode(settings.name).subarray(0, nameBytes), 4);
  view.setUint16(20, settings.pulsesPerTurn, true);
  view.setUint16(22, settings.debounceMicroseconds, true);
  view.setUint8(24, settings.cells);
  view.setUint8(25, settings.direction);
  view.setUint16(26, settings.warnPulses, true);
  for (let cell = 0; cell < cellsMost; cell++) {
    view.setInt32(28 + 4 * cell, settings.slopesNanograms[cell] ?? 1, true);
    view.setInt32(52 + 4 * cell, settings.zerosCounts[cell] ?? 0, true);
  }
  view.setUint16(checkOffset, crc16(copy.subarray(0, checkOffset)), true);
  return copy;
}

/** CRC-16/CCITT-FALSE, the check of `hardware-notes/protocol.md`: `123456789` gives 0x29B1. */
export function crc16(bytes: Uint8Array): number {
  let crc = 0xffff;
  for (const byte of bytes) {
    crc ^= byte << 8;
    for (let bit = 0; bit < 8; bit++) crc = crc & 0x8000 ? ((crc << 1) ^ 0x1021) & 0xffff : crc << 1;
  }
  return crc;
}
