import { v7 as newId } from 'uuid';
import type { Clock } from '../clock.ts';
import type { LinkView, Plan, PortsAnswer, RunView } from '../http/messages.ts';
import type { LinkFigures } from '../link/figures.ts';
import { Link, type LinkOptions } from '../link/link.ts';
import type { Reading } from '../link/readings.ts';
import type { ChartPoint, Records, UnsavedRun } from '../records/types.ts';
import { figures } from './figures.ts';
import { hasFlag } from './flags.ts';
import { settingNumberOf, standFor } from './plan.ts';
import { InputReader } from './session-inputs.ts';
import { notConfirmed, notReached, refusalWord, refuse } from './session-refusals.ts';
import { SessionRun } from './session-run.ts';
import type { Outcome, SessionFace, SessionListener, SessionView } from './session-types.ts';
import { initialRun } from './state.ts';
import type { RunEffect, StandFacts } from './types.ts';

/** Milliseconds that a request waits for what the board makes of it. */
const patience = { settings: 1000, arm: 6000, start: 4000, stop: 1500 };

/** Runs kept in memory alone while the disk cannot be written. */
const mostUnsaved = 5;

export interface SessionOptions {
  clock: Clock;
  link: Pick<LinkOptions, 'createPort' | 'listPorts' | 'path' | 'random'>;
  records: Records;
  demo: boolean;
  /** The plan for the next run, to begin with. */
  plan: Plan;
  /** Knows which runs belong together; without it each stands alone. */
  desk?: RunDesk;
}

/** What a session asks of whoever keeps the calibrations. */
export interface RunDesk {
  /** Id of the calibration that a run of this plan belongs to. */
  forRun(plan: Plan): Promise<string>;
  /** Relative doubt of the slope of this stand's scale, by its scale check; null without one. */
  scaleSlopeDoubt?(stand: StandFacts): Promise<number | null>;
  /** A run has ended and its end is on disk. */
  runClosed(runId: string): Promise<void>;
}

/** The job in hand: one stand, one plan, one run at a time. Ties the link, the run and the records together. */
export class Session implements SessionFace {
  readonly demo: boolean;
  readonly startId = newId();
  readonly #options: SessionOptions;
  readonly #link: Link;
  readonly #reader = new InputReader();
  readonly #listeners = new Set<SessionListener>();
  readonly #readers = new Set<(reading: Reading) => void>();
  readonly #watches = new Set<() => void>();
  #plan: Plan;
  #planTrouble: string | null = null;
  #deskTrouble: string | null = null;
  #run: SessionRun | null = null;
  /** Earlier runs that could not be put on record yet. */
  #unsaved: SessionRun[] = [];
  #linkUp = false;
  #starting = false;
  /** Times that Stop was pressed. */
  #stops = 0;

