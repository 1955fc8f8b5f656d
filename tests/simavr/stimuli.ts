/** What happens to a stand, stamped with cycles: the same list goes into simavr as text and onto the project's own emulated board. */
import { readFileSync } from 'node:fs';
import { Board } from '../../firmware-sim/board/board.ts';
import { EepromStore } from '../../firmware-sim/board/eeprom-store.ts';
import { parseIntelHex } from '../../firmware-sim/board/intel-hex.ts';
import { shippedHex } from '../firmware/tools.ts';

/** Cycles since power-up; in a list they never go back. The forms are those of `firmware-sim/simavr/stimulus.h`. */
export type Stimulus = { cycle: number } & (
  | { kind: 'wheel'; a: 0 | 1; b: 0 | 1 }
  | { kind: 'stop'; open: 0 | 1 }
  | { kind: 'cell'; cell: number; period: number; value: number }
  | { kind: 'say'; bytes: Uint8Array }
  | { kind: 'run' }
);

/** A line as `simavr-stand` reads it. */
export function stimulusLine(stimulus: Stimulus): string {
  const { cycle, kind } = stimulus;
  switch (kind) {
    case 'wheel':
      return `${cycle} wheel ${stimulus.a} ${stimulus.b}\n`;
    case 'stop':
      return `${cycle} stop ${stimulus.open}\n`;
    case 'cell':
      return `${cycle} cell ${stimulus.cell} ${stimulus.period} ${stimulus.value}\n`;
    case 'say':
      return `${cycle} say ${Buffer.from(stimulus.bytes).toString('hex')}\n`;
    case 'run':
      return `${cycle} run\n`;
  }
}

/** What a board did: its lines, and when the motor output changed. */
export interface Told {
  lines: string[];
  motor: { cycle: number; on: boolean }[];
}

/** The list on the project's own emulated board. */
export function onOwnBoard(stimuli: readonly Stimulus[], eeprom: Uint8Array): Told {
  const cells = stimuli.flatMap((one) => (one.kind === 'cell' ? [one.cell] : []));
  const periods = new Array<number>(6).fill(1e12);
  const values = new Array<number>(6).fill(0);
  // A converter starts with its first period, which the list gives at cycle 0.
  for (const one of stimuli) if (one.kind === 'cell' && one.cycle === 0) periods[one.cell] = one.period;
  const board = new Board({
    flash: parseIntelHex(readFileSync(shippedHex, 'latin1')),
    eeprom: new EepromStore(eeprom),
    source: {
      cells: Math.max(...cells) + 1,
      conversionPeriod: (cell) => periods[cell]! / 16e6,
      convert: (cell) => values[cell]!,
    },
  });
  const told: Told = { lines: [], motor: [] };
  board.onMotor = (on, cycle) => told.motor.push({ cycle, on });
  let text = '';
  for (const stimulus of stimuli) {
    board.run(stimulus.cycle);
    if (stimulus.kind === 'wheel') board.setWheelAt(stimulus.cycle, stimulus.a, stimulus.b);
    else if (stimulus.kind === 'stop') board.setStopOpen(stimulus.open === 1);
    else if (stimulus.kind === 'cell') {
      if (stimulus.period > 0) periods[stimulus.cell] = stimulus.period;
      values[stimulus.cell] = stimulus.value;
    } else if (stimulus.kind === 'say' && board.serial.write(stimulus.bytes) !== stimulus.bytes.length)
      throw new Error('the host sends more than the line can carry');
    text += Buffer.from(board.serial.read()).toString('latin1');
  }
  told.lines = text.split('\r\n').slice(0, -1);
  return told;
}
