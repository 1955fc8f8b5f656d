/** The whole emulated stand: the board running its firmware, and the world under it, on one clock. */
import { readFileSync } from 'node:fs';
import type { Clock } from '../server/clock.ts';
import { Board } from './board/board.ts';
import { cyclesPerSecond } from './board/cpu.ts';
import { EepromStore } from './board/eeprom-store.ts';
import { parseIntelHex } from './board/intel-hex.ts';
import { projectFile } from './project-file.ts';
import { StandClock } from './stand-clock.ts';
import type { World } from './world.ts';

export { eepromFor, type StandSettings, standSettings } from './board/settings-image.ts';
export { type Pace, pace, runAsFastAsItGoes } from './pacing.ts';

/**
 * The world moves in steps this long or shorter. It learns of a change of the motor output at the next step; a relay takes
 * several times as long to let go.
 */
const stepCycles = cyclesPerSecond / 1000;

export interface StandParts {
  world: World;
  /** Text of the firmware's Intel HEX file; that of this project when left out. */
  hex?: string;
  /** What the EEPROM holds at first (see `eepromFor`), or a store of one's own. Erased when left out. */
  eeprom?: Uint8Array | EepromStore;
}

export class Stand {
  readonly board: Board;
  readonly world: World;
  /** Host time that follows the stand. */
  readonly clock: Clock;
  readonly #clock: StandClock;
  readonly #byteListeners = new Set<(bytes: Uint8Array) => void>();
  readonly #stepListeners = new Set<() => void>();
  /** Cycle, with fraction, that the world has reached, and that `advance` has been asked to reach. */
  #reached = 0;
  #target = 0;

  constructor({ world, hex = firmwareHex(), eeprom }: StandParts) {
    this.world = world;
    const store = eeprom instanceof EepromStore ? eeprom : new EepromStore(eeprom);
    this.board = new Board({ flash: parseIntelHex(hex), source: world, eeprom: store });
    this.#clock = new StandClock(() => this.#reached);
    this.clock = this.#clock;
  }

  /** Seconds since the stand was first powered. */
  get seconds(): number {
    return this.#reached / cyclesPerSecond;
  }

  /** Moves the stand on. Bytes from the board, steps and due timers are told as they come. */
  advance(seconds: number): void {
    this.#target += seconds * cyclesPerSecond;
    while (this.#reached < this.#target) this.#step();
  }

  /** Sends bytes to the board at the pace of the line. Returns how many of them were taken: at most 4096 wait. */
  write(bytes: Uint8Array): number {
    return this.board.serial.write(bytes);
  }

  /** Calls `listener` with what comes from the board, at least once a millisecond of the stand's time. Returns how to end it. */
  onBytes(listener: (bytes: Uint8Array) => void): () => void {
    this.#byteListeners.add(listener);
    return () => this.#byteListeners.delete(listener);
  }

  /** Calls `listener` after every step of the world, a millisecond or less. Returns how to end it. */
  onStep(listener: () => void): () => void {
    this.#stepListeners.add(listener);
    return () => this.#stepListeners.delete(listener);
  }

  /** Pulls the board's reset line. */
  reset(): void {
    this.board.reset();
  }

  /** Takes the board's supply away and gives it back. The world goes on as it was. */
  powerCycle(): void {
    this.board.powerCycle();
  }

  /** The world first, so that its edges and values lie ahead of the board; then the board up to the same moment. */
  #step(): void {
    const { board, world } = this;
    const next = Math.min(
      this.#target,
      this.#reached + stepCycles,
      board.converters.nextConversionCycle,
      this.#clock.nextDue,
    );
    for (const { seconds, a, b } of world.advance(next / cyclesPerSecond, {
      motor: board.motor,
      lamp: board.lamp,
    })) {
      board.setWheelAt(seconds * cyclesPerSecond, a, b);
    }
    board.setStopOpen(world.stopOpen());
    board.run(next);
    this.#reached = next;
    this.#report();
    this.#clock.fireDue();
  }

  #report(): void {
    const bytes = this.board.serial.read();
    if (bytes.length > 0) for (const listener of this.#byteListeners) listener(bytes);
    for (const listener of this.#stepListeners) listener();
  }
}

/** The text of this project's own firmware file. */
export function firmwareHex(): string {
  return readFileSync(projectFile('firmware-sim/firmware/catchbench-stand.hex'), 'utf8');
}
