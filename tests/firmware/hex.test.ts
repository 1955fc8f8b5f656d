import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { run, shippedHex } from './tools.ts';

describe.skipIf(!needs('avr-gcc') || !needs('make'))('the shipped .hex', () => {
  let folder = '';
  let sections = new Map<string, number>();

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'firmware-hex-'));
    run('make', ['-s', `OUT=${folder}`]);
    const sizes = run('avr-size', ['-A', join(folder, 'dist/catchbench-stand.elf')]);
    sections = new Map(
      [...sizes.matchAll(/^\.(\w+)\s+(\d+)/gm)].map(([, name, bytes]) => [name!, Number(bytes)]),
    );
  }, 120_000);

  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('is what the source beside it builds, byte for byte', () => {
    expect(readFileSync(join(folder, 'catchbench-stand.hex'), 'utf8')).toBe(readFileSync(shippedHex, 'utf8'));
  });

  it('leaves half of the flash free', () => {
    const flash = sections.get('text')! + sections.get('data')!;
    expect(flash).toBeGreaterThan(4096);
    expect(flash).toBeLessThan(16_384);
  });

  it('leaves a third of the memory to the stack', () => {
    const memory = sections.get('data')! + sections.get('bss')! + sections.get('noinit')!;
    expect(memory).toBeGreaterThan(512);
    expect(memory).toBeLessThan(1365);
  });
});
