import type { Plan } from '../http/messages.ts';
import type { StandFacts } from './types.ts';

/** What a session asks of whoever keeps the calibrations. */
export interface RunDesk {
  /** Id of the calibration that a run of this plan belongs to. */
  forRun(plan: Plan): Promise<string>;
  /** Relative doubt of the slope of this stand's scale, by its scale check; null without one. */
  scaleSlopeDoubt?(stand: StandFacts): Promise<number | null>;
  /** A run has ended and its end is on disk. */
  runClosed(runId: string): Promise<void>;
}

/** Asks the desk, where there is one. A run is made whether it answers or not. */
export class DeskLine {
  readonly #desk: RunDesk | undefined;
  /** Why the newest question was not answered, as a sentence; null when it was. */
  trouble: string | null = null;

  constructor(desk: RunDesk | undefined) {
    this.#desk = desk;
  }

  /** False where nobody needs to be asked, so that nothing has to be waited for. */
  get open(): boolean {
    return this.#desk !== undefined;
  }

  async calibrationFor(plan: Plan): Promise<string | null> {
    return (await this.#ask((desk) => desk.forRun(plan))) ?? null;
  }

  /** What the stand's scale check adds to its facts. */
  async checkedScale(stand: StandFacts): Promise<Pick<StandFacts, 'scaleSlopeDoubt'>> {
    const scaleSlopeDoubt = (await this.#desk?.scaleSlopeDoubt?.(stand).catch(() => null)) ?? null;
    return scaleSlopeDoubt === null ? {} : { scaleSlopeDoubt };
  }

  async runClosed(runId: string): Promise<void> {
    await this.#ask((desk) => desk.runClosed(runId));
  }

  async #ask<T>(question: (desk: RunDesk) => Promise<T>): Promise<T | undefined> {
    if (this.#desk === undefined) return undefined;
    try {
      const answer = await question(this.#desk);
      this.trouble = null;
      return answer;
    } catch (error) {
      this.trouble = `The run could not be put with its calibration. ${(error as Error).message}`;
      return undefined;
    }
  }
}
