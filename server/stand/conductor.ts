import type { SendResult } from '../link/commands.ts';
import type { BoardCommand } from '../link/encode.ts';
import type { BoardLine } from '../link/readings.ts';
import { beginCheck, type CheckMove, type CheckState, checkStep } from './check.ts';
import type { CheckAct, CheckInput, StandKnown } from './types.ts';

/** A stand that the check may talk to. */
export interface StandLine {
  /** Never rejects. After `save` the settings have been read again when it resolves. */
  send(command: BoardCommand): Promise<SendResult>;
  /** Stop, ahead of everything. */
  stopNow(): Promise<SendResult>;
  /** What the stand says of itself; null while it is not connected or its settings are not read. */
  known(): StandKnown | null;
  /** Calls `line` with every line of the board, `lost` when it goes away, until the returned function is called. */
  listen(listener: { line(line: BoardLine): void; lost(): void }): () => void;
}

/** Runs a check on a stand: carries the check's commands to the board, and the board's lines and the person's acts to the check. */
export class CheckConductor {
  readonly #line: StandLine;
  readonly #changed: (state: CheckState) => void;
  readonly #unlisten: () => void;
  #state: CheckState;
  #over = false;
  /** Settings were saved, and the board's own word on them is still to come. */
  #unsure = false;

  /** @param known what the stand says of itself now. @param changed called after every input, in order. */
  constructor(line: StandLine, known: StandKnown, changed: (state: CheckState) => void) {
    this.#line = line;
    this.#changed = changed;
    this.#state = beginCheck(known);
    this.#unlisten = line.listen({
      line: (each) => this.#heard(each),
      lost: () => this.#enter({ type: 'lost' }),
    });
  }

  get state(): CheckState {
    return this.#state;
  }

  act(act: CheckAct): void {
    this.#enter({ type: 'act', act });
  }

  /** Lets go of the stand. Whatever the check had set going is stopped. */
  async end(): Promise<void> {
    if (this.#over) return;
    this.#over = true;
    this.#unlisten();
    if (this.#state.end === null) await this.#line.stopNow();
  }

  #learn(): void {
    const known = this.#unsure ? this.#line.known() : null;
    if (known === null) return;
    this.#unsure = false;
    this.#enter({ type: 'known', known });
  }

  #heard(line: BoardLine): void {
    this.#learn();
    if (line.kind === 'reading') this.#enter({ type: 'reading', reading: line });
    if (line.kind === 'health') this.#enter({ type: 'health', health: line });
  }

  #enter(input: CheckInput): void {
    if (this.#over) return;
    const { state, send, stop }: CheckMove = checkStep(this.#state, input);
    this.#state = state;
    if (stop) void this.#line.stopNow();
    for (const command of send) void this.#send(command);
    this.#changed(state);
  }

  async #send(command: BoardCommand): Promise<void> {
    const result = await this.#line.send(command);
    this.#enter({ type: 'answer', to: command.command, ok: result.ok, word: result.word });
    if (command.command === 'save' && result.ok) this.#unsure = true;
    this.#learn();
  }
}
