/** What the trace of a run is made of, and what is known before the first reading. */

/** What is known before the first reading. */
export interface TraceKnowledge {
  /** Wheel pulses a turn, 1 or more. */
  pulsesPerTurn: number;
  /** Load cells, 1 to 6. */
  cells: number;
  /** Grams per turn to expect, all cells together, more than 0. May be wrong by a factor of three: it is what one is testing for. */
  expectedGramsPerTurn: number;
  /** Variance of a catch per gram caught when seeds arrive independently, grams (`lumpiness`). */
  lumpinessGrams: number;
  /** Standard deviation of a single reading of one cell while the wheel stands and nobody touches anything, grams, more than 0. */
  standingNoiseGrams: number;
  drive: 'motor' | 'hand';
}

/** How far the run is: the wheel has not been set going; it is meant to turn; it is meant to stop, or has. */
export type TracePhase = 'before' | 'turning' | 'after';

/** A reading of the board relative to the run's first: whole microseconds and pulses, none ever going back. */
export interface TraceReading {
  micros: number;
  forward: number;
  backward: number;
  /** Microseconds since the newest pulse at that time; null when there was none for long. */
  ageMicros: number | null;
  /** Grams on each cell relative to the run's first readings; null where the cell gave no good value. */
  cellGrams: readonly (number | null)[];
  phase: TracePhase;
  /** Bits as in hardware-notes/protocol.md. */
  flags: number;
  /** Lines of the board lost since the run began. */
  lost: number;
  /** Host time of the newest tick of the host's clock, seconds from any fixed point; null or left out before the first. */
  hostSeconds?: number | null;
  /** Readings so far that were not taken in because their time or totals did not go on; none if left out. */
  refused?: number;
}

/** Turns (of `reading`, forward less backward) since the run's first reading. */
export function turnsOf(reading: TraceReading, pulsesPerTurn: number): number {
  return (reading.forward - reading.backward) / pulsesPerTurn;
}
