import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { type IdealBoard, idealBoard } from '../../firmware-sim/ideal-board.ts';
import { checkDigits, crc16 } from '../../server/link/crc16.ts';
import type { Reading } from '../../server/link/readings.ts';
import type { RunPlan } from '../../server/run/types.ts';
import { planFor } from '../run/imagined.ts';

/** A board without wires over an imagined drill, that speaks in lines as the real one does. */

export const withCheck = (text: string): string => `${text}*${checkDigits(crc16(text))}`;

/** The line in which a board would send this reading. */
export function lineOf(reading: Reading, sequence: number): string {
  const { boardMicros, forwardPulses, backwardPulses, pulseAgeMicros, state, why, flags, counts } = reading;
  const age = pulseAgeMicros ?? 9_999_999;
  const bits = flags.toString(16).toUpperCase().padStart(2, '0');
  const values = counts.map((count) => count ?? 'x').join(' ');
  return withCheck(
    `R ${sequence % 65_536} ${boardMicros % 2 ** 32} ${forwardPulses} ${backwardPulses} ${age} ${state} ${why} ${bits} ${values}`,
  );
}

export const shortPlan = (turns: number, scenario = oneRow): RunPlan => ({ ...planFor(scenario), turns });

export class SpeakingBoard {
  readonly drill: Drill;
  readonly board: IdealBoard;
  /** Stand seconds of the newest line. */
  seconds = 0;
  #sequence = 0;

  constructor(seed: number | string, scenario = oneRow) {
    const { pulsesPerTurn, debounceMicros } = scenario.stated;
    this.drill = createDrill(scenario, seed);
    const settings = { pulsesPerTurn, debounceMicros, direction: 1, warnPulses: 2 * pulsesPerTurn } as const;
    this.board = idealBoard(this.drill, settings);
  }

  /** Who it is: the first line of each boot, and of each connection. */
  identity(): string {
    const { pulsesPerTurn, debounceMicros } = this.drill.scenario.stated;
    const { cells } = this.drill.scenario;
    return withCheck(
      `I ${this.#sequence++} catchbench-stand proto=1 fw=1.0.0 name=shop-1 settings=ok boot=1 reset=P ppt=${pulsesPerTurn} cells=${cells} direction=1 debounce=${debounceMicros} arm=${this.board.armings % 256}`,
    );
  }

  /** The next reading's line. */
  line(): string {
    const reading = this.board.next();
    this.seconds = reading.boardMicros / 1e6;
    return lineOf(reading, this.#sequence++);
  }
}
