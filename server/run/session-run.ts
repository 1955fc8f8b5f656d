import type { Clock } from '../clock.ts';
import type { RunView } from '../http/messages.ts';
import type { NewRun, Records, UnsavedRun } from '../records/types.ts';
import { figures } from './figures.ts';
import { reduce } from './reduce.ts';
import { inputText, type NotedInput } from './session-inputs.ts';
import { JournalWriter, type KeptJournal } from './session-journal.ts';
import { chartPoint, formulaVersion } from './session-replay.ts';
import { Trace } from './session-trace.ts';
import { initialRun, type RunState } from './state.ts';
import type { RunEffect, RunFigures, RunInput } from './types.ts';

/** How often the run hears the host's time. */
const clockMillis = 1000;

/** Where a run that was cut off goes on from. */
export interface CutOffRun {
  state: RunState;
  trace: Trace;
  kept: KeptJournal;
}

export interface RunSurroundings {
  clock: Clock;
  records: Records;
  /** Carries out what the run wants done with the board. */
  send: (effect: Extract<RunEffect, { type: 'send' }>) => void;
  /** Called after every input, and when its record is made or fails. */
  changed: (point: ReturnType<typeof chartPoint>) => void;
  /** Called once its end is on disk. */
  closed: () => void;
}

/** One run: every input goes into its journal first and into its reducer then, so that the journal tells the whole story. */
export class SessionRun {
  readonly id: string;
  readonly plan: NewRun['plan'];
  readonly #around: RunSurroundings;
  readonly #writer: JournalWriter;
  readonly #trace: Trace;
  #state: RunState;
  #shown: RunFigures | null = null;
  #cancelClock: () => void = () => {};
  /** Start of the run on two clocks: the second may be set while it goes on, so the first tells how long that was. */
  readonly #beganAt: number;
  readonly #startedAt: number;
  /** Resolves when the run is closed on disk, or known not to be. */
  #closing: Promise<void> | null = null;
  #settled = false;

  /** `cutOff`: what there is already of a run that goes on. */
  constructor(run: NewRun, around: RunSurroundings, cutOff: CutOffRun | null = null) {
    this.id = run.id;
    this.plan = run.plan;
    this.#around = around;
    this.#trace = cutOff?.trace ?? new Trace();
    this.#state = cutOff?.state ?? initialRun();
    this.#beganAt = performance.now() - (cutOff?.kept.hostMillis ?? 0);
    this.#startedAt = Date.parse(run.startedAt);
    const trouble = () => {
      around.changed(null);
      // The disk took its end late.
      if (this.#settled && this.#writer.closed) around.closed();
    };
    this.#writer = new JournalWriter(around.records, run, around.clock, trouble, cutOff?.kept);
    this.#tick();
  }

  get state(): RunState {
    return this.#state;
  }

  get underWay(): boolean {
    return this.#closing === null;
  }

  /** Why it is not on record as it should be, or null. */
  get trouble(): string | null {
    return this.#writer.trouble;
  }

  /** True once the run and its end are on disk. */
  get onRecord(): boolean {
    return this.#writer.closed;
  }

  /** What of it is in memory alone, once it is over; null while all is well. */
  unsaved(): UnsavedRun | null {
    return this.#writer.unsaved();
  }

  /** A line of the board, as it came; its meaning follows by `apply`. */
  noteLine(text: string): void {
    if (this.underWay) this.#writer.note('line', text);
  }

  /** An input that no line carries. */
  enter(input: NotedInput): void {
    if (!this.underWay) return;
    this.#writer.note('input', inputText(input));
    this.apply(input);
  }

  /** An input from a noted line, or entered. */
  apply(input: RunInput): void {
    if (!this.underWay) return;
    const { state, effects } = reduce(this.#state, input);
    this.#state = state;
    this.#shown = null;
    for (const effect of effects) this.#perform(effect);
    const point = input.type === 'reading' ? chartPoint(state) : null;
    this.#around.changed(point !== null && this.#trace.offer(point) ? point : null);
  }

  trace() {
    return this.#trace.points();
  }

  view(): RunView {
    return { id: this.id, plan: this.plan, figures: this.#figuresNow() };
  }

  /** Resolves when the run is over and its end is on disk, or could not be put there for now. */
  async closed(): Promise<void> {
    await this.#closing;
  }

  /** No more writing: the last of it now, or never. */
  async letGo(): Promise<void> {
    this.#cancelClock();
    await this.#writer.flush();
    this.#writer.abandon();
  }

  #figuresNow(): RunFigures {
    this.#shown ??= figures(this.#state);
    if (this.#closing !== null && !this.#settled) {
      return { ...this.#shown, phase: 'settling', outcome: null, sentence: 'Putting the run on record.' };
    }
    const { trouble } = this.#writer;
    if (trouble === null) return this.#shown;
    return { ...this.#shown, sentence: `${this.#shown.sentence} This run is not on record yet: ${trouble}` };
  }

  #perform(effect: RunEffect): void {
    if (effect.type === 'close') {
      this.#close();
      return;
    }
    const { type: _, ...sent } = effect;
    this.#writer.note('sent', JSON.stringify(sent));
    this.#around.send(effect);
  }

  #close(): void {
    this.#cancelClock();
    const ended = figures(this.#state);
    const end = {
      endedAt: new Date(this.#startedAt + performance.now() - this.#beganAt).toISOString(),
      outcome: ended.outcome ?? 'interrupted',
      figures: ended,
      trace: this.#trace.points(),
      formulaVersion,
    };
    this.#closing = this.#writer.close(end).then(() => {
      this.#settled = true;
      this.#around.changed(null);
      if (this.#writer.closed) this.#around.closed();
    });
  }

  #tick(): void {
    this.#cancelClock = this.#around.clock.after(clockMillis, () => {
      this.enter({ type: 'clock', seconds: this.#around.clock.now() / 1000 });
      if (this.underWay) this.#tick();
    });
  }
}
