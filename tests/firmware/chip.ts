/**
 * The bare chip for the firmware's own tests: the built .hex on avr8js, with the wheel sensor, converters that are always a
 * fixed time apart, and the serial line. Only what cycle counts need; the whole stand is in firmware-sim.
 */
import {
  AVRClock,
  AVREEPROM,
  AVRIOPort,
  AVRTimer,
  AVRUSART,
  AVRWatchdog,
  avrInstruction,
  CPU,
  clockConfig,
  EEPROMMemoryBackend,
  eepromConfig,
  portBConfig,
  portCConfig,
  portDConfig,
  timer1Config,
  usart0Config,
  watchdogConfig,
} from 'avr8js';

export const CLOCK_HZ = 16_000_000;
const FLASH_WORDS = 0x4000;
const SLEEP_OPCODE = 0x9588;
const PD2 = 2;
const PD3 = 3;
const PD4 = 4;
const PD5 = 5;

/** Intel HEX into program memory. */
export function loadHex(hex: string): Uint16Array {
  const bytes = new Uint8Array(FLASH_WORDS * 2);
  for (const row of hex.split('\n')) {
    if (!row.startsWith(':') || row.slice(7, 9) !== '00') continue;
    const length = Number.parseInt(row.slice(1, 3), 16);
    const address = Number.parseInt(row.slice(3, 7), 16);
    for (let i = 0; i < length; i++)
      bytes[address + i] = Number.parseInt(row.slice(9 + 2 * i, 11 + 2 * i), 16);
  }
  return new Uint16Array(bytes.buffer);
}

/** Six converters of one kind on one clock: `value` is what each holds when it is ready. */
class Converters {
  private shifted: number[];
  private clock = 0;
  readonly ready: boolean[];

  constructor(
    private readonly drive: (cell: number, level: boolean) => void,
    readonly values: number[],
  ) {
    this.shifted = values.map(() => 0);
    this.ready = values.map(() => false);
    for (let cell = 0; cell < values.length; cell++) drive(cell, true);
  }

  finish(cell: number): void {
    this.ready[cell] = true;
    this.shifted[cell] = 0;
    this.drive(cell, false);
  }

  clockLine(level: 0 | 1): void {
    if (level === this.clock) return;
    this.clock = level;
    if (level === 0) return;
    for (let cell = 0; cell < this.values.length; cell++) {
      if (!this.ready[cell]) continue;
      const n = this.shifted[cell]! + 1;
      this.shifted[cell] = n;
      this.drive(cell, n > 24 || ((this.values[cell]! >> (24 - n)) & 1) === 1);
      if (n >= 25) this.ready[cell] = false;
    }
  }
}

export interface ChipOptions {
  hex: string;
  eeprom?: Uint8Array;
  values?: number[];
  /** Cycles between conversions; 0 for none. */
  conversionCycles?: number;
}

export class Chip {
  readonly cpu: CPU;
  readonly portB: AVRIOPort;
  readonly portC: AVRIOPort;
  readonly portD: AVRIOPort;
  readonly usart: AVRUSART;
  readonly eeprom = new EEPROMMemoryBackend(1024);
  readonly converters: Converters;
  readonly lines: string[] = [];
  /** Cycle of the newest fall of the motor pin. */
  motorOffCycle = -1;
  motorOn = false;
  private text = '';
  private toBoard: number[] = [];
  private sending = false;

  constructor(options: ChipOptions) {
    this.cpu = new CPU(loadHex(options.hex), 2048);
    const { cpu } = this;
    if (options.eeprom) this.eeprom.memory.set(options.eeprom);
    new AVRTimer(cpu, timer1Config);
    new AVREEPROM(cpu, this.eeprom, eepromConfig);
    new AVRWatchdog(cpu, watchdogConfig, new AVRClock(cpu, CLOCK_HZ, clockConfig));
    this.portB = new AVRIOPort(cpu, portBConfig);
    this.portC = new AVRIOPort(cpu, portCConfig);
    this.portD = new AVRIOPort(cpu, portDConfig);
    this.usart = new AVRUSART(cpu, usart0Config, CLOCK_HZ);
    cpu.data[0x54] = 1; // power-on
    this.portD.setPin(PD3, false);
    this.portD.setPin(PD2, false);
    this.portD.setPin(PD4, false);
    this.converters = new Converters((cell, level) => this.portC.setPin(cell, level), options.values ?? [0]);
    this.portB.addListener((value) => this.watchMotor((value & 1) === 1));
    this.portD.addListener((value) => this.converters.clockLine(((value >> PD5) & 1) as 0 | 1));
    this.usart.onByteTransmit = (byte) => this.takeByte(byte);
    const every = options.conversionCycles ?? CLOCK_HZ / 80;
    if (every > 0) this.keepConverting(every);
  }

  /** Runs to the given cycle, sleeping through sleep. */
  runTo(cycle: number): void {
    const { cpu } = this;
    while (cpu.cycles < cycle) {
      const at = cpu.pc;
      avrInstruction(cpu);
      cpu.tick();
      if (cpu.progMem[at] === SLEEP_OPCODE && cpu.pc === at + 1) this.sleepTo(cycle);
    }
  }

  runFor(cycles: number): void {
    this.runTo(this.cpu.cycles + cycles);
  }

  runMilliseconds(ms: number): void {
    this.runFor((ms * CLOCK_HZ) / 1000);
  }

  /** Sends bytes at the line's speed, one after the other. */
  send(text: string): void {
    for (const character of text) this.toBoard.push(character.charCodeAt(0));
    if (!this.sending) this.sendNext();
  }

  wheel(level: boolean): void {
    this.portD.setPin(PD2, level);
  }

  direction(level: boolean): void {
    this.portD.setPin(PD4, level);
  }

  stopContact(open: boolean): void {
    this.portD.setPin(PD3, open);
  }

  private sleepTo(limit: number): void {
    const { cpu } = this;
    const pc = cpu.pc;
    while (cpu.pc === pc && cpu.cycles < limit) {
      const next = cpu.nextClockEvent;
      cpu.cycles = next ? Math.min(limit, Math.max(cpu.cycles, next.cycles)) : limit;
      cpu.tick();
    }
    if (cpu.pc === pc) cpu.pc = pc - 1; // still asleep when the time is up
  }

  private watchMotor(on: boolean): void {
    if (this.motorOn && !on) this.motorOffCycle = this.cpu.cycles;
    this.motorOn = on;
  }

  private takeByte(byte: number): void {
    this.text += String.fromCharCode(byte);
    if (byte !== 10) return;
    this.lines.push(this.text.trimEnd());
    this.text = '';
  }

  private sendNext(): void {
    const byte = this.toBoard.shift();
    this.sending = byte !== undefined;
    if (byte === undefined) return;
    this.cpu.addClockEvent(() => {
      this.usart.writeByte(byte, true);
      this.sendNext();
    }, this.usart.cyclesPerChar);
  }

  private keepConverting(every: number): void {
    this.cpu.addClockEvent(() => {
      for (let cell = 0; cell < this.converters.values.length; cell++) this.converters.finish(cell);
      this.keepConverting(every);
    }, every);
  }
}
