import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crc16 } from '../../server/link/crc16.ts';
import { type BoardCommand, CommandError, encodeCommand } from '../../server/link/encode.ts';
import { arbitraryCommand } from './arbitraries.ts';

describe('a command to a line', () => {
  it('is tag, words, check and line feed, at most 64 characters, for every command there is', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 65535 }), arbitraryCommand, (tag, command) => {
        const line = encodeCommand(tag, command);
        const [, text = '', check = ''] = /^(\d+ [!-~]+(?: [!-~]+)*)\*([0-9A-F]{4})\n$/.exec(line) ?? [];
        expect(crc16(text)).toBe(Number.parseInt(check, 16));
        expect(text.split(' ')).toEqual([String(tag), ...wordsOf(command)]);
        expect(line.length - 1).toBeLessThanOrEqual(64);
        expect(line).not.toContain('!');
      }),
      { numRuns: 1000 },
    );
  });

  it('is not made of what the board could only refuse', () => {
    const wrong = [
      { command: 'arm', mode: 'motor', pulses: 0 },
      { command: 'arm', mode: 'motor', pulses: 1.5 },
      { command: 'arm', mode: 'hand', pulses: Number.NaN },
      { command: 'arm', mode: 'hand', pulses: 16777216 },
      { command: 'arm', mode: 'steam', pulses: 10 },
      { command: 'go', key: '' },
      { command: 'go', key: '007' },
      { command: 'go', key: '1\n2 stop' },
      { command: 'set', key: 'ppt', value: '0' },
      { command: 'set', key: 'slope1', value: '0' },
      { command: 'set', key: 'name', value: 'two words' },
      { command: 'set', key: 'name', value: 'stop!' },
      { command: 'set', key: 'colour', value: '1' },
      { command: 'set', key: '__proto__', value: '1' },
      { command: 'jump' },
    ] as unknown as BoardCommand[];
    for (const command of wrong) expect(() => encodeCommand(1, command)).toThrow(CommandError);
    for (const tag of [0, -1, 65536, 1.5])
      expect(() => encodeCommand(tag, { command: 'id' })).toThrow(CommandError);
  });
});

function wordsOf(command: BoardCommand): string[] {
  if (command.command === 'arm') return ['arm', command.mode, String(command.pulses)];
  if (command.command === 'go') return ['go', command.key];
  if (command.command === 'set') return ['set', command.key, command.value];
  return [command.command];
}
