/** The program built once more from its source, with the names that a .hex has not. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { lockedStretches, type Program, readListing } from '../firmware/cycles.ts';
import { run, shippedHex } from '../firmware/tools.ts';

export interface NamedLock {
  name: string;
  cycles: number;
}

export interface BuiltProgram {
  /** Functions by address, rising. */
  functions: { address: number; name: string }[];
  sizes: Map<string, number>;
}

/** Builds into a folder of its own, which is gone afterwards. The .hex that it makes is the shipped one (tests/firmware/hex.test.ts). */
export function builtProgram(): BuiltProgram {
  const folder = mkdtempSync(join(tmpdir(), 'firmware-names-'));
  try {
    run('make', ['-s', `OUT=${folder}`]);
    const elf = join(folder, 'dist/catchbench-stand.elf');
    const functions = [...run('avr-nm', ['-n', elf]).matchAll(/^([0-9a-f]+) [tT] ([\w.]+)$/gm)].map(
      ([, address, name]) => ({ address: Number.parseInt(address!, 16), name: name! }),
    );
    const sizes = new Map(
      [...run('avr-size', ['-A', elf]).matchAll(/^\.(\w+)\s+(\d+)/gm)].map(([, name, bytes]) => [
        name!,
        Number(bytes),
      ]),
    );
    return { functions, sizes };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export function shippedProgram(): Program {
  return readListing(run('avr-objdump', ['-D', '-m', 'avr5', '-b', 'ihex', shippedHex]));
}

/** Every stretch with interrupts off, with the function that it lies in. */
export function namedLocks(program: Program, functions: BuiltProgram['functions']): NamedLock[] {
  return lockedStretches(program).map(({ address, cycles }) => ({
    name: functions.findLast((one) => one.address <= address)?.name ?? '?',
    cycles,
  }));
}
