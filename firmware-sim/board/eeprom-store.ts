/** What the board's EEPROM holds, kept apart from the chip so that it outlives a power cut and can be looked at. */
import type { EEPROMBackend } from 'avr8js';

/** EEPROM of the ATmega328P: 1 KiB. */
export const eepromBytes = 1024;

export class EepromStore implements EEPROMBackend {
  readonly bytes: Uint8Array;
  /** Erasures and writes asked for so far; a byte written by the program is one of each. */
  operations = 0;
  #cutAt = Infinity;
  #tornTo: number | undefined;

  /** @param image what it holds at first, up to 1 KiB; erased (0xFF) where nothing is given. */
  constructor(image: Uint8Array = new Uint8Array()) {
    this.bytes = new Uint8Array(eepromBytes).fill(0xff);
    this.bytes.set(image);
  }

  /**
   * Cuts the power at the n-th erasure or write from now (1 is the next): it and all after it are not done.
   * @param tornTo what the byte under way is left as, where it is not left as it was.
   */
  cutPowerAt(operation: number, tornTo?: number): void {
    this.#cutAt = this.operations + operation;
    this.#tornTo = tornTo;
  }

  /** True once the power cut asked for has come. */
  get powerIsCut(): boolean {
    return this.operations >= this.#cutAt;
  }

  /** Power is back. */
  restorePower(): void {
    this.#cutAt = Infinity;
  }

  readMemory(address: number): number {
    return this.bytes[address % eepromBytes] as number;
  }

  writeMemory(address: number, value: number): void {
    // Programming only clears bits; setting them takes an erasure.
    this.#change(address, this.readMemory(address) & value);
  }

  eraseMemory(address: number): void {
    this.#change(address, 0xff);
  }

  #change(address: number, value: number): void {
    this.operations++;
    if (this.operations < this.#cutAt) this.bytes[address % eepromBytes] = value;
    else if (this.operations === this.#cutAt && this.#tornTo !== undefined) {
      this.bytes[address % eepromBytes] = this.#tornTo;
    }
  }
}
