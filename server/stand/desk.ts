import type { Clock } from '../clock.ts';
import type { Item, Store } from '../records/types.ts';
import type { StandHold } from '../run/session-hold.ts';
import { refuse } from '../run/session-refusals.ts';
import type { Outcome, SessionFace } from '../run/session-types.ts';
import { askOf, type CheckState, hasPassed, liveOf, stepsFor } from './check.ts';
import { CheckConductor } from './conductor.ts';
import { keepCheck } from './keep.ts';
import { reportOf } from './report.ts';
import type { MassesWork } from './step-masses.ts';
import type { Ask, CheckAct, Figure, StepName, StepResult } from './types.ts';

/** Whoever does by hand what the check asks for, where the stand is imagined. */
export interface Hands {
  /** Something is asked: turn, press, release. */
  asked(ask: Ask): void;
  /** So many grams are to hang on a cell. */
  hang(cell: number, grams: number): void;
}

export interface StandDeskOptions {
  session: Pick<SessionFace, 'holdStand'>;
  store: Pick<Store, 'stands' | 'standChecks' | 'scaleChecks'>;
  clock: Clock;
  hands?: Hands;
  /** A check that nobody has answered for so long is given up, so that the stand is free again. */
  forgottenMillis?: number;
  /** ISO 8601, UTC. */
  now?: () => string;
}

/** The check under way, as a page shows it. */
export interface CheckView {
  step: StepName;
  steps: readonly StepName[];
  ask: Ask;
  /** Names what is asked now, and never again: an act says with it what it answers. */
  question: string;
  live: readonly Figure[];
  results: readonly StepResult[];
  end: CheckState['end'];
  passed: boolean;
  /** The board's own settings, by key. */
  settings: Readonly<Record<string, string>>;
  /** The check masses at hand, in the step of that name; else empty. */
  masses: readonly { name: string; grams: number; standardDoubt: number }[];
  /** Loads weighed so far on the cell in hand, grams. */
  weighed: readonly number[];
  /** Whether it is on record: null until it is over, and why not where it is not. */
  kept: { ok: boolean; sentence: string } | null;
}

/** What is asked, and the name that it goes by. */
interface Question {
  of: string;
  name: string;
}

const usualForgottenMillis = 20 * 60_000;

interface Running {
  conductor: CheckConductor;
  hold: StandHold;
  by: string;
  kept: CheckView['kept'];
  /** What the hands were last told of. */
  asked: string;
  question: Question;
  cancelForgotten: () => void;
}

const noCheck = refuse('no-run', 'There is no check under way. Begin one first.');
const askedElse = refuse(
  'refused',
  'The check has gone on meanwhile and asks something else. Look at what it asks now, then answer.',
);

/** The check of the connected stand: one at a time, in as many windows as like to look. */
export class StandDesk {
  readonly #options: StandDeskOptions;
  #running: Running | null = null;
  #questions = 0;

  constructor(options: StandDeskOptions) {
    this.#options = options;
  }

  /** Begins a check, as `by`; refused while a run or another check is under way, or no stand is there. */
  async begin(by: string): Promise<Outcome<CheckView>> {
    const taken = this.#takeStand();
    if (!taken.ok) return taken;
    const hold = taken.value;
    const known = hold.known();
    if (known === null) {
      hold.release();
      return refuse(
        'disconnected',
        'No stand is connected whose settings could be read. Connect it and try again.',
      );
    }
    const conductor = new CheckConductor(hold, known, (state) => this.#changed(state));
    this.#running = {
      conductor,
      hold,
      by,
      kept: null,
      asked: '',
      question: this.#questionOf(conductor.state),
      cancelForgotten: () => {},
    };
    this.#remember();
    return { ok: true, value: this.#viewOf(this.#running) };
  }

  /**
   * A person's act in the check under way, in answer to `question`. Refused where something else is asked by now: a yes to the lamp, from a
   * page that has not seen the check go on, must not be a yes to the motor. What is not among the acts asked for changes nothing.
   */
  act(act: CheckAct, question: string): Outcome<CheckView> {
    const running = this.#running;
    if (running === null) return noCheck;
    this.#remember();
    if (question !== running.question.name && !endsMotor(running, act)) return askedElse;
    if (act.do === 'weigh') this.#hangFor(running, act.masses);
    running.conductor.act(act);
    return { ok: true, value: this.#viewOf(running) };
  }

  /** Gives the check up, or puts an ended one away. Whatever it had set going is stopped. */
  async drop(): Promise<void> {
    const running = this.#running;
    this.#running = null;
    if (running === null) return;
    running.cancelForgotten();
    await running.conductor.end();
    running.hold.release();
  }

  view(): CheckView | null {
    return this.#running === null ? null : this.#viewOf(this.#running);
  }

  /** The newest check of the stand of this name, and when the next is due; null where there was none. */
  async newest(stand: string): Promise<Item<'stand-check'> | null> {
    for (let after: string | null = null; ; ) {
      const page: Awaited<ReturnType<Store['standChecks']['list']>> =
        await this.#options.store.standChecks.list({
          text: stand,
          after,
        });
      const found = page.items.find(({ fields }) => fields.stand === stand);
      if (found !== undefined) return found;
      after = page.next;
      if (after === null) return null;
    }
  }

