import { checkDigits, crc16 } from '../link/crc16.ts';
import type { Reading } from '../link/readings.ts';

/** Whole numbers of so many bits, as they go round on the wire. */
const wrapped = (value: number, bits: 16 | 32): number => value % 2 ** bits;

/** A reading as the line that a board would have sent (hardware-notes/protocol.md). */
export function lineOf(reading: Reading): string {
  const { sequence, boardMicros, forwardPulses, backwardPulses, pulseAgeMicros, state, why, flags } = reading;
  const fields = [
    'R',
    wrapped(sequence, 16),
    wrapped(boardMicros, 32),
    wrapped(forwardPulses, 32),
    wrapped(backwardPulses, 32),
    pulseAgeMicros ?? 9_999_999,
    state,
    why,
    flags.toString(16).toUpperCase().padStart(2, '0'),
    ...reading.counts.map((count) => count ?? 'x'),
  ].join(' ');
  return `${fields}*${checkDigits(crc16(fields))}`;
}
