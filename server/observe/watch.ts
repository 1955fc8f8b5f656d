import type { SessionFace } from '../run/session-types.ts';
import type { RunOutcome } from '../run/types.ts';
import type { Log } from './log.ts';

/** What the service has seen since it began, for the metrics. */
export interface Seen {
  readonly runsBegun: number;
  readonly runsEnded: Readonly<Partial<Record<RunOutcome, number>>>;
}

/** Writes into the log what becomes of stand and runs, and counts it: each change once, nothing at each reading. */
export class Watch {
  runsBegun = 0;
  runsEnded: Partial<Record<RunOutcome, number>> = {};
  readonly #session: SessionFace;
  readonly #log: Log;
  readonly #unlisten: () => void;
  #condition = '';
  #phase = '';

  constructor(session: SessionFace, log: Log) {
    this.#session = session;
    this.#log = log;
    this.#unlisten = session.listen({
      changed: () => this.#look(),
      began: () => {
        this.runsBegun += 1;
        this.#look();
      },
      planned: () => log.info('The plan was changed.'),
    });
  }

  stop(): void {
    this.#unlisten();
  }

  #look(): void {
    const { link, run } = this.#session.view();
    if (link.condition !== this.#condition) {
      this.#condition = link.condition;
      this.#log.info(
        { condition: link.condition, path: link.path, firmware: link.board?.firmware },
        link.sentence,
      );
    }
    const { phase, outcome, sentence } = run.figures;
    if (phase === this.#phase) return;
    this.#phase = phase;
    this.#log.info({ run: run.id, phase, outcome }, sentence);
    if (outcome !== null && run.id !== null) {
      this.runsEnded[outcome] = (this.runsEnded[outcome] ?? 0) + 1;
    }
  }
}
