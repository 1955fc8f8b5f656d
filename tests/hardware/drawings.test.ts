/** The pictures of the hardware notes are what their sources give, and tell the pins that the program has. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { projectFile } from '../../firmware-sim/project-file.ts';
import { drawing, drawingNames, drawingsFolder } from '../../hardware-notes/drawings/draw.ts';
import { firmwareFolder } from '../firmware/tools.ts';

const source = (name: string): string => readFileSync(join(drawingsFolder, `${name}.txt`), 'utf8');

describe('the drawings', () => {
  it.each(drawingNames())('%s.svg is what %s.txt gives', (name) => {
    expect(readFileSync(join(drawingsFolder, `${name}.svg`), 'utf8')).toBe(drawing(source(name)));
  });

  it('are each shown in the notes, and no picture is shown that is not there', () => {
    const folder = projectFile('hardware-notes');
    const pages = readdirSync(folder).filter((name) => name.endsWith('.md'));
    const text = pages.map((name) => readFileSync(join(folder, name), 'utf8')).join('\n');
    const shown = [...text.matchAll(/\(drawings\/(\w+)\.svg\)/g)].map(([, name]) => name!);
    expect([...new Set(shown)].sort()).toEqual(drawingNames().sort());
    for (const [, page] of text.matchAll(/\((\w+\.md)\)/g))
      expect(existsSync(join(folder, page!))).toBe(true);
  });

  it('refuse a line that is no part, by its number', () => {
    expect(() => drawing('size 10 10\nbocks 1 2 3 4 "x"')).toThrow('Line 2');
  });

  it('keep what would be markup as text', () => {
    expect(drawing('text 1 2 "a < b & c"')).toContain('a &lt; b &amp; c');
  });

  const board = readFileSync(`${firmwareFolder}board.h`, 'utf8');
  const rows = [
    ['WHEEL_A_BIT', 100],
    ['WHEEL_B_BIT', 190],
    ['STOP_BIT', 290],
  ] as const;

  it.each(rows)('wire %s at the height of its part', (name, height) => {
    const pin = new RegExp(`#define ${name} (P[BCD]\\d)`).exec(board)![1]!;
    expect(source('wiring')).toContain(`pin 400 ${height} "${pin}"`);
  });

  it.each([
    ['CONVERTER_CLOCK_BIT', 110],
    ['MOTOR_BIT', 360],
    ['LAMP_BIT', 480],
  ] as const)('wire %s at the height of its part, on the right', (name, height) => {
    const pin = new RegExp(`#define ${name} (P[BCD]\\d)`).exec(board)![1]!;
    expect(source('wiring')).toContain(`text 530 ${height + 5} "${pin}"`);
    expect(source('wiring')).toContain(`wire 570 ${height} 760 ${height}`);
  });
});
