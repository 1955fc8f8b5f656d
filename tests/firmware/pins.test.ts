import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { firmwareFolder } from './tools.ts';

const notes = readFileSync(fileURLToPath(new URL('../../hardware-notes/README.md', import.meta.url)), 'utf8');
const board = readFileSync(`${firmwareFolder}board.h`, 'utf8');

/** What the pin table says of each pin of `board.h`. */
const pins = [
  ['WHEEL_A_BIT', 'wheel pulse A'],
  ['STOP_BIT', 'stop sense'],
  ['WHEEL_B_BIT', 'wheel direction B'],
  ['CONVERTER_CLOCK_BIT', 'clock of all converters'],
  ['MOTOR_BIT', 'motor'],
  ['LAMP_BIT', 'lamp or horn'],
  ['ALIVE_BIT', 'the board’s own LED'],
] as const;

describe('the pin table of the hardware notes', () => {
  it.each(pins)('has %s where the program has it', (name, what) => {
    const pin = new RegExp(`#define ${name} (P[BCD]\\d)`).exec(board)![1]!;
    const row = notes.split('\n').find((line) => line.startsWith(`| ${pin} `))!;
    expect(row.replaceAll("'", '’')).toContain(what);
  });

  it('tells no pin twice', () => {
    const told = [...notes.matchAll(/^\| (P[BCD]\d(?: to P[BCD]\d)?)/gm)].map(([, pin]) => pin);
    expect(new Set(told).size).toBe(told.length);
    expect(told).toHaveLength(10);
  });
});
