import type { RefusalReason } from './decoded.ts';

/** Counts since the link was made. */
export interface LinkFigures {
  /** Lines taken. */
  lines: number;
  /** Lines that the board wanted to send and that never came or were not believed. */
  missed: number;
  /** Lines not believed, by reason; `long` and `notAscii` never became text. */
  refused: Record<RefusalReason | 'long' | 'notAscii', number>;
  /** Times a port was opened. */
  connections: number;
  /** Resets of the board seen, and boards exchanged. */
  boots: number;
}

export function newLinkFigures(): LinkFigures {
  return {
    lines: 0,
    missed: 0,
    refused: {
      'no-check': 0,
      'wrong-check': 0,
      'unknown-kind': 0,
      malformed: 0,
      'wrong-version': 0,
      unintroduced: 0,
      restarted: 0,
      long: 0,
      notAscii: 0,
    },
    connections: 0,
    boots: 0,
  };
}
