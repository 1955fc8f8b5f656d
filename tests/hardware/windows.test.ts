/** The limits of the program that hardware-notes/firmware.md states, counted and measured again on the shipped .hex. */
import { readdirSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { projectFile } from '../../firmware-sim/project-file.ts';
import { firmwareFolder } from '../firmware/tools.ts';
import { needs } from '../needs.ts';
import { stackUnusedWhenBusy } from './busy-board.ts';
import { type BuiltProgram, builtProgram, type NamedLock, namedLocks, shippedProgram } from './program.ts';

const notes = readFileSync(projectFile('hardware-notes/firmware.md'), 'utf8');
const ram = 2048;

/** Figures of a table's row that begins so. */
function rowOf(start: string): number[] {
  const row = notes.split('\n').find((line) => line.startsWith(`| ${start}`));
  if (row === undefined) throw new Error(`hardware-notes/firmware.md has no row of ${start}`);
  return [...row.slice(start.length + 2).matchAll(/\| ?(\d+)/g)].map(([, figure]) => Number(figure));
}

describe.skipIf(!needs('avr-gcc') || !needs('make'))('the limits that the notes state', () => {
  let functions: BuiltProgram['functions'];
  let sizes: BuiltProgram['sizes'];
  let locks: NamedLock[];
  beforeAll(() => {
    ({ functions, sizes } = builtProgram());
    locks = namedLocks(shippedProgram(), functions);
  });

  it('name each stretch with interrupts off, and its cycles', () => {
    const said = [...notes.matchAll(/^\| `(\w+)` \| (\d+) \|/gm)].map(
      ([, name, cycles]) => [name!, Number(cycles)] as const,
    );
    expect(said).toHaveLength(6);
    const [others] = rowOf('others');
    for (const [name, cycles] of said) {
      const own = locks.filter((lock) => lock.name.split('.')[0] === name);
      expect(Math.max(...own.map((lock) => lock.cycles))).toBe(cycles);
    }
    const named = new Set(said.map(([name]) => name));
    const rest = locks.filter(({ name }) => !named.has(name.split('.')[0]!));
    console.info(locks.map(({ name, cycles }) => `${name} ${cycles}`).join(', '));
    for (const { cycles } of rest) expect(cycles).toBeLessThanOrEqual(others!);
  });

  it('tell flash and variables', () => {
    const variables = sizes.get('data')! + sizes.get('bss')! + sizes.get('noinit')!;
    expect(rowOf('flash')[0]).toBe(sizes.get('text')! + sizes.get('data')!);
    expect(rowOf('variables')[0]).toBe(variables);
  });

  it('tell the stack that a busy board has used', () => {
    const unused = stackUnusedWhenBusy();
    const variables = sizes.get('data')! + sizes.get('bss')! + sizes.get('noinit')!;
    const used = ram - variables - unused;
    console.info(`stack: ${used} bytes used at most, ${unused} never`);
    expect(used).toBeLessThanOrEqual(rowOf('stack used')[0]!);
    expect(unused).toBeGreaterThanOrEqual(rowOf('never used')[0]!);
    expect(unused).toBeGreaterThan(256);
  });

  it('hold: no memory is taken at run time', () => {
    const taking = functions.filter(({ name }) => /^(malloc|calloc|realloc|free|alloca)$/.test(name));
    expect(taking).toEqual([]);
    for (const file of readdirSync(firmwareFolder).filter((name) => name.endsWith('.c')))
      expect(readFileSync(firmwareFolder + file, 'utf8')).not.toMatch(/\b(malloc|alloca)\b/);
  });
});
