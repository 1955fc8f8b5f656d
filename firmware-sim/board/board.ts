/** The stand's board: the chip, and what is soldered to its pins. */
import { type ConversionSource, ConverterBank } from './converter-bank.ts';
import { type BoardCpu, cyclesPerSecond } from './cpu.ts';
import { EepromStore } from './eeprom-store.ts';
import { Mcu, resetCause } from './mcu.ts';
import { SerialLine } from './serial-line.ts';

/** Pins as `firmware-sim/firmware` and the wiring in `hardware-notes` have them. */
const motorBit = 0x01;
const lampBit = 0x02;
const pulsePin = 2;
const stopPin = 3;
const directionPin = 4;
const clockBit = 0x20;

/** An output changes at the end of the two cycles of the instruction that writes it. */
const outputCycles = 2;

export interface BoardParts {
  /** Program image, 32 KiB, as `parseIntelHex` gives it. */
  flash: Uint8Array;
  source: ConversionSource;
  eeprom?: EepromStore;
}

/** A level of the wheel sensor's two lines that is yet to come. */
interface PlannedLevel {
  readonly a: number;
  readonly b: number;
}

export class Board {
  readonly cpu: BoardCpu;
  readonly eeprom: EepromStore;
  readonly serial: SerialLine;
  readonly converters: ConverterBank;
  /** Called when the motor output changes, with the exact cycle. */
  onMotor: (on: boolean, cycle: number) => void = () => {};
  readonly #mcu: Mcu;
  #outputs = 0;
  #planned: PlannedLevel[] = [];

  constructor({ flash, source, eeprom = new EepromStore() }: BoardParts) {
    this.eeprom = eeprom;
    this.#mcu = new Mcu(flash, eeprom);
    this.cpu = this.#mcu.cpu;
    this.serial = new SerialLine(this.cpu, this.#mcu.usart);
    this.converters = new ConverterBank(this.cpu, source, (levels) => this.#setDataLines(levels));
    this.#mcu.portB.addListener(() => this.#outputsWritten());
    this.#mcu.portD.addListener((levels) => this.#clockWritten(levels));
  }

  /** Seconds since the board was first powered. Resets and power cuts do not set it back. */
  get seconds(): number {
    return this.cpu.cycles / cyclesPerSecond;
  }

  get motor(): boolean {
    return (this.#outputs & motorBit) !== 0;
  }

  get lamp(): boolean {
    return (this.#outputs & lampBit) !== 0;
  }

  /** Runs the program until `cycle`, at most one instruction further. */
  run(cycle: number): void {
    this.#mcu.run(cycle);
  }

  /** Sets the wheel sensor's lines at `cycle`, which must not lie before that of an earlier call. */
  setWheelAt(cycle: number, a: number, b: number): void {
    this.#planned.push({ a, b });
    this.cpu.at(cycle, this.#nextWheelLevel);
  }

  /** Opens or closes the contact of the stop button; open reads high. */
  setStopOpen(open: boolean): void {
    this.#mcu.portD.setPin(stopPin, open);
  }

  /** Pulls the reset line, as opening the port does on boards that wire DTR to it. */
  reset(): void {
    this.#mcu.reset(resetCause.external);
  }

  /** Takes the supply away and gives it back. */
  powerCycle(): void {
    this.eeprom.restorePower();
    this.#mcu.reset(resetCause.powerOn);
    this.converters.powerUp();
  }

  /** Lets the program spin in one place, as a program gone wrong would: only the watchdog or a reset ends it. */
  hang(interrupts = false): void {
    this.#mcu.hang(interrupts);
  }

  /** Remembers this moment, the EEPROM's contents apart; the function returned brings the board back to it. */
  save(): () => void {
    const restores = [this.#mcu.save(), this.serial.save(), this.converters.save()];
    const outputs = this.#outputs;
    const planned = this.#planned.slice();
    return () => {
      for (const restore of restores) restore();
      this.#outputs = outputs;
      this.#planned = planned.slice();
    };
  }

  readonly #nextWheelLevel = (): void => {
    const { a, b } = this.#planned.shift() as PlannedLevel;
    this.#mcu.portD.setPin(directionPin, b === 1);
    this.#mcu.portD.setPin(pulsePin, a === 1);
  };

  #outputsWritten(): void {
    const { data } = this.cpu;
    const outputs = (data[0x24] as number) & (data[0x25] as number);
    const changed = outputs ^ this.#outputs;
    this.#outputs = outputs;
    if (changed & motorBit) this.onMotor(this.motor, this.cpu.cycles + outputCycles);
  }

  #clockWritten(levels: number): void {
    this.converters.setClock((levels & (this.cpu.data[0x2a] as number) & clockBit) !== 0);
  }

  /** All six lines at once: one pass over the port rather than six. */
  #setDataLines(levels: number): void {
    const port = this.#mcu.portC as unknown as {
      pinValue: number;
      updatePinRegister(direction: number): void;
    };
    port.pinValue = levels;
    port.updatePinRegister(this.cpu.data[0x27] as number);
  }
}
