/**
 * An ATmega328P at 16 MHz, as far as the stand's firmware uses it: the core and most peripherals are those of avr8js, with
 * what they lack or get wrong mended here and in the files beside this one. Data sheet: Microchip DS40002061B.
 */
import {
  AVRClock,
  AVREEPROM,
  AVRIOPort,
  AVRTimer,
  AVRWatchdog,
  avrInstruction,
  type EEPROMBackend,
  eepromConfig,
  portBConfig,
  portCConfig,
  portDConfig,
  timer0Config,
  timer1Config,
  timer2Config,
  watchdogConfig,
} from 'avr8js';
import { BoardCpu, cyclesPerSecond } from './cpu.ts';
import { attachExternalInterrupts } from './external-interrupts.ts';
import { makeTimerLazy } from './lazy-timer.ts';
import { keepFields } from './snapshot.ts';
import { Usart } from './usart.ts';

/** What brought the chip out of reset, as its bit in MCUSR. */
export const resetCause = { powerOn: 0x01, external: 0x02, brownOut: 0x04, watchdog: 0x08 } as const;

const SMCR = 0x53;
const MCUSR = 0x54;
const SREG = 0x5f;
const sleepEnabled = 0x01;
const interruptsOn = 0x80;
const EEPE = 0x02;
const WDCE = 0x10;
const WDE = 0x08;

/** Instructions that the run loop must treat by itself. */
const ordinary = 0;
const sleep = 1;
/** SEI and RETI: the instruction after them runs before any interrupt (data sheet 6.7). */
const delaysInterrupts = 2;
/** CBI takes two cycles; the stock core charges one. */
const clearBit = 3;

/** `rjmp .-2`, at the last word of the flash: where a hung program spins. */
const spinOpcode = 0xcfff;

const timerConfigs = [timer0Config, timer1Config, timer2Config];

/** What a reset must touch of the stock peripherals' insides (avr8js 0.21.1). */
interface WatchdogState {
  enabledValue: boolean;
  scheduled: boolean;
}
interface EepromState {
  writeCompleteCycles: number;
}

export class Mcu {
  readonly cpu: BoardCpu;
  readonly portB: AVRIOPort;
  readonly portC: AVRIOPort;
  readonly portD: AVRIOPort;
  readonly usart: Usart;
  readonly #timers: AVRTimer[];
  readonly #watchdog: WatchdogState;
  readonly #eeprom: EepromState;
  /** The kind of each word of the flash. */
  readonly #kinds: Uint8Array;
  /** In sleep: nothing executes until an interrupt is taken. */
  asleep = false;

