import { v7 as newId } from 'uuid';
import type { Clock } from '../clock.ts';
import type { LinkView, Plan, PortsAnswer, RunView } from '../http/messages.ts';
import type { LinkFigures } from '../link/figures.ts';
import { Link, type LinkOptions } from '../link/link.ts';
import type { Reading } from '../link/readings.ts';
import type { SettingKey } from '../link/settings.ts';
import type { ChartPoint, Records, UnsavedRun } from '../records/types.ts';
import { figures } from './figures.ts';
import { settingNumberOf, standFor } from './plan.ts';
import { RunActs } from './session-acts.ts';
import { DeskLine, type RunDesk } from './session-desk.ts';
import { RunsInHand } from './session-hand.ts';
import { Holding, type StandHold } from './session-hold.ts';
import { InputReader } from './session-inputs.ts';
import { awayUntilNow, type UnendedRun } from './session-recover.ts';
import { refusalWord, refuse } from './session-refusals.ts';
import { type RunSurroundings, SessionRun } from './session-run.ts';
import type { MayBegin, Outcome, SessionFace, SessionListener, SessionView } from './session-types.ts';
import { Watch } from './session-watch.ts';
import { initialRun } from './state.ts';
import type { RunEffect, StandFacts } from './types.ts';

export type { RunDesk } from './session-desk.ts';

export interface SessionOptions {
  clock: Clock;
  link: Pick<LinkOptions, 'createPort' | 'listPorts' | 'path' | 'random'>;
  records: Records;
  demo: boolean;
  /** The plan for the next run, to begin with. */
  plan: Plan;
  /** Knows which runs belong together; without it each stands alone. */
  desk?: RunDesk;
  /** A run that an earlier server left without an end, to go on with. */
  unended?: UnendedRun | null;
}

/** The job in hand: one stand, one plan, one run at a time. Ties the link, the run and the records together. */
export class Session implements SessionFace {
  readonly demo: boolean;
  readonly startId = newId();
  readonly #options: SessionOptions;
  readonly #link: Link;
  readonly #reader: InputReader;
  readonly #listeners = new Set<SessionListener>();
  readonly #readers = new Set<(reading: Reading) => void>();
  readonly #watch: Watch;
  readonly #desk: DeskLine;
  readonly #hand = new RunsInHand();
  readonly #acts: RunActs;
  readonly #holding: Holding;
  #plan: Plan;
  #planTrouble: string | null = null;
  #linkUp = false;

