/**
 * What the link hands on: the board's lines, checked and typed. Field meanings and ranges: hardware-notes/protocol.md.
 */

export const boardStates = ['idle', 'armed', 'turning', 'done', 'halted'] as const;
export type BoardState = (typeof boardStates)[number];

export const endReasons = [
  '-',
  'preset',
  'host',
  'button',
  'silent',
  'reverse',
  'stalled',
  'expired',
] as const;
export type EndReason = (typeof endReasons)[number];

/** Bits of a reading's `flags`. */
export const readingFlags = {
  motorOn: 0x01,
  lampOn: 0x02,
  stopOpen: 0x04,
  hostSilent: 0x08,
  converterFault: 0x10,
  settingsBad: 0x20,
  readingsDropped: 0x40,
} as const;

/** One reading as the board sent it, with the wrapping counters unwrapped into plain integers. */
export interface Reading {
  kind: 'reading';
  /** Sequence number, unwrapped: grows by one a line since the link opened. */
  sequence: number;
  /** Board time in microseconds, unwrapped; whole number. Only differences within one boot mean anything. */
  boardMicros: number;
  /** Accepted wheel pulses since the board's reset, unwrapped, in each direction. */
  forwardPulses: number;
  backwardPulses: number;
  /** Microseconds since the newest accepted pulse, or null when none within 10 s. */
  pulseAgeMicros: number | null;
  state: BoardState;
  why: EndReason;
  /** Bits as in `readingFlags`. */
  flags: number;
  /** Signed 24-bit converter values, one a fitted cell; null where the cell gave none. */
  counts: (number | null)[];
}

export interface Identity {
  kind: 'identity';
  sequence: number;
  protocol: number;
  firmware: string;
  name: string;
  settings: 'ok' | 'blank' | 'corrupt';
  boot: number;
  /** Letters of hardware-notes/protocol.md: P, E, B, W; empty when none was recorded. */
  reset: string;
  pulsesPerTurn: number;
  cells: number;
  direction: 0 | 1 | 2;
  debounceMicros: number;
  /** Armings since the reset, modulo 256: the lowest byte of the newest start key. Older firmware does not tell it. */
  armings?: number;
}

export interface Answer {
  kind: 'answer';
  sequence: number;
  tag: number;
  ok: boolean;
  /** Detail after `ok` (for `arm` the start key), or the word after `no`; empty when there is none. */
  word: string;
}

export interface StateChange {
  kind: 'change';
  sequence: number;
  boardMicros: number;
  state: BoardState;
  why: EndReason;
  forwardPulses: number;
  backwardPulses: number;
}

export interface Setting {
  kind: 'setting';
  sequence: number;
  key: string;
  value: string;
}

export interface Health {
  kind: 'health';
  sequence: number;
  /** Numbers by the names of hardware-notes/protocol.md (`up`, `loop`, `worst`, `rxlost` ...). */
  figures: Record<string, number>;
  reset: string;
}

export type BoardLine = Reading | Identity | Answer | StateChange | Setting | Health;

/** The load cells' own straight lines, read from the board's settings: grams = (count - zero) x gramsPerCount. */
export interface CellScale {
  gramsPerCount: number;
  zeroCount: number;
}
