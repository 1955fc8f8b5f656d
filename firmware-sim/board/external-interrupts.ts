/**
 * INT0, INT1 and the pin-change interrupts of the ATmega328P, chapter 12 of its data sheet (Microchip DS40002061B).
 *
 * Stock behaviour replaced here: an edge is latched in EIFR even while EIMSK masks it, writing one flag leaves the other alone
 * (SBI on EIFR hands the whole register to the write hook), and PCICR enables and disables what PCIFR holds.
 */
import { type AVRIOPort, type CPU, PCINT0, PCINT1, PCINT2 } from 'avr8js';

const EIFR = 0x3c;
const EIMSK = 0x3d;
const EICRA = 0x69;
const PCIFR = 0x3b;
const PCICR = 0x68;

const externals = [0, 1].map((index) => ({
  address: 2 + 2 * index,
  flagRegister: EIFR,
  flagMask: 1 << index,
  enableRegister: EIMSK,
  enableMask: 1 << index,
  constant: false,
}));

const pinChanges = [PCINT0, PCINT1, PCINT2].map((config) => ({
  address: config.pinChangeInterrupt,
  flagRegister: PCIFR,
  flagMask: 1 << config.PCIE,
  enableRegister: PCICR,
  enableMask: 1 << config.PCIE,
}));

/** Sense control of EICRA: low level, any change, falling edge, rising edge. Low level is not emulated. */
const anyChange = 1;
const fallingEdge = 2;
const risingEdge = 3;

/** Port D for `new AVRIOPort`, its external interrupts left to `attachExternalInterrupts`. */
export function attachExternalInterrupts(cpu: CPU, portD: AVRIOPort): void {
  for (const [index, interrupt] of externals.entries()) {
    portD.externalClockListeners[2 + index] = (high) => {
      const sense = ((cpu.data[EICRA] as number) >> (2 * index)) & 3;
      if (sense === anyChange || sense === (high ? risingEdge : fallingEdge)) cpu.setInterruptFlag(interrupt);
    };
  }
  cpu.writeHooks[EIMSK] = enableHook(cpu, EIMSK, externals);
  cpu.writeHooks[EIFR] = clearHook(cpu, externals);
  cpu.writeHooks[PCICR] = enableHook(cpu, PCICR, pinChanges);
  cpu.writeHooks[PCIFR] = clearHook(cpu, pinChanges);
  for (const { PCMSK } of [PCINT0, PCINT1, PCINT2]) delete cpu.writeHooks[PCMSK];
}

type Interrupts = Parameters<CPU['setInterruptFlag']>[0][];

function enableHook(cpu: CPU, register: number, interrupts: Interrupts) {
  return (value: number): true => {
    cpu.data[register] = value;
    for (const interrupt of interrupts) cpu.updateInterruptEnable(interrupt, value);
    return true;
  };
}

function clearHook(cpu: CPU, interrupts: Interrupts) {
  return (value: number, _old: number, _address: number, mask: number): true => {
    for (const interrupt of interrupts) cpu.clearInterruptByFlag(interrupt, value & mask);
    return true;
  };
}
