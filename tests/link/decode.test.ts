import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeLine } from '../../server/link/decode.ts';
import { arbitraryLine } from './arbitraries.ts';
import { checked, writeLine } from './board-lines.ts';
import { goldenBoardLines, goldenRowsOf } from './golden.ts';

const reasonFor = (text: string): string | undefined => {
  const decoded = decodeLine(text);
  return decoded.ok ? undefined : decoded.reason;
};

describe('a line to a typed value', () => {
  it('and back again is the same, for every kind of line', () => {
    fc.assert(
      fc.property(arbitraryLine, (line) => {
        expect(decodeLine(writeLine(line))).toEqual({ ok: true, line });
      }),
      { numRuns: 2000 },
    );
  });

  it('names why it is refused', () => {
    expect(reasonFor('')).toBe('no-check');
    expect(reasonFor('A 1 2 ok')).toBe('no-check');
    expect(reasonFor('A 1 2 ok*00g0')).toBe('no-check');
    expect(reasonFor('A 1 2 ok*0000')).toBe('wrong-check');
    expect(reasonFor(checked('X 1 2'))).toBe('unknown-kind');
    expect(reasonFor(checked('A 1 2 perhaps'))).toBe('malformed');
    expect(reasonFor(`${checked('A 1 2 ok')} `)).toBe('no-check');
  });

  it('is wrong-version, with the number, for an identity of another version whatever else it says', () => {
    const refusal = { ok: false, reason: 'wrong-version', protocol: 2 };
    expect(decodeLine(checked('I 0 catchbench-stand proto=2 fw=9 anything else'))).toEqual(refusal);
    expect(reasonFor(checked('I 0 other-stand proto=2'))).toBe('malformed');
  });

  it('takes each number in its one shortest spelling only', () => {
    const good = 'R 5 100 20 3 40 idle - 08 7 -7';
    expect(decodeLine(checked(good)).ok).toBe(true);
    for (const [from, to] of [
      [' 5 ', ' 05 '],
      [' 100 ', ' +100 '],
      [' 20 ', ' 20.0 '],
      [' 3 ', ' 0x3 '],
      [' 40 ', ' 4e1 '],
      [' 7 ', ' 07 '],
      [' -7', ' -07'],
      [' -7', ' -0'],
      [' -7', ' X'],
      [' 08 ', ' 8 '],
      [' 08 ', ' 0a '],
      [' 08 ', ' 80 '],
      ['R 5', 'R  5'],
      ['-7', '-7 '],
    ] as const) {
      const bad = good.replace(from, to);
      expect(bad).not.toBe(good);
      expect([bad, reasonFor(checked(bad))]).toEqual([bad, 'malformed']);
    }
  });

  it('wants every figure of a health line and of an identity, in order and in range', () => {
    for (const { line } of goldenRowsOf('health', 'identity')) {
      const text = line.slice(0, -5);
      for (const [field] of text.matchAll(/ [a-z]+=[^ ]*/g)) {
        if (field.startsWith(' proto=')) continue;
        const name = field.slice(0, field.indexOf('='));
        // Older firmware leaves the armings out.
        const without = name === ' arm' ? [] : [''];
        for (const bad of [...without, `${name}=`, `${name}=.`, `${field} `, field.toUpperCase()]) {
          expect([bad, decodeLine(checked(text.replace(field, bad))).ok]).toEqual([bad, false]);
        }
      }
    }
  });

  it('refuses every beginning of a line, every line without its beginning, and two lines run together', () => {
    for (const line of goldenBoardLines) {
      for (let at = 1; at < line.length; at++) {
        expect(decodeLine(line.slice(0, at)).ok).toBe(false);
        expect(decodeLine(line.slice(at)).ok).toBe(false);
      }
      for (const other of goldenBoardLines) expect(decodeLine(line + other).ok).toBe(false);
    }
  });

  it('refuses what is left of two lines when bytes between them are lost', () => {
    const [some, more] = [goldenBoardLines.slice(0, 8), goldenBoardLines.slice(-8)];
    for (const first of some) {
      for (const second of more) {
        for (let from = 1; from < first.length; from++) {
          for (let to = 1; to < second.length; to += 3) {
            const merged = first.slice(0, from) + second.slice(to);
            if (decodeLine(merged).ok) expect([first, second]).toContain(merged);
          }
        }
      }
    }
  });

  it('never throws, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary-ascii', maxLength: 200 }), (text) => !decodeLine(text).ok),
    );
    fc.assert(
      fc.property(fc.string({ maxLength: 150 }), (text) => {
        const decoded = decodeLine(checked(text));
        return !decoded.ok || writeLine(decoded.line) === checked(text);
      }),
    );
  });
});
