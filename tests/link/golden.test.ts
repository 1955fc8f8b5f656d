import { describe, expect, it } from 'vitest';
import { checkDigits, crc16 } from '../../server/link/crc16.ts';
import { decodeLine } from '../../server/link/decode.ts';
import { type BoardCommand, CommandError, encodeCommand } from '../../server/link/encode.ts';
import type { BoardLine } from '../../server/link/readings.ts';
import { settingKeys } from '../../server/link/settings.ts';
import { writeLine } from './board-lines.ts';
import { type GoldenRow, goldenRowsOf } from './golden.ts';

/** The file that the firmware's tests read too. */

const letters = (reset = ''): string => (reset === '-' ? '' : reset);
const count = (text: string): number | null => (text === 'x' ? null : Number(text));

const meaningAsLine: Record<string, (m: Record<string, string>) => Omit<BoardLine, 'sequence'>> = {
  reading: (m) => ({
    kind: 'reading',
    boardMicros: Number(m.time),
    forwardPulses: Number(m.forward),
    backwardPulses: Number(m.backward),
    pulseAgeMicros: m.age === '9999999' ? null : Number(m.age),
    state: m.state,
    why: m.why,
    flags: Number.parseInt(m.flags!, 16),
    counts: m.counts!.split(',').map(count),
  }),
  change: (m) => ({
    kind: 'change',
    boardMicros: Number(m.time),
    state: m.state,
    why: m.why,
    forwardPulses: Number(m.forward),
    backwardPulses: Number(m.backward),
  }),
  identity: (m) => ({
    kind: 'identity',
    protocol: Number(m.proto),
    firmware: m.fw,
    name: m.name,
    settings: m.settings,
    boot: Number(m.boot),
    reset: letters(m.reset),
    pulsesPerTurn: Number(m.ppt),
    cells: Number(m.cells),
    direction: Number(m.direction),
    debounceMicros: Number(m.debounce),
    armings: Number(m.armings),
  }),
  answer: (m) => ({ kind: 'answer', tag: Number(m.tag), ok: m.ok === 'yes', word: m.word }),
  setting: (m) => ({ kind: 'setting', key: m.key, value: m.value }),
  health: ({ sequence: _, reset, ...figures }) => ({
    kind: 'health',
    figures: Object.fromEntries(Object.entries(figures).map(([name, value]) => [name, Number(value)])),
    reset: letters(reset),
  }),
};

const lineOf = ({ kind, meaning }: GoldenRow): BoardLine =>
  ({ ...meaningAsLine[kind]!(meaning), sequence: Number(meaning.sequence) }) as BoardLine;

function commandOf({ command, mode, pulses, key, value }: Record<string, string>): BoardCommand {
  return { command, mode, pulses: Number(pulses), key, value } as unknown as BoardCommand;
}

describe('golden lines', () => {
  it.each(goldenRowsOf('crc'))('check of $line', ({ line, meaning }) => {
    expect(checkDigits(crc16(line))).toBe(meaning.check);
  });

  it.each(goldenRowsOf(...Object.keys(meaningAsLine)))('$line means what the file says', (row) => {
    expect(decodeLine(row.line)).toEqual({ ok: true, line: lineOf(row) });
    expect(writeLine(lineOf(row))).toBe(row.line);
  });

  it.each(goldenRowsOf('broken'))('$line is not believed', ({ line }) => {
    expect(decodeLine(line)).toMatchObject({ ok: false });
  });

  it.each(goldenRowsOf('command').filter((row) => row.meaning.tag !== '0'))('$line is what we say', (row) => {
    expect(encodeCommand(Number(row.meaning.tag), commandOf(row.meaning))).toBe(`${row.line}\n`);
  });

  it('has every kind of line and every setting', () => {
    for (const kind of Object.keys(meaningAsLine)) expect(goldenRowsOf(kind).length).toBeGreaterThan(2);
    const keys = new Set(goldenRowsOf('setting').map((row) => row.meaning.key));
    expect([...keys].sort()).toEqual([...settingKeys].sort());
  });
});

/** No value of a command, however wrong, becomes a line that the board would refuse for its form. */
describe('commands that the board would refuse', () => {
  it.each(goldenRowsOf('refused').filter(({ line }) => /^\d+ (arm|go|set) /.test(line)))(
    '$line is never sent',
    ({ line }) => {
      const [tag, command, first = '', ...rest] = line.slice(0, line.indexOf('*')).split(' ');
      const last = rest.join(' ');
      const parts = { command, mode: first, pulses: Number(last), key: first, value: last };
      expect(sentFor(Number(tag), parts as unknown as BoardCommand)).not.toBe(`${line}\n`);
    },
  );
});

function sentFor(tag: number, command: BoardCommand): string {
  try {
    return encodeCommand(tag, command);
  } catch (error) {
    expect(error).toBeInstanceOf(CommandError);
    return 'nothing';
  }
}
