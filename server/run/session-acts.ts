import type { Plan, RunView } from '../http/messages.ts';
import type { Link } from '../link/link.ts';
import { hasFlag } from './flags.ts';
import type { DeskLine } from './session-desk.ts';
import type { RunsInHand } from './session-hand.ts';
import { notConfirmed, notReached, refuse, runUnderWay } from './session-refusals.ts';
import type { SessionRun } from './session-run.ts';
import type { MayBegin, Outcome } from './session-types.ts';
import type { Watch } from './session-watch.ts';
import type { StandFacts } from './types.ts';

/** Milliseconds that a request waits for what the board makes of it. */
const patience = { settings: 1000, arm: 6000, start: 4000, stop: 1500 };

export interface ActSurroundings {
  link: Link;
  watch: Watch;
  desk: DeskLine;
  hand: RunsInHand;
  /** The plan for the next run. */
  plan: () => Plan;
  begin: (plan: Plan, stand: StandFacts, calibrationId: string | null) => SessionRun;
  runView: () => RunView;
  /** Why nothing may be armed at present, though no run is under way; null where it may. */
  heldBy: () => Outcome<never> | null;
}

/** What people do with a run: get ready, start, stop, throw away. Each resolves once the board has done it, or with why not. */
export class RunActs {
  readonly #around: ActSurroundings;
  #starting = false;
  /** Times that Stop was pressed. */
  #stops = 0;

  constructor(around: ActSurroundings) {
    this.#around = around;
  }

  async arm(mayBegin: MayBegin = () => null): Promise<Outcome<RunView>> {
    const { link, watch, desk, hand } = this.#around;
    // Just after connecting, the stand's settings are still on their way.
    const known = () => link.view().board === null || this.#standNow().ok;
    if (!known()) await watch.until(known, patience.settings);
    if (hand.underWay) return runUnderWay;
    const plan = structuredClone(this.#around.plan());
    const stops = this.#stops;
    const calibrationId = desk.open ? await desk.calibrationFor(plan) : null;
    const asked = this.#standNow();
    const checkedScale = desk.open && asked.ok ? await desk.checkedScale(asked.value) : {};
    // Meanwhile another page may have armed, someone pressed Stop, or the stand gone.
    if (hand.underWay) return runUnderWay;
    if (this.#stops !== stops) return refuse('not-ready', 'Stop was pressed, so nothing was armed.');
    const stand = this.#standNow();
    if (!stand.ok) return stand;
    const held = this.#around.heldBy();
    if (held !== null) return held;
    const problem = mayBegin(plan);
    if (problem !== null) return { ok: false, problem };
    const run = this.#around.begin(plan, { ...stand.value, ...checkedScale }, calibrationId);
    await watch.until(() => run.state.phase !== 'taring' || run.state.outcome !== null, patience.arm);
    await run.closed();
    return run.state.outcome === 'refused'
      ? refuse('refused', run.view().figures.sentence)
      : { ok: true, value: run.view() };
  }

  async start(): Promise<Outcome<RunView>> {
    const { link, watch, hand } = this.#around;
    const { board, sentence: linkSentence } = link.view();
    if (board === null) return refuse('disconnected', `The wheel was not started. ${linkSentence}`);
    const { run } = hand;
    const why = this.#whyNotStart(run);
    if (why !== null || run === null) return why ?? refuse('not-ready', 'The stand is not ready to start.');
    this.#starting = true;
    run.enter({ type: 'command', command: 'start' });
    await watch.until(() => run.state.startAskedMicros === null, patience.start);
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
    const sent = this.#around.link.stopNow();
    const run = this.#around.hand.underWay;
    run?.enter({ type: 'command', command: 'stop' });
    return this.#confirmStop(sent, run);
  }

  async abort(): Promise<Outcome<RunView>> {
    const sent = this.#around.link.stopNow();
    const run = this.#around.hand.underWay;
    if (run === null) return refuse('no-run', 'There is no run under way that could be thrown away.');
    run.enter({ type: 'command', command: 'abort' });
    return this.#confirmStop(sent, run);
  }

  /** Waits for the board's word that it has stopped. With nothing under way, no check of the stand either, there is nothing to wait for. */
  async #confirmStop(sent: ReturnType<Link['stopNow']>, run: SessionRun | null): Promise<Outcome<RunView>> {
    const { watch, heldBy, runView } = this.#around;
    if (run === null && heldBy() === null) return { ok: true, value: runView() };
    const result = await Promise.race([sent, watch.pause(patience.stop)]);
    if (result === undefined || (!result.ok && result.failure !== 'not-connected')) {
      return refuse('not-confirmed', notConfirmed);
    }
    if (!result.ok) return refuse('disconnected', notReached);
    if (run === null) return { ok: true, value: runView() };
    await watch.until(() => run.state.phase !== 'turning', patience.stop);
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
    const { link } = this.#around;
    const { board, sentence } = link.view();
    if (board === null) return refuse('disconnected', `Nothing was armed. ${sentence}`);
    if (board.settings !== 'ok') return refuse('stand-not-ready', sentence);
    const value = link.standFacts();
    return value === null
      ? refuse('stand-not-ready', 'The settings of the stand could not be read yet. Try again in a moment.')
      : { ok: true, value };
  }
}
