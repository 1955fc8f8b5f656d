import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineAssembler } from '../../server/link/lines.ts';

const bytesOf = (text: string): Buffer => Buffer.from(text, 'latin1');

function linesOf(...chunks: Uint8Array[]): { lines: string[]; dropped: { long: number; notAscii: number } } {
  const dropped = { long: 0, notAscii: 0 };
  const lines: string[] = [];
  const assembler = new LineAssembler(dropped);
  for (const chunk of chunks) assembler.push(chunk, (line) => lines.push(line));
  return { lines, dropped };
}

describe('bytes to lines', () => {
  it('takes the line end off, with or without a carriage return, and passes over empty lines', () => {
    expect(linesOf(bytesOf('one\r\ntwo\n\r\n\nthree\r\nhalf')).lines).toEqual(['one', 'two', 'three']);
  });

  it('drops a line of more than 160 characters whole, however long, and takes the next', () => {
    const fits = 'x'.repeat(160);
    for (const length of [161, 162, 100_000]) {
      const { lines, dropped } = linesOf(bytesOf(`${'y'.repeat(length)}\r\n${fits}\r\n${fits}\nnext\n`));
      expect(lines).toEqual([fits, fits, 'next']);
      expect(dropped).toEqual({ long: 1, notAscii: 0 });
    }
  });

  it('drops a line with any other byte in it, a carriage return inside included', () => {
    for (const byte of ['\x00', '\t', '\x1f', '\x7f', '\x80', '\xff', '\r']) {
      for (const line of [`ab${byte}cd`, `${byte}abcd`, `abcd${byte}`]) {
        const { lines, dropped } = linesOf(bytesOf(`${line}\r\nnext\r\n`));
        expect(lines).toEqual(['next']);
        expect(dropped).toEqual({ long: 0, notAscii: 1 });
      }
    }
  });

  it('gives the same lines and counts for any bytes in any chunks', () => {
    const bytes = fc.uint8Array({ maxLength: 900 });
    const lineish = fc.stringMatching(/^([ -~]{0,170}(\r\n|\n|\r|\x80)){0,6}$/).map(bytesOf);
    const cuts = fc.array(fc.nat({ max: 900 }), { maxLength: 12 });
    fc.assert(
      fc.property(fc.oneof(bytes, lineish), cuts, (whole, places) => {
        const at = [0, ...places.filter((place) => place < whole.length).sort((a, b) => a - b), whole.length];
        const chunks = at.slice(1).map((end, i) => whole.subarray(at[i]!, end));
        expect(linesOf(...chunks)).toEqual(linesOf(whole));
        expect(linesOf(...[...whole].map((byte) => Uint8Array.of(byte)))).toEqual(linesOf(whole));
      }),
    );
  });
});
