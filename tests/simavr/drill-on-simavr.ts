/** The imagined drill under the chip in simavr: the two step forward together, paced by the computer's clock. */
import { setTimeout as pause } from 'node:timers/promises';
import type { Drill } from '../../firmware-sim/drill/drill.ts';
import type { LiveSimavr, Outputs } from './simavr.ts';
import type { Stimulus } from './stimuli.ts';

const cyclesPerSecond = 16_000_000;
/** As in `firmware-sim/stand.ts`: the drill learns of the motor within a millisecond. */
const stepCycles = cyclesPerSecond / 1000;
const mostBehindSeconds = 0.25;

export class DrillOnSimavr {
  readonly #drill: Drill;
  readonly #chip: LiveSimavr;
  readonly #seconds: number[];
  #outputs: Outputs = { cycle: 0, motor: false, lamp: false, due: [] };
  #reached = 0;
  #running = true;
  #done: Promise<void> = Promise.resolve();

  constructor(drill: Drill, chip: LiveSimavr) {
    this.#drill = drill;
    this.#chip = chip;
    this.#seconds = Array.from({ length: drill.cells }, (_, cell) => drill.conversionPeriod(cell));
  }

  /** Lets time pass until `stop`. */
  start(): void {
    this.#done = this.#keepUp();
  }

  async stop(): Promise<void> {
    this.#running = false;
    await this.#done;
  }

  async #keepUp(): Promise<void> {
    let last = performance.now();
    let owed = 0;
    while (this.#running) {
      const now = performance.now();
      owed = Math.min(owed + (now - last) / 1000, mostBehindSeconds);
      last = now;
      const before = this.#reached;
      if (owed <= 0) await pause(2);
      else await this.#step();
      owed -= (this.#reached - before) / cyclesPerSecond;
    }
  }

  /** To the next conversion, or a millisecond on: first the drill, then the chip up to the same moment. */
  async #step(): Promise<void> {
    const next = Math.min(
      this.#reached + stepCycles,
      ...this.#outputs.due.filter((due) => due > this.#reached),
    );
    const { motor, lamp } = this.#outputs;
    const list: Stimulus[] = this.#drill
      .advance(next / cyclesPerSecond, { motor, lamp })
      .map(({ seconds, a, b }) => ({
        cycle: Math.max(this.#reached, Math.round(seconds * cyclesPerSecond)),
        kind: 'wheel',
        a,
        b,
      }));
    for (let cell = 0; cell < this.#drill.cells; cell++) {
      const starting = this.#reached === 0;
      if (!starting && this.#outputs.due[cell]! > next) continue;
      const value = this.#drill.convert(cell, next / cyclesPerSecond);
      const period = starting ? Math.round(this.#seconds[cell]! * cyclesPerSecond) : 0;
      // Before the chip reaches the conversion that takes this value; the edges before it come first.
      list.unshift({ cycle: this.#reached, kind: 'cell', cell, period, value });
    }
    this.#outputs = await this.#chip.step([...list, { cycle: next, kind: 'run' }]);
    this.#reached = next;
  }
}
