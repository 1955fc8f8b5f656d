import { checkDigits, crc16 } from '../../server/link/crc16.ts';
import type { BoardLine } from '../../server/link/readings.ts';

/** The board's side of the wire, as hardware-notes/protocol.md has it: typed lines written as text. */

/** A text with its check, without line end. */
export const checked = (text: string): string => `${text}*${checkDigits(crc16(text))}`;

/** The line as the board would write it, check included, line end not. Counters are cut to their width on the wire. */
export function writeLine(line: BoardLine): string {
  return checked(`${letter[line.kind]} ${wrap16(line.sequence)} ${fieldsOf(line)}`);
}

const letter = { reading: 'R', identity: 'I', answer: 'A', change: 'E', setting: 'P', health: 'S' } as const;

const wrap16 = (value: number): number => value % 2 ** 16;
const wrap32 = (value: number): number => value % 2 ** 32;

function fieldsOf(line: BoardLine): string {
  switch (line.kind) {
    case 'reading': {
      const { boardMicros, forwardPulses, backwardPulses, pulseAgeMicros, state, why, flags, counts } = line;
      const totals = [boardMicros, forwardPulses, backwardPulses].map(wrap32).join(' ');
      const bits = flags.toString(16).toUpperCase().padStart(2, '0');
      return `${totals} ${pulseAgeMicros ?? 9999999} ${state} ${why} ${bits} ${counts.map((count) => count ?? 'x').join(' ')}`;
    }
    case 'identity':
      return [
        `catchbench-stand proto=${line.protocol} fw=${line.firmware} name=${line.name} settings=${line.settings}`,
        `boot=${line.boot} reset=${line.reset || '-'} ppt=${line.pulsesPerTurn} cells=${line.cells}`,
        `direction=${line.direction} debounce=${line.debounceMicros}`,
        ...(line.armings === undefined ? [] : [`arm=${line.armings}`]),
      ].join(' ');
    case 'answer':
      return `${line.tag} ${line.ok ? 'ok' : 'no'}${line.word ? ` ${line.word}` : ''}`;
    case 'change':
      return `${wrap32(line.boardMicros)} ${line.state} ${line.why} ${wrap32(line.forwardPulses)} ${wrap32(line.backwardPulses)}`;
    case 'setting':
      return `${line.key} ${line.value}`;
    case 'health': {
      const figures = Object.entries(line.figures).map(([name, value]) => `${name}=${value}`);
      return `${figures.join(' ')} reset=${line.reset || '-'}`;
    }
  }
}
