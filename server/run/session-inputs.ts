import { type DecoderState, LineDecoder } from '../link/decoder.ts';
import type { BoardLine } from '../link/readings.ts';
import type { JournalEntry } from '../records/types.ts';
import type { RunInput } from './types.ts';

/**
 * From the board's lines to the run's inputs. The running service and a replay of its journal both go through here, so that the same lines give
 * the same inputs.
 */
export class InputReader {
  readonly #decoder: LineDecoder;
  #linkDown = false;

  constructor(state?: DecoderState) {
    this.#decoder = new LineDecoder(state);
  }

  /** What a reader must know to go on from here. */
  state(): DecoderState {
    return this.#decoder.state();
  }

  /** The connection ended: whoever speaks next must say who it is. */
  disconnected(): void {
    this.#decoder.disconnected();
    this.#linkDown = true;
  }

  /** The inputs in one line of the board, mostly one, in order; none in a line that is not to be believed. */
  line(text: string): RunInput[] {
    const decoded = this.#decoder.decode(text);
    if (!decoded.ok) return [];
    const gap: RunInput[] = decoded.missed > 0 ? [{ type: 'gap', lines: decoded.missed }] : [];
    return [...gap, ...this.#inputsOf(decoded.line, decoded.rebooted)];
  }

  #inputsOf(line: BoardLine, rebooted: boolean): RunInput[] {
    if (line.kind === 'reading') return [{ type: 'reading', reading: line }];
    if (line.kind !== 'identity') return [];
    const wasDown = this.#linkDown;
    this.#linkDown = false;
    if (rebooted) return [{ type: 'board-reset', reset: line.reset }];
    const { armings } = line;
    return wasDown ? [{ type: 'link-back', ...(armings === undefined ? {} : { armings }) }] : [];
  }
}

/** An input as it stands in the journal. The first one of a run carries what the reader of its lines must know. */
export type NotedInput = RunInput | (Extract<RunInput, { type: 'begin' }> & { reader: DecoderState });

export const inputText = (input: NotedInput): string => JSON.stringify(input);

export function inputOf(entry: JournalEntry): NotedInput {
  return JSON.parse(entry.text) as NotedInput;
}