  constructor(options: SessionOptions) {
    this.#options = options;
    this.demo = options.demo;
    this.#plan = options.plan;
    this.#watch = new Watch(options.clock);
    this.#desk = new DeskLine(options.desk);
    this.#reader = this.#takeUp(options.unended ?? null);
    this.#link = new Link({
      ...options.link,
      clock: options.clock,
      onLine: (line, text) => {
        this.#holding.heard(line);
        this.#heard(text);
      },
      onBoot: (identity) => this.#holding.rebooted(identity),
      onStatus: (view) => this.#linkChanged(view),
    });
    this.#holding = new Holding(this.#link, this.#hand);
    this.#acts = new RunActs({
      link: this.#link,
      watch: this.#watch,
      desk: this.#desk,
      hand: this.#hand,
      plan: () => this.#plan,
      begin: (plan, stand, calibrationId) => this.#begin(plan, stand, calibrationId),
      runView: () => this.#runView(),
      heldBy: () => this.#holding.heldBy(),
    });
  }

  /** Begins to look for the stand. */
  open(): void {
    this.#link.start();
  }

  /** Stops the wheel, ends what is under way, lets go of the port. The records stay open: they are not the session's. */
  async shut(): Promise<void> {
    const stopped = this.#link.stopNow();
    const { run } = this.#hand;
    run?.enter({ type: 'interrupted' });
    await Promise.race([stopped, this.#watch.pause(500)]);
    await run?.closed();
    await this.#hand.letGo();
    await this.#link.stop();
  }

  view(): SessionView {
    return { link: this.#link.view(), plan: this.#plan, run: this.#runView() };
  }

  trace(): ChartPoint[] {
    return this.#hand.run?.trace() ?? [];
  }

  troubles(): string[] {
    const all = [this.#planTrouble, this.#desk.trouble, ...this.#hand.troubles()];
    return [...new Set(all)].filter((trouble) => trouble !== null);
  }

  /** Runs that are over and in memory alone, for want of a disk that takes them. */
  unsaved(): UnsavedRun[] {
    return this.#hand.unsaved();
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

  holdStand(): Outcome<StandHold> {
    return this.#holding.take();
  }

  writeSettings(changes: Readonly<Partial<Record<SettingKey, string>>>): Promise<Outcome<null>> {
    return this.#holding.writeSettings(changes);
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
    // While the stand is away, a run under way can only go on by the port that it is on now.
    if (this.#hand.underWay && this.#linkUp) {
      return refuse('run-under-way', 'A run is under way on this port. Stop it or throw it away first.');
    }
    // The port of a stand that is being checked: its motor may be turning.
    const held = this.#linkUp ? this.#holding.heldBy() : null;
    if (held !== null) return held;
    this.#link.choose(path);
    return { ok: true, value: this.#link.view() };
  }

  arm(mayBegin?: MayBegin): Promise<Outcome<RunView>> {
    return this.#acts.arm(mayBegin);
  }

  start(): Promise<Outcome<RunView>> {
    return this.#acts.start();
  }

  stop(): Promise<Outcome<RunView>> {
    return this.#acts.stop();
  }

  abort(): Promise<Outcome<RunView>> {
    return this.#acts.abort();
  }

  #begin(plan: Plan, board: StandFacts, calibrationId: string | null): SessionRun {
    const { demo } = this.#options;
    const startedAt = new Date().toISOString();
    const stand = standFor(plan, board);
    const settingNumber = settingNumberOf(plan);
    const run: SessionRun = new SessionRun(
      { id: newId(), startedAt, demo, plan, stand, calibrationId, settingNumber },
      this.#around(() => run),
    );
    this.#hand.take(run);
    run.enter({ type: 'begin', plan, stand, reader: this.#reader.state() });
    for (const listener of this.#listeners) listener.began();
    return run;
  }

  /** Goes on with a run that was cut off, as far as the stand goes along; returns the reader for its lines. */
  #takeUp(unended: UnendedRun | null): InputReader {
    if (unended === null) return new InputReader();
    const { record, replay, entries, lastMillis } = unended;
    const awaySeconds = awayUntilNow(unended);
    const { reader, ...rest } = replay.handOver();
    const kept = { entries, hostMillis: lastMillis + awaySeconds * 1000 };
    const run: SessionRun = new SessionRun(
      record,
      this.#around(() => run),
      { ...rest, kept },
    );
    reader.disconnected();
    this.#hand.take(run);
    run.enter({ type: 'resumed', awaySeconds, clockSeconds: this.#options.clock.now() / 1000 });
    return reader;
  }

  /** What a run needs of the session. `which`: the run itself, once it is made. */
  #around(which: () => SessionRun): RunSurroundings {
    const { clock, records } = this.#options;
    return {
      clock,
      records,
      send: (effect) => void this.#send(which(), effect),
      changed: (point) => this.#changed(which(), point),
      closed: () => void this.#desk.runClosed(which().id),
    };
  }

  async #send(run: SessionRun, effect: Extract<RunEffect, { type: 'send' }>): Promise<void> {
    const { type: _, ...command } = effect;
    const result = await this.#link.send(command);
    if (effect.command === 'arm' && result.ok) run.enter({ type: 'armed', key: result.word });
    const word = refusalWord(effect.command, result);
    if (word !== null) run.enter({ type: 'refused', command: effect.command, word });
  }

  #heard(text: string): void {
    const { run } = this.#hand;
    run?.noteLine(text);
    for (const input of this.#reader.line(text)) {
      run?.apply(input);
      if (input.type === 'reading') for (const listener of this.#readers) listener(input.reading);
    }
  }

  #linkChanged(view: LinkView): void {
    const up = view.board !== null;
    if (this.#linkUp && !up) {
      this.#reader.disconnected();
      this.#hand.run?.enter({ type: 'link-lost' });
      this.#holding.lost();
    }
    this.#linkUp = up;
    this.#watch.look();
    this.#tell(null);
  }

  #changed(run: SessionRun, point: ChartPoint | null): void {
    this.#watch.look();
    if (run === this.#hand.run) this.#tell(point);
  }

  #tell(point: ChartPoint | null): void {
    for (const listener of this.#listeners) listener.changed(point);
  }

  #runView(): RunView {
    return this.#hand.run?.view() ?? { id: null, plan: this.#plan, figures: figures(initialRun()) };
  }
}
