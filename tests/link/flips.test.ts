import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeLine } from '../../server/link/decode.ts';
import { LineAssembler, longestBoardLine } from '../../server/link/lines.ts';
import { flip, syndromes, unseenFlips } from './flips.ts';
import { goldenBoardLines } from './golden.ts';

/** Lines believed out of these bytes of a port. */
function believed(bytes: string): string[] {
  const texts: string[] = [];
  new LineAssembler().push(Buffer.from(`${bytes}\r\n`, 'latin1'), (text) => {
    if (decodeLine(text).ok) texts.push(text);
  });
  return texts;
}

const byLength = goldenBoardLines.toSorted((a, b) => a.length - b.length);
/** Short, middling and long ones: every set of two flips takes its time. */
const sample = [0, 12, 24, 36, 48].map((i) => byLength[i]!).concat(byLength.at(-20)!);

describe('flipped bits', () => {
  it.each(sample)('one or two anywhere in a line or its end are never believed: %s', (line) => {
    const sent = `${line}\r\n`;
    const bits = sent.length * 8;
    const wrong: string[] = [];
    for (let first = 0; first < bits; first++) {
      for (let second = first; second < bits; second++) {
        const got = believed(flip(sent, first === second ? [first] : [first, second]));
        // A flip in the line end alone leaves the line as it was sent.
        wrong.push(...got.filter((text) => text !== line));
      }
    }
    expect(wrong).toEqual([]);
  });

  it('up to three in the text alone change the check, in lines of any length', () => {
    // A bit's syndrome depends on its distance from the end only, so the longest text speaks for all.
    const single = syndromes('R'.repeat(longestBoardLine - 5));
    const all = new Set(single);
    expect(all.has(0)).toBe(false);
    expect(all.size).toBe(single.length);
    const fits = single.some((a, i) => single.some((b, j) => j > i && all.has(a ^ b)));
    expect(fits).toBe(false);
  });

  it('one or two of which some are in the check do not fit, in any golden line', () => {
    const unseen = goldenBoardLines.flatMap(unseenFlips);
    expect(unseen.length).toBeGreaterThan(0);
    expect(unseen.filter((bits) => bits.length < 3)).toEqual([]);
  });

  /**
   * A flip in a letter of the check can change two bits of its value at once (A for C, D for E), and then two more in the text can make it fit.
   * That is all that three flips can do unseen: fewer than one set in five million, and nearly all of those break the line's form.
   */
  it('three are not believed but for one set in hundreds of millions', () => {
    let sets = 0;
    let fitting = 0;
    let believedSets = 0;
    for (const line of goldenBoardLines) {
      const bits = line.length * 8;
      sets += (bits * (bits - 1) * (bits - 2)) / 6;
      const unseen = unseenFlips(line);
      fitting += unseen.length;
      believedSets += unseen.filter((set) => believed(flip(line, set)).length > 0).length;
    }
    expect(sets).toBeGreaterThan(1e9);
    expect(fitting / sets).toBeLessThan(1 / 5e6);
    expect(believedSets / sets).toBeLessThan(1 / 3e8);
  });

  it('any change of two neighbouring characters of the text is refused', () => {
    const change = fc.tuple(
      fc.constantFrom(...goldenBoardLines),
      fc.nat(),
      fc.integer({ min: 1, max: 0xffff }),
    );
    fc.assert(
      fc.property(change, ([text, place, pattern]) => {
        const from = 8 * (place % (text.length - 6));
        const bits = Array.from({ length: 16 }, (_, i) => i).filter((i) => pattern & (1 << i));
        return !decodeLine(
          flip(
            text,
            bits.map((i) => from + i),
          ),
        ).ok;
      }),
      { numRuns: 20_000 },
    );
  });
});
