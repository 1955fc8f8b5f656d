import { decodeLine } from './decode.ts';
import type { Refusal } from './decoded.ts';
import type { BoardLine, Identity, Reading } from './readings.ts';
import {
  sequenceModulus,
  stepsForward,
  stepsNearest,
  type Totals,
  unwrapForward,
  unwrapNearest,
  wentBack,
} from './unwrap.ts';

/** What a decoder remembers between lines; plain data, so that it can be kept beside stored lines. */
export interface DecoderState {
  /** The board and boot whose counters these are; null before the first identity. */
  board: { name: string; boot: number } | null;
  /** False until an identity has come, and again once the counters have made no sense or the cable was out. */
  introduced: boolean;
  /** Sequence number of the last line taken, unwrapped and grown on over resets, and as it was on the wire. */
  sequence: number;
  wireSequence: number;
  /** Unwrapped totals of the last reading taken in this boot. */
  totals: Totals | null;
  /** Sequence number of that reading, unwrapped; left out before the first one. */
  readingSequence?: number;
  /** An identity has just come, perhaps after a gap of unknown length: the next reading may be any distance on. */
  afterGap: boolean;
}

export interface Accepted {
  ok: true;
  /** Counters unwrapped. */
  line: BoardLine;
  /** Lines that the board wanted to send since the last one taken and that never came. */
  missed: number;
  /** An identity with another boot or name than the one before: the board was reset or changed. */
  rebooted: boolean;
}

const restarted: Refusal = { ok: false, reason: 'restarted' };
const unintroduced: Refusal = { ok: false, reason: 'unintroduced' };

/** A reading comes at least this often, so that time cannot run on further than sequence numbers allow. */
const longestReadingMicros = 100_000;
const pauseMicros = 2_000_000;

/**
 * Text lines in, typed lines out, with counters unwrapped. The outcome depends on the lines and the starting state alone, so stored
 * lines decoded again give the same values to the last digit. Nothing but an identity is taken until an identity has come; when
 * sequence, time or totals go back or leap, nothing is taken until the board has introduced itself again. Sequence numbers grow on
 * over a reset of the board; time and pulses begin anew. Totals of one boot are right as long as no gap exceeds 71 minutes.
 */
export class LineDecoder {
  #state: DecoderState;

  constructor(state?: DecoderState) {
    this.#state = state
      ? structuredClone(state)
      : { board: null, introduced: false, sequence: -1, wireSequence: 0, totals: null, afterGap: false };
  }

  /** A copy of what is remembered, for a decoder that is to go on from here. */
  state(): DecoderState {
    return structuredClone(this.#state);
  }

  /** The connection ended: whoever speaks next must introduce itself. */
  disconnected(): void {
    this.#state.introduced = false;
  }

  decode(text: string): Accepted | Refusal {
    const decoded = decodeLine(text);
    if (!decoded.ok) return decoded;
    const { line } = decoded;
    if (line.kind === 'identity') return this.#introduce(line);
    if (!this.#state.introduced) return unintroduced;
    const steps = stepsNearest(this.#state.wireSequence, line.sequence, sequenceModulus);
    if (steps <= 0 || !this.#unwrapTotals(line, steps)) {
      this.#state.introduced = false;
      return restarted;
    }
    return this.#accept(line, steps, false);
  }

  #accept(line: BoardLine, steps: number, rebooted: boolean): Accepted {
    this.#state.wireSequence = line.sequence;
    this.#state.sequence += steps;
    line.sequence = this.#state.sequence;
    return { ok: true, line, missed: steps - 1, rebooted };
  }

  #introduce(identity: Identity): Accepted {
    const state = this.#state;
    const { name, boot } = identity;
    const first = state.board === null;
    const same = state.board?.name === name && state.board.boot === boot && !this.#beganAgain(identity);
    // Within one boot a number that stands where it stood, or behind, has gone round.
    const steps = same
      ? stepsForward(state.wireSequence, identity.sequence, sequenceModulus)
      : identity.sequence + 1;
    state.board = { name, boot };
    state.introduced = true;
    state.afterGap = same;
    if (!same) state.totals = null;
    if (first) state.sequence = identity.sequence - 1;
    return first
      ? this.#accept(identity, 1, false)
      : this.#accept(identity, steps === 0 ? sequenceModulus : steps, !same);
  }

  /** True for a reset that the boot counter did not count (its memory may wear out): numbers go back with no gap before. */
  #beganAgain({ sequence }: Identity): boolean {
    const { introduced, wireSequence } = this.#state;
    return introduced && stepsNearest(wireSequence, sequence, sequenceModulus) <= 0;
  }

  /** Puts plain integers in place of wrapped ones. False when they cannot be of the boot we know. */
  #unwrapTotals(line: BoardLine, steps: number): boolean {
    if (line.kind === 'reading') return this.#unwrapReading(line, steps);
    if (line.kind === 'change' && this.#state.totals !== null) {
      // The moment of a change may lie a little before the last reading.
      Object.assign(line, unwrapNearest(this.#state.totals, line));
    }
    return true;
  }

  #unwrapReading(line: Reading, steps: number): boolean {
    const state = this.#state;
    const { totals } = state;
    if (totals === null || state.afterGap) {
      if (totals !== null) Object.assign(line, unwrapForward(totals, line));
    } else {
      const next = unwrapNearest(totals, line);
      // Lines of other kinds may have come since the last reading, after a gap too.
      const since = state.sequence + steps - (state.readingSequence ?? state.sequence);
      const longest = since * longestReadingMicros + pauseMicros;
      if (wentBack(totals, next) || next.boardMicros - totals.boardMicros > longest) return false;
      Object.assign(line, next);
    }
    const { boardMicros, forwardPulses, backwardPulses } = line;
    state.totals = { boardMicros, forwardPulses, backwardPulses };
    state.readingSequence = state.sequence + steps;
    state.afterGap = false;
    return true;
  }
}
