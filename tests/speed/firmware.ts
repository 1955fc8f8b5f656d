import { interruptCycles } from '../firmware/cycles.ts';
import { stackUnusedWhenBusy } from '../hardware/busy-board.ts';
import { builtProgram, namedLocks, shippedProgram } from '../hardware/program.ts';
import { findProgram } from '../needs.ts';
import { type Figure, judged } from './figures.ts';

const flashBytes = 32_768;
const ramBytes = 2048;

/** The interrupts by their number in the chip. */
const interrupts = { wheel: 1, clock: 11, received: 18, sent: 20 } as const;

/** What the firmware takes of the chip: flash, RAM, stack, and how long interrupts are off. Empty without avr-gcc. */
export function firmware(): Figure[] {
  if (findProgram('avr-gcc') === null || findProgram('make') === null) return [];
  const { functions, sizes } = builtProgram();
  const program = shippedProgram();
  const flash = sizes.get('text')! + sizes.get('data')!;
  const variables = sizes.get('data')! + sizes.get('bss')! + sizes.get('noinit')!;
  const unused = stackUnusedWhenBusy();
  const counted = 'counted along the longest path of the shipped .hex, emulated cycles, 16 a microsecond';
  const longest = new Map<string, number>();
  for (const { name, cycles } of namedLocks(program, functions))
    longest.set(name, Math.max(longest.get(name) ?? 0, cycles));
  return [
    judged({
      id: 'flash',
      value: flash,
      unit: 'bytes',
      aim: `<= ${flashBytes / 2}`,
      how: `of ${flashBytes}`,
    }),
    judged({ id: 'variables', value: variables, unit: 'bytes', how: `of ${ramBytes}` }),
    judged({
      id: 'stack',
      value: ramBytes - variables - unused,
      unit: 'bytes',
      how: 'used at most: six cells, every command, a save, 1 500 pulses a second, motor run; as the board tells itself',
    }),
    judged({ id: 'stack-free', value: unused, unit: 'bytes', aim: '> 256', how: 'never used in the same' }),
    ...Object.entries(interrupts).map(([name, vector]) =>
      judged({
        id: `interrupt-${name}`,
        value: interruptCycles(program, vector),
        unit: 'cycles',
        how: counted,
      }),
    ),
    ...[...longest].map(([name, cycles]) =>
      judged({ id: `interrupts-off-${name}`, value: cycles, unit: 'cycles', aim: '<= 19', how: counted }),
    ),
  ];
}
