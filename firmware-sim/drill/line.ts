import { randomStreams } from './random.ts';

/** What happens on the serial line between stand and computer, as a scenario tells it. */
export interface SerialLine {
  /** Chance of each byte of the board to be lost on the way. */
  lost: number;
  /** Chance of each byte of the board to arrive with one bit turned. */
  flipped: number;
  /** The cable comes off once the wheel has made so many turns since power-up, and goes back on after so many seconds. */
  cableOut: { afterTurns: number; forSeconds: number } | null;
  /** The board is reset once the wheel has made so many turns. */
  boardReset: { afterTurns: number } | null;
}

/** A line on which nothing happens. */
export const soundLine: SerialLine = { lost: 0, flipped: 0, cableOut: null, boardReset: null };

/** What becomes of bytes on such a line; the same seed does the same harm to the same bytes. */
export function lineNoise({ lost, flipped }: SerialLine, seed: number | string) {
  const random = randomStreams(seed)('line');
  return (bytes: Uint8Array): Uint8Array => {
    if (lost === 0 && flipped === 0) return bytes;
    const arrived: number[] = [];
    for (const byte of bytes) {
      if (random.uniform() < lost) continue;
      const bit = 1 << Math.floor(8 * random.uniform());
      arrived.push(random.uniform() < flipped ? byte ^ bit : byte);
    }
    return Uint8Array.from(arrived);
  };
}
