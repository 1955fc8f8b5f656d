import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import {
  INTERRUPT_RESPONSE,
  interruptCycles,
  LONGEST_INSTRUCTION,
  lockedStretches,
  longestWay,
  readListing,
  vectorTarget,
} from './cycles.ts';
import { firmwareFolder, run, shippedHex } from './tools.ts';

/** The interrupts of the firmware: vector number in the chip, name and file in the source. */
const interrupts = [
  { vector: 1, name: 'INT0_vect', file: 'wheel.c' },
  { vector: 11, name: 'TIMER1_COMPA_vect', file: 'clock.c' },
  { vector: 18, name: 'USART_RX_vect', file: 'serial.c' },
  { vector: 20, name: 'USART_TX_vect', file: 'serial.c' },
];
const WHEEL_VECTOR = 1;
/** Longest from a pulse edge to the motor pin: 12.5 µs. */
const EDGE_TO_MOTOR = 200;
/** Waking from idle sleep comes on top of the interrupt response; the pin's synchroniser takes up to 3 (data sheet, from memory). */
const WAKE_UP = 4;
const SYNCHRONISER = 3;

/** The figures in the comment above an interrupt: budget and worst, then those to the motor pin if there are any. */
function figuresAbove(name: string, file: string): number[] {
  const source = readFileSync(firmwareFolder + file, 'utf8');
  const comment = source.slice(
    source.lastIndexOf('Budget', source.indexOf(`ISR(${name})`)),
    source.indexOf(`ISR(${name})`),
  );
  const figures = /Budget (\d+) cycles, worst (\d+)(?:; to the motor pin: budget (\d+), worst (\d+))?/.exec(
    comment,
  );
  return figures!.slice(1).filter(Boolean).map(Number);
}

describe.skipIf(!needs('avr-gcc'))('cycles of the shipped program', () => {
  const program = readListing(run('avr-objdump', ['-D', '-m', 'avr5', '-b', 'ihex', shippedHex]));
  const toMotorPin =
    INTERRUPT_RESPONSE +
    3 +
    longestWay(
      program,
      vectorTarget(program, WHEEL_VECTOR),
      (i) => i.mnemonic === 'cbi' && /^0x05, 0\b/.test(i.operands),
    );

  it.each(interrupts)('$name takes what the comment above it says', ({ vector, name, file }) => {
    const [budget, worst] = figuresAbove(name, file);
    expect(interruptCycles(program, vector)).toBe(worst);
    expect(worst).toBeLessThanOrEqual(budget!);
  });

  it('reach the motor pin in what the comment above INT0 says', () => {
    const [, , budget, worst] = figuresAbove('INT0_vect', 'wheel.c');
    expect(toMotorPin).toBe(worst);
    expect(worst).toBeLessThanOrEqual(budget!);
  });

  it('lets no other interrupt and no lock hold back the motor for more than 200', () => {
    const others = interrupts.filter(({ vector }) => vector !== WHEEL_VECTOR);
    const longestOther = Math.max(...others.map(({ vector }) => interruptCycles(program, vector)));
    const locks = lockedStretches(program).map(({ cycles }) => cycles);
    const longestLock = Math.max(...locks);
    expect(locks.length).toBeGreaterThan(5);
    expect(longestLock).toBeGreaterThan(15);
    // After an interrupt one instruction of the foreground runs; if that begins a lock, the pulse waits for its end too.
    const worst = SYNCHRONISER + WAKE_UP + longestOther + longestLock + LONGEST_INSTRUCTION + toMotorPin;
    console.info(
      `edge to motor pin: at most ${worst} cycles (interrupt ${longestOther}, lock ${longestLock}, pulse ${toMotorPin})`,
    );
    expect(worst).toBeLessThanOrEqual(EDGE_TO_MOTOR);
  });

  it('never begins a lock right after another', () => {
    const starts = new Set(lockedStretches(program).map(({ address }) => address));
    for (const i of program.values())
      if (i.mnemonic === 'out' && i.operands.startsWith('0x3f')) expect(starts.has(i.next)).toBe(false);
  });
});
