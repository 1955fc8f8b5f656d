import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkDigits, crc16 } from '../../server/link/crc16.ts';
import { BlockError, packBlock, packProven, unpackBlock } from '../../server/records/block.ts';
import type { JournalEntry } from '../../server/records/types.ts';

const withCheck = (text: string): string => `${text}*${checkDigits(crc16(text))}`;

/** Lines as a board with one cell sends them, with the host's own uneven clock. */
function boardLines(count: number): JournalEntry[] {
  return Array.from({ length: count }, (_, index) => ({
    position: index,
    hostMillis: index * 12.5 + ((index * 7919) % 1000) / 1000,
    kind: 'line',
    text: withCheck(
      `R ${index % 65536} ${1_000_000 + index * 12_500 + ((index * 31) % 400)} ${index >> 1} 0 ${(index * 1237) % 25_000} turning - 01 ${150_000 + index * 60 + ((index * 7919) % 251)}`,
    ),
  }));
}

const anyText = fc.string({ unit: 'binary', maxLength: 60 });
const number = fc.oneof(
  fc.nat(),
  fc.integer(),
  fc.constantFrom('-0', '007', '+1', '1e3', '', '99999999999999999'),
);
const boardLine = fc
  .tuple(fc.constantFrom('R', 'E', 'A', 'S'), fc.array(number, { maxLength: 12 }))
  .map(([word, fields]) => withCheck([word, ...fields].join(' ')));
const damagedLine = fc
  .tuple(boardLine, fc.nat({ max: 200 }), fc.integer({ min: 0, max: 255 }))
  .map(([line, at, code]) => {
    const place = at % line.length;
    return line.slice(0, place) + String.fromCharCode(code) + line.slice(place + 1);
  });
const time = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.nat(),
  fc.nat().map((n) => n / 1000),
);
const entry = fc.record({
  kind: fc.constantFrom('line', 'sent', 'input' as const),
  hostMillis: time.map((millis) => millis + 0), // JSON knows no negative zero
  text: fc.oneof(boardLine, damagedLine, anyText),
});

describe('a block of entries', () => {
  it('gives back what went in, to the byte: good lines, damaged lines, any text, any time', () => {
    fc.assert(
      fc.property(fc.array(entry, { minLength: 1, maxLength: 100 }), fc.nat(), (samples, first) => {
        const entries = samples.map((sample, index) => ({
          position: first + index,
          ...sample,
        })) as JournalEntry[];
        expect(unpackBlock(packBlock(entries), first)).toEqual(entries);
        expect(unpackBlock(packProven(entries), first)).toEqual(entries);
      }),
      { numRuns: 500 },
    );
  });

  it('takes at most 20 bytes a reading, in batches of a quarter of a second and packed', () => {
    const lines = boardLines(4000);
    let batches = 0;
    for (let at = 0; at < lines.length; at += 20) batches += packBlock(lines.slice(at, at + 20)).length;
    expect(batches / lines.length).toBeLessThan(20);
    expect(packBlock(lines).length / lines.length).toBeLessThan(12);
  });

  it('tells when a single bit of it has changed', () => {
    const block = packBlock(boardLines(20));
    for (let at = 1; at < block.length; at++) {
      const harmed = Uint8Array.from(block);
      harmed[at]! ^= 1 << (at % 8);
      expect(() => unpackBlock(harmed, 0)).toThrow(BlockError);
    }
    expect(() => unpackBlock(new Uint8Array(), 0)).toThrow(BlockError);
  });
});
