import type { ChartPoint, JournalEntry } from '../records/types.ts';
import { figures, tracePoint } from './figures.ts';
import { reduce } from './reduce.ts';
import { InputReader, inputOf } from './session-inputs.ts';
import { Trace } from './session-trace.ts';
import { initialRun, type RunState } from './state.ts';
import type { RunFigures, RunInput } from './types.ts';

/** Edition of the formulas: raised whenever the same readings would give other figures. */
export const formulaVersion = 3;

export interface Replayed {
  figures: RunFigures;
  trace: ChartPoint[];
}

/** The chart's point of the newest reading, or null where there is nothing to draw: before the wheel was set going and after the end. */
export function chartPoint(state: RunState): ChartPoint | null {
  if (state.phase !== 'turning' && state.phase !== 'settling') return null;
  const point = tracePoint(state);
  return point && [point.seconds, point.turns, point.grams];
}

/**
 * Computes a run again from its journal: the same figures and the same chart, to the last digit, as when it was made with the same edition of the
 * formulas. Pure; entries in order from the first.
 */
export function replay(entries: Iterable<JournalEntry>): Replayed {
  const run = new Replay();
  for (const entry of entries) run.take(entry);
  return run.result();
}

/** A replay in the making, for journals that come in parts. */
export class Replay {
  #reader = new InputReader();
  #state: RunState = initialRun();
  readonly #trace = new Trace();

  take(entry: JournalEntry): void {
    if (entry.kind === 'line') {
      for (const input of this.#reader.line(entry.text)) this.apply(input);
    } else if (entry.kind === 'input') {
      const input = inputOf(entry);
      if ('reader' in input) this.#reader = new InputReader(input.reader);
      if (input.type === 'link-lost' || input.type === 'resumed') this.#reader.disconnected();
      this.apply(input);
    }
  }

  apply(input: RunInput): void {
    this.#state = reduce(this.#state, input).state;
    const point = input.type === 'reading' ? chartPoint(this.#state) : null;
    if (point !== null) this.#trace.offer(point);
  }

  get state(): RunState {
    return this.#state;
  }

  /** Where a run that was cut off is to go on from: reader and chart are this replay's own, which is of no use afterwards. */
  handOver(): { state: RunState; reader: InputReader; trace: Trace } {
    return { state: this.#state, reader: this.#reader, trace: this.#trace };
  }

  result(): Replayed {
    return { figures: figures(this.#state), trace: this.#trace.points() };
  }
}
