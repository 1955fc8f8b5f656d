/**
 * The seam between the emulated board and the imagined drill. The board knows wires; the world knows wheels, seeds and bags.
 * Time is the stand's own, in seconds since power-up.
 */

/** What the board drives. */
export interface BoardOutputs {
  motor: boolean;
  lamp: boolean;
}

/**
 * A change of the wheel sensor's two lines: A goes to the pulse input, B to the direction input. Both are low before power-up; a
 * line that is high at power-up comes as an edge at 0. Turning forwards, B follows A a quarter of a pulse later (B is low when A
 * rises); backwards, B is high when A rises.
 */
export interface WheelEdge {
  seconds: number;
  a: 0 | 1;
  b: 0 | 1;
}

/**
 * A world for a board. Calls come with `seconds` never going back. The same seed and the same calls give the same answers,
 * bit for bit.
 */
export interface World {
  /** Load cells fitted, 1 to 6. */
  readonly cells: number;
  /**
   * Moves the world on to `seconds` with the outputs as they were since the call before, and returns the wheel edges that
   * fell in between, in order of time.
   */
  advance(seconds: number, outputs: BoardOutputs): WheelEdge[];
  /** Seconds from one conversion of this cell's converter to its next (nominally 1/80; each converter has its own clock). */
  conversionPeriod(cell: number): number;
  /** The signed 24-bit value that this cell's converter finishes at `seconds`, clipped to -8388608..8388607. */
  convert(cell: number, seconds: number): number;
  /** True while the stop button's contact is open. */
  stopOpen(): boolean;
}
