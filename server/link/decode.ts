import { crc16 } from './crc16.ts';
import { decodeAnswer, decodeHealth, decodeIdentity, decodeSetting } from './decode-words.ts';
import type { Decoded, Refusal } from './decoded.ts';
import { count, inList, unsigned } from './fields.ts';
import { longestBoardLine } from './lines.ts';
import { type BoardLine, boardStates, endReasons, type Reading, type StateChange } from './readings.ts';

const checkLength = 5;
const star = 0x2a;
const greatest16 = 0xffff;
const greatest32 = 0xffffffff;

/** The value of four upper-case hexadecimal digits from `start`, or -1. */
function checkValue(text: string, start: number): number {
  let value = 0;
  for (let i = start; i < start + 4; i++) {
    const code = text.charCodeAt(i);
    if (code >= 0x30 && code <= 0x39) value = value * 16 + code - 0x30;
    else if (code >= 0x41 && code <= 0x46) value = value * 16 + code - 0x37;
    else return -1;
  }
  return value;
}

const refusals = {
  'no-check': { ok: false, reason: 'no-check' },
  'wrong-check': { ok: false, reason: 'wrong-check' },
  'unknown-kind': { ok: false, reason: 'unknown-kind' },
  malformed: { ok: false, reason: 'malformed' },
} as const satisfies Record<string, Refusal>;

/**
 * A line from the board, without its line end, as a typed value; or why it is not to be believed. Takes exactly what
 * hardware-notes/protocol.md allows and nothing else. Knows no other line: see `LineDecoder` for unwrapped counters.
 */
export function decodeLine(text: string): Decoded {
  const end = text.length - checkLength;
  if (end < 1 || text.length > longestBoardLine || text.charCodeAt(end) !== star) return refusals['no-check'];
  const check = checkValue(text, end + 1);
  if (check < 0) return refusals['no-check'];
  if (check !== crc16(text, end)) return refusals['wrong-check'];
  const fields = text.slice(0, end).split(' ');
  const sequence = unsigned(fields[1], greatest16);
  if (sequence === null) return refusals.malformed;
  const line = decodeKind(fields, sequence);
  return line === null ? refusals.malformed : 'reason' in line ? line : { ok: true, line };
}

function decodeKind(fields: string[], sequence: number): BoardLine | Refusal | null {
  switch (fields[0]) {
    case 'R':
      return decodeReading(fields, sequence);
    case 'E':
      return decodeChange(fields, sequence);
    case 'A':
      return decodeAnswer(fields, sequence);
    case 'I':
      return decodeIdentity(fields, sequence);
    case 'P':
      return decodeSetting(fields, sequence);
    case 'S':
      return decodeHealth(fields, sequence);
    default:
      return refusals['unknown-kind'];
  }
}

const noPulseAge = 9999999;

/** Two upper-case hexadecimal digits, the reserved bit 80 clear. */
const flagsPattern = /^[0-7][0-9A-F]$/;

function decodeReading(fields: string[], sequence: number): Reading | null {
  if (fields.length < 10 || fields.length > 15) return null;
  const boardMicros = unsigned(fields[2], greatest32);
  const forwardPulses = unsigned(fields[3], greatest32);
  const backwardPulses = unsigned(fields[4], greatest32);
  const age = unsigned(fields[5], noPulseAge);
  const state = inList(boardStates, fields[6]);
  const why = inList(endReasons, fields[7]);
  if (boardMicros === null || forwardPulses === null || backwardPulses === null) return null;
  if (age === null || state === null || why === null || !flagsPattern.test(fields[8]!)) return null;
  const counts: (number | null)[] = [];
  for (let i = 9; i < fields.length; i++) {
    const value = fields[i] === 'x' ? null : count(fields[i]);
    if (value === undefined) return null;
    counts.push(value);
  }
  return {
    kind: 'reading',
    sequence,
    boardMicros,
    forwardPulses,
    backwardPulses,
    pulseAgeMicros: age === noPulseAge ? null : age,
    state,
    why,
    flags: Number.parseInt(fields[8]!, 16),
    counts,
  };
}

function decodeChange(fields: string[], sequence: number): StateChange | null {
  if (fields.length !== 7) return null;
  const boardMicros = unsigned(fields[2], greatest32);
  const state = inList(boardStates, fields[3]);
  const why = inList(endReasons, fields[4]);
  const forwardPulses = unsigned(fields[5], greatest32);
  const backwardPulses = unsigned(fields[6], greatest32);
  if (boardMicros === null || state === null || why === null) return null;
  if (forwardPulses === null || backwardPulses === null) return null;
  return { kind: 'change', sequence, boardMicros, state, why, forwardPulses, backwardPulses };
}