  /** A check that is over may be begun anew in its place. */
  #takeStand(): Outcome<StandHold> {
    if (this.#running !== null && this.#running.conductor.state.end !== null) void this.drop();
    return this.#options.session.holdStand();
  }

  #changed(state: CheckState): void {
    const running = this.#running;
    if (running === null) return;
    const ask = askOf(state);
    const asked = `${state.step} ${ask.code}`;
    if (asked !== running.asked) this.#options.hands?.asked(ask);
    running.asked = asked;
    running.question = this.#questionOf(state, running.question);
    if (state.end === null || running.kept !== null) return;
    running.hold.release();
    if (state.end === 'finished') void this.#keep(running, state);
  }

  /** The question now: the one before while it is still asked, else one with a new name. */
  #questionOf(state: CheckState, before: Question | null = null): Question {
    const { code, values } = askOf(state);
    const of = `${state.step} ${code} ${JSON.stringify(values)}`;
    if (before?.of === of) return before;
    this.#questions++;
    return { of, name: `${state.step} ${code} ${this.#questions}` };
  }

  async #keep(running: Running, state: CheckState): Promise<void> {
    running.kept = { ok: false, sentence: 'Putting the check on record.' };
    const at = this.#options.now?.() ?? new Date().toISOString();
    try {
      await keepCheck(this.#options.store, reportOf(state, at, running.by), state);
      running.kept = { ok: true, sentence: '' };
    } catch (error) {
      running.kept = { ok: false, sentence: (error as Error).message };
    }
  }

  /** Somebody is there: the check is not forgotten yet. */
  #remember(): void {
    const running = this.#running;
    if (running === null) return;
    running.cancelForgotten();
    const { clock, forgottenMillis = usualForgottenMillis } = this.#options;
    running.cancelForgotten = clock.after(forgottenMillis, () => void this.drop());
  }

  #hangFor({ conductor: { state } }: Running, names: readonly string[]): void {
    if (state.step !== 'masses' || state.work === null) return;
    const { cell, masses } = state.work as MassesWork;
    const load = masses.reduce((sum, { name, grams }) => sum + (names.includes(name) ? Number(grams) : 0), 0);
    this.#options.hands?.hang(cell, load);
  }

  #viewOf({ conductor: { state }, kept, question }: Running): CheckView {
    const { step, results, end, known } = state;
    const work = step === 'masses' && state.work !== null ? (state.work as MassesWork) : null;
    const weights = new Map((work?.masses ?? []).map(({ name, grams }) => [name, Number(grams)]));
    const loadOf = (names: readonly string[]) =>
      names.reduce((sum, name) => sum + (weights.get(name) ?? 0), 0);
    return {
      step,
      steps: stepsFor(known),
      ask: askOf(state),
      question: question.name,
      live: liveOf(state),
      results,
      end,
      passed: hasPassed(state),
      settings: Object.fromEntries(known.settings),
      masses: (work?.masses ?? []).map(({ name, grams, standardDoubt }) => ({
        name,
        grams: Number(grams),
        standardDoubt: Number(standardDoubt),
      })),
      weighed: (work?.steps ?? []).map(({ masses }) => loadOf(masses)),
      kept,
    };
  }
}

/** A no or a skip while the motor turns stops it, whatever it was meant for. */
const endsMotor = ({ conductor: { state } }: Running, { do: word }: CheckAct): boolean =>
  askOf(state).code === 'motor-turning' && (word === 'no' || word === 'skip');
