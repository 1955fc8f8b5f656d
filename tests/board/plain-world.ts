/** A world as plain as can be: cells that say what they are told to, and a wheel whose edges are given beforehand. */
import type { BoardOutputs, WheelEdge, World } from '../../firmware-sim/world.ts';

export class PlainWorld implements World {
  readonly cells: number;
  /** What each cell's converter says. */
  readonly values: number[];
  /** Conversions a second of each converter: none like the other. */
  readonly hertz: number[];
  open = false;
  outputs: BoardOutputs = { motor: false, lamp: false };
  /** Seconds at which `advance` was called last. */
  seconds = 0;
  #edges: WheelEdge[] = [];

  constructor(cells = 1, values: number[] = Array.from({ length: cells }, (_, cell) => 1000 * (cell + 1))) {
    this.cells = cells;
    this.values = values;
    this.hertz = Array.from({ length: cells }, (_, cell) => 80 * (1 + 0.004 * (cell - 2)));
  }

  /** Plans `count` pulses of line A from `start` on, half of each period high; line B tells the direction. */
  planPulses(start: number, hertz: number, count: number, b: 0 | 1 = 0): void {
    for (let pulse = 0; pulse < count; pulse++) {
      const seconds = start + pulse / hertz;
      this.#edges.push({ seconds, a: 1, b }, { seconds: seconds + 0.5 / hertz, a: 0, b });
    }
  }

  advance(seconds: number, outputs: BoardOutputs): WheelEdge[] {
    if (seconds < this.seconds) throw new Error(`Time went back from ${this.seconds} to ${seconds}`);
    this.seconds = seconds;
    this.outputs = outputs;
    let count = 0;
    while (count < this.#edges.length && this.#edges[count]!.seconds <= seconds) count++;
    return this.#edges.splice(0, count);
  }

  conversionPeriod(cell: number): number {
    return 1 / this.hertz[cell]!;
  }

  convert(cell: number, seconds: number): number {
    if (seconds < this.seconds) throw new Error(`A conversion at ${seconds} came after ${this.seconds}`);
    return this.values[cell]!;
  }

  stopOpen(): boolean {
    return this.open;
  }
}