  /** @param flash program image, 32 KiB. */
  constructor(flash: Uint8Array, eeprom: EEPROMBackend) {
    const cpu = new BoardCpu(flash);
    this.cpu = cpu;
    this.portB = new AVRIOPort(cpu, portBConfig);
    this.portC = new AVRIOPort(cpu, portCConfig);
    this.portD = new AVRIOPort(cpu, { ...portDConfig, externalInterrupts: [] });
    attachExternalInterrupts(cpu, this.portD);
    this.usart = new Usart(cpu);
    this.#timers = timerConfigs.map((config) => {
      const timer = new AVRTimer(cpu, config);
      makeTimerLazy(cpu, timer, config);
      return timer;
    });
    this.#eeprom = new AVREEPROM(cpu, eeprom) as unknown as EepromState;
    const clock = new AVRClock(cpu, cyclesPerSecond);
    this.#watchdog = new AVRWatchdog(cpu, watchdogConfig, clock) as unknown as WatchdogState;
    cpu.progMem[cpu.progMem.length - 1] = spinOpcode;
    this.#kinds = Uint8Array.from(cpu.progMem, kindOf);
    this.reset(resetCause.powerOn);
  }

  /** Runs the program until `cycle`, at most one instruction further. */
  run(cycle: number): void {
    const { cpu } = this;
    while (cpu.cycles < cycle) {
      let delayed = false;
      if (this.asleep) {
        cpu.cycles = Math.min(cycle, Math.max(cpu.cycles, cpu.nextEventCycle));
      } else {
        const kind = this.#kinds[cpu.pc];
        avrInstruction(cpu);
        if (kind !== ordinary) {
          if (kind === delaysInterrupts) delayed = true;
          else if (kind === clearBit) cpu.cycles++;
          else this.asleep = ((cpu.data[SMCR] as number) & sleepEnabled) !== 0;
        }
      }
      if (cpu.nextEventCycle <= cpu.cycles) this.#fireEvents();
      if (cpu.nextInterrupt >= 0 && (cpu.data[SREG] as number) & interruptsOn && !delayed) this.#interrupt();
    }
  }

  #fireEvents(): void {
    this.cpu.fireDueEvents();
    if (this.cpu.resetRequested) this.reset(resetCause.watchdog);
  }

  /** Waking from sleep costs four cycles on top of the entry (data sheet 6.7.1). No event is left behind by the cycles spent. */
  #interrupt(): void {
    if (this.asleep) this.cpu.cycles += 4;
    this.asleep = false;
    this.cpu.enterInterrupt();
    if (this.cpu.nextEventCycle <= this.cpu.cycles) this.#fireEvents();
  }

  /**
   * Resets the chip: every I/O register to its initial value, so that all pins become inputs at once, which the stock core
   * leaves to the program. SRAM keeps what it holds but for a power-on, after which it holds noise.
   */
  reset(cause: number): void {
    const { cpu } = this;
    const powerOn = cause === resetCause.powerOn;
    const causes = powerOn ? cause : (cpu.data[MCUSR] as number) | cause;
    cpu.data.fill(0, 0x20, 0x100);
    if (powerOn) for (let at = 0x100; at < cpu.data.length; at++) cpu.data[at] = (at * 151) & 0xff;
    cpu.resetCore();
    cpu.data[MCUSR] = causes;
    this.asleep = false;
    for (const { PORT, DDR } of [portBConfig, portCConfig, portDConfig]) {
      cpu.writeData(PORT, 0);
      cpu.writeData(DDR, 0);
    }
    this.usart.reset();
    for (const [index, timer] of this.#timers.entries()) {
      timer.reset();
      cpu.writeData((timerConfigs[index] as typeof timer0Config).TCCRA, 0);
    }
    this.#resetEeprom(powerOn);
    this.#resetWatchdog(causes);
  }

  /** Lets the program spin in one place from now on, interrupts off unless asked: only a reset ends it. */
  hang(interrupts = false): void {
    const { cpu } = this;
    cpu.pc = cpu.progMem.length - 1;
    this.asleep = false;
    const status = (cpu.data[SREG] as number) & ~interruptsOn;
    cpu.data[SREG] = interrupts ? status | interruptsOn : status;
  }

  /** Remembers the chip's state, flash and EEPROM apart; the function returned brings it back. */
  save(): () => void {
    const { cpu } = this;
    const parts = [
      this,
      this.portB,
      this.portC,
      this.portD,
      this.usart,
      this.#watchdog,
      this.#eeprom,
      ...this.#timers,
    ];
    const restores = [
      keepFields(cpu, ['progMem', 'progBytes', 'data16', 'readHooks', 'writeHooks', 'gpioByPort']),
      cpu.saveEvents(),
      ...parts.map((part) => keepFields(part)),
    ];
    return () => {
      for (const restore of restores) restore();
    };
  }

  /** A write under way goes on through a reset; without power it ends where it is. */
  #resetEeprom(powerOn: boolean): void {
    const { cpu } = this;
    const end = this.#eeprom.writeCompleteCycles;
    if (powerOn) this.#eeprom.writeCompleteCycles = 0;
    else if (cpu.cycles < end) {
      cpu.data[eepromConfig.EECR] = EEPE;
      cpu.addClockEvent(() => {
        cpu.data[eepromConfig.EECR] = (cpu.data[eepromConfig.EECR] as number) & ~EEPE;
      }, end - cpu.cycles);
    }
  }

  /** As long as the watchdog's flag stands in MCUSR the watchdog is on, at its shortest time (data sheet 10.9.2). */
  #resetWatchdog(causes: number): void {
    this.#watchdog.enabledValue = false;
    this.#watchdog.scheduled = false;
    if (!(causes & resetCause.watchdog)) return;
    this.cpu.writeData(watchdogConfig.WDTCSR, WDCE | WDE);
    this.cpu.writeData(watchdogConfig.WDTCSR, WDE);
  }
}

function kindOf(opcode: number): number {
  if (opcode === 0x9588) return sleep;
  if (opcode === 0x9478 || opcode === 0x9518) return delaysInterrupts;
  if ((opcode & 0xff00) === 0x9800) return clearBit;
  return ordinary;
}
