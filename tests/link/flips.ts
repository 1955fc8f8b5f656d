import { crc16 } from '../../server/link/crc16.ts';

/** Bit flips of a line on the wire, and which of them its check cannot see. */

/** The line with the given bits turned; bit 0 is the lowest of the first character. */
export function flip(line: string, bits: readonly number[]): string {
  const bytes = Buffer.from(line, 'latin1');
  for (const bit of bits) bytes[bit >> 3]! ^= 1 << (bit & 7);
  return bytes.toString('latin1');
}

/** What each bit of a text changes in its CRC. The CRC is linear: several bits change it by the exclusive-or of theirs. */
export function syndromes(text: string): number[] {
  const crc = crc16(text);
  return Array.from({ length: text.length * 8 }, (_, bit) => crc16(flip(text, [bit])) ^ crc);
}

/** Sets of up to `most` of the bits from `first` to below `end`, each set ascending. */
function* sets(first: number, end: number, most: number): Generator<number[]> {
  yield [];
  if (most === 0) return;
  for (let bit = first; bit < end; bit++)
    for (const rest of sets(bit + 1, end, most - 1)) yield [bit, ...rest];
}

/** Checks as they would read after flips among the check's own 32 bits, where these still are a check: bits and change of value. */
function checkChanges(line: string, most: number): { bits: number[]; change: number }[] {
  const start = line.length - 4;
  const check = Number.parseInt(line.slice(start), 16);
  return [...sets(start * 8, line.length * 8, most)]
    .map((bits) => ({ bits, digits: flip(line, bits).slice(start) }))
    .filter(({ digits }) => /^[0-9A-F]{4}$/.test(digits))
    .map(({ bits, digits }) => ({ bits, change: Number.parseInt(digits, 16) ^ check }));
}

/**
 * Every set of one to three flips, at least one of them in the check, after which the check of this line still fits; found from the
 * syndromes instead of by trying millions. (Flips of the text alone: see the test of the CRC's distance. Without its `*` a line has no check.)
 */
export function unseenFlips(line: string): number[][] {
  const single = syndromes(line.slice(0, -5));
  const bitOf = new Map(single.map((syndrome, bit) => [syndrome, bit]));
  const unseen: number[][] = [];
  for (const { bits: check, change } of checkChanges(line, 3)) {
    if (check.length === 0) continue;
    if (change === 0) unseen.push(check);
    const one = bitOf.get(change);
    if (one !== undefined && check.length <= 2) unseen.push([one, ...check]);
    if (check.length > 1) continue;
    for (const [bit, syndrome] of single.entries()) {
      const other = bitOf.get(syndrome ^ change);
      if (other !== undefined && other > bit) unseen.push([bit, other, ...check]);
    }
  }
  return unseen;
}
