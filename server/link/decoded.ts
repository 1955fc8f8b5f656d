import type { BoardLine } from './readings.ts';

/** The version of the protocol that this side speaks. */
export const protocolVersion = 1;

export type RefusalReason =
  | 'no-check' // does not end with * and four upper-case hexadecimal digits
  | 'wrong-check'
  | 'unknown-kind'
  | 'malformed' // a field missing, extra, out of range or not written the one canonical way
  | 'wrong-version' // an identity of another protocol version
  | 'unintroduced' // no identity yet, so that nobody knows whose counters these are
  | 'restarted'; // its counters went back or leapt: the board must introduce itself again

export interface Refusal {
  ok: false;
  reason: RefusalReason;
  /** The version the board speaks, where the reason is 'wrong-version'. */
  protocol?: number;
}

/** Counters are as on the wire, modulo 2^16 and 2^32. */
export type Decoded = { ok: true; line: BoardLine } | Refusal;