  constructor(options: SessionOptions) {
    this.#options = options;
    this.demo = options.demo;
    this.#plan = options.plan;
    this.#link = new Link({
      ...options.link,
      clock: options.clock,
      onLine: (_line, text) => this.#heard(text),
      onStatus: (view) => this.#linkChanged(view),
    });
  }

  /** Begins to look for the stand. */
  open(): void {
    this.#link.start();
  }

  /** Stops the wheel, ends what is under way, lets go of the port. The records stay open: they are not the session's. */
  async shut(): Promise<void> {
    const stopped = this.#link.stopNow();
    this.#run?.enter({ type: 'interrupted' });
    await Promise.race([stopped, this.#wait(500)]);
    await this.#run?.closed();
    await Promise.all([...this.#unsaved, this.#run].map((run) => run?.letGo()));
    await this.#link.stop();
  }

  view(): SessionView {
    return { link: this.#link.view(), plan: this.#plan, run: this.#runView() };
  }

  trace(): ChartPoint[] {
    return this.#run?.trace() ?? [];
  }

  troubles(): string[] {
    const runs = [...this.#unsaved, this.#run].map((run) => run?.trouble ?? null);
    return [...new Set([this.#planTrouble, this.#deskTrouble, ...runs])].filter(
      (trouble) => trouble !== null,
    );
  }

  /** Runs that are over and in memory alone, for want of a disk that takes them. */
  unsaved(): UnsavedRun[] {
    return [...this.#unsaved, this.#run].flatMap((run) => run?.unsaved() ?? []);
  }

  /** Counts of the link, for those who watch the service. */
  linkFigures(): LinkFigures {
    return this.#link.figures();
  }

  listen(listener: SessionListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  standFacts(): StandFacts | null {
    return this.#link.standFacts();
  }

  readings(listener: (reading: Reading) => void): () => void {
    this.#readers.add(listener);
    return () => this.#readers.delete(listener);
  }

  /** Changes the plan for the next run. Where it cannot be put on disk it holds until the service ends, and `troubles` says so. */
  async keepPlan(plan: Plan): Promise<Outcome<Plan>> {
    this.#plan = plan;
    for (const listener of this.#listeners) listener.planned();
    try {
      await this.#options.records.keepSetting('plan', plan);
      this.#planTrouble = null;
    } catch (error) {
      this.#planTrouble = `The plan will be forgotten when Catchbench ends. ${(error as Error).message}`;
    }
    return { ok: true, value: plan };
  }

  async ports(): Promise<PortsAnswer> {
    return { ports: await this.#options.link.listPorts() };
  }

  async choosePort(path: string | null): Promise<Outcome<LinkView>> {
    if (this.#run?.underWay) {
      return refuse('run-under-way', 'A run is under way on this port. Stop it or throw it away first.');
    }
    this.#link.choose(path);
    return { ok: true, value: this.#link.view() };
  }

  async arm(): Promise<Outcome<RunView>> {
    // Just after connecting, the stand's settings are still on their way.
    const known = () => !this.#linkUp || this.#standNow().ok;
    if (!known()) await this.#until(known, patience.settings);
    if (this.#run?.underWay) {
      return refuse('run-under-way', 'A run is under way already. Stop it or throw it away first.');
    }
    const plan = structuredClone(this.#plan);
    const stops = this.#stops;
    const calibrationId = this.#options.desk === undefined ? null : await this.#calibrationFor(plan);
    const checkedScale = await this.#checkedScale();
    // Meanwhile another page may have armed, someone pressed Stop, or the stand gone.
    if (this.#run?.underWay) {
      return refuse('run-under-way', 'A run is under way already. Stop it or throw it away first.');
    }
    if (this.#stops !== stops) return refuse('not-ready', 'Stop was pressed, so nothing was armed.');
    const stand = this.#standNow();
    if (!stand.ok) return stand;
    const run = this.#begin(plan, { ...stand.value, ...checkedScale }, calibrationId);
    await this.#until(() => run.state.phase !== 'taring' || run.state.outcome !== null, patience.arm);
    await run.closed();
    return run.state.outcome === 'refused'
      ? refuse('refused', run.view().figures.sentence)
      : { ok: true, value: run.view() };
  }

  async start(): Promise<Outcome<RunView>> {
    if (!this.#linkUp)
      return refuse('disconnected', `The wheel was not started. ${this.#link.view().sentence}`);
    const run = this.#run;
    const why = this.#whyNotStart(run);
    if (why !== null || run === null) return why ?? refuse('not-ready', 'The stand is not ready to start.');
    this.#starting = true;
    run.enter({ type: 'command', command: 'start' });
    await this.#until(() => run.state.startAskedMicros === null, patience.start);
    this.#starting = false;
    await run.closed();
    const view = run.view();
    const { phase, outcome, sentence } = view.figures;
    if (outcome === 'refused') return refuse('refused', sentence);
    return phase === 'taring' || phase === 'ready'
      ? refuse('not-confirmed', sentence)
      : { ok: true, value: view };
  }

  async stop(): Promise<Outcome<RunView>> {
    this.#stops += 1;
    const sent = this.#link.stopNow();
    const run = this.#run?.underWay ? this.#run : null;
    run?.enter({ type: 'command', command: 'stop' });
    return this.#confirmStop(sent, run);
  }

  async abort(): Promise<Outcome<RunView>> {
    const sent = this.#link.stopNow();
    const run = this.#run?.underWay ? this.#run : null;
    if (run === null) return refuse('no-run', 'There is no run under way that could be thrown away.');
    run.enter({ type: 'command', command: 'abort' });
    return this.#confirmStop(sent, run);
  }

  /** Waits for the board's word that it has stopped. With nothing under way there is nothing to wait for. */
  async #confirmStop(sent: ReturnType<Link['stopNow']>, run: SessionRun | null): Promise<Outcome<RunView>> {
    if (run === null) return { ok: true, value: this.#runView() };
    const result = await Promise.race([sent, this.#wait(patience.stop)]);
    if (result === undefined || (!result.ok && result.failure !== 'not-connected')) {
      return refuse('not-confirmed', notConfirmed);
    }
    if (!result.ok) return refuse('disconnected', notReached);
    await this.#until(() => run.state.phase !== 'turning', patience.stop);
    await run.closed();
    return run.state.phase === 'turning'
      ? refuse('not-confirmed', notConfirmed)
      : { ok: true, value: run.view() };
  }

  #whyNotStart(run: SessionRun | null): Outcome<never> | null {
    if (run === null || !run.underWay)
      return refuse('not-ready', 'The stand is not ready to start: get it ready first.');
    const { state } = run;
    if (this.#starting) return refuse('two-at-once', 'Start was pressed already; waiting for the stand.');
    if (state.phase === 'taring') return refuse('not-ready', run.view().figures.sentence);
    if (state.phase !== 'ready') return refuse('run-under-way', 'This run has been started already.');
    return hasFlag(state, 'stopOpen') ? refuse('refused', run.view().figures.sentence) : null;
  }

  /** The stand as a run must know it, or why none can be armed. */
  #standNow(): Outcome<StandFacts> {
    const { board, sentence } = this.#link.view();
    if (board === null) return refuse('disconnected', `Nothing was armed. ${sentence}`);
    if (board.settings !== 'ok') return refuse('stand-not-ready', sentence);
    const value = this.#link.standFacts();
    return value === null
      ? refuse('stand-not-ready', 'The settings of the stand could not be read yet. Try again in a moment.')
      : { ok: true, value };
  }

  /** A run whose calibration cannot be told is made all the same. */
  async #calibrationFor(plan: Plan): Promise<string | null> {
    const { desk } = this.#options;
    return desk === undefined ? null : this.#withDesk(null, () => desk.forRun(plan));
  }

  /** What the stand's scale check adds to its facts. */
  async #checkedScale(): Promise<Pick<StandFacts, 'scaleSlopeDoubt'>> {
    const stand = this.#standNow();
    const { desk } = this.#options;
    if (!stand.ok || desk?.scaleSlopeDoubt === undefined) return {};
    const scaleSlopeDoubt = await desk.scaleSlopeDoubt(stand.value).catch(() => null);
    return scaleSlopeDoubt === null ? {} : { scaleSlopeDoubt };
  }

  async #withDesk<T>(otherwise: T, ask: () => Promise<T>): Promise<T> {
    try {
      const answer = await ask();
      this.#deskTrouble = null;
      return answer;
    } catch (error) {
      this.#deskTrouble = `The run could not be put with its calibration. ${(error as Error).message}`;
      return otherwise;
    }
  }

  #begin(plan: Plan, board: StandFacts, calibrationId: string | null): SessionRun {
    const { clock, records, demo, desk } = this.#options;
    const startedAt = new Date().toISOString();
    const stand = standFor(plan, board);
    const settingNumber = settingNumberOf(plan);
    const run = new SessionRun(
      { id: newId(), startedAt, demo, plan, stand, calibrationId, settingNumber },
      {
        clock,
        records,
        send: (effect) => void this.#send(run, effect),
        changed: (point) => this.#changed(run, point),
        closed: () => void this.#withDesk(undefined, async () => desk?.runClosed(run.id)),
      },
    );
    this.#setAside(this.#run);
    this.#run = run;
    run.enter({ type: 'begin', plan, stand, reader: this.#reader.state() });
    for (const listener of this.#listeners) listener.began();
    return run;
  }

  /** The run before goes on trying to reach the disk, but not so many of them that memory runs out. */
  #setAside(run: SessionRun | null): void {
    this.#unsaved = this.#unsaved.filter((earlier) => earlier.trouble !== null);
    if (run?.trouble) this.#unsaved.push(run);
    if (this.#unsaved.length > mostUnsaved) void this.#unsaved.shift()?.letGo();
  }

  async #send(run: SessionRun, effect: Extract<RunEffect, { type: 'send' }>): Promise<void> {
    const { type: _, ...command } = effect;
    const result = await this.#link.send(command);
    if (effect.command === 'arm' && result.ok) run.enter({ type: 'armed', key: result.word });
    const word = refusalWord(effect.command, result);
    if (word !== null) run.enter({ type: 'refused', command: effect.command, word });
  }

  #heard(text: string): void {
    this.#run?.noteLine(text);
    for (const input of this.#reader.line(text)) {
      this.#run?.apply(input);
      if (input.type === 'reading') for (const listener of this.#readers) listener(input.reading);
    }
  }

  #linkChanged(view: LinkView): void {
    const up = view.board !== null;
    if (this.#linkUp && !up) {
      this.#reader.disconnected();
      this.#run?.enter({ type: 'link-lost' });
    }
    this.#linkUp = up;
    for (const look of this.#watches) look();
    this.#tell(null);
  }

  #changed(run: SessionRun, point: ChartPoint | null): void {
    for (const look of this.#watches) look();
    if (run === this.#run) this.#tell(point);
  }

  #tell(point: ChartPoint | null): void {
    for (const listener of this.#listeners) listener.changed(point);
  }

  #runView(): RunView {
    return this.#run?.view() ?? { id: null, plan: this.#plan, figures: figures(initialRun()) };
  }

  /** Resolves once `done` holds, looked at after every input, or when `milliseconds` have passed. */
  #until(done: () => boolean, milliseconds: number): Promise<void> {
    if (done()) return Promise.resolve();
    return new Promise((resolve) => {
      const end = () => {
        cancel();
        this.#watches.delete(look);
        resolve();
      };
      const look = () => {
        if (done()) end();
      };
      const cancel = this.#options.clock.after(milliseconds, end);
      this.#watches.add(look);
    });
  }

  #wait(milliseconds: number): Promise<undefined> {
    return new Promise((resolve) => {
      this.#options.clock.after(milliseconds, () => resolve(undefined));
    });
  }
}
