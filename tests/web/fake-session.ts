import type { LinkView, Plan, PortsAnswer, RunView } from '../../server/http/messages.ts';
import type { Reading } from '../../server/link/readings.ts';
import type { ChartPoint } from '../../server/records/types.ts';
import type {
  Outcome,
  SessionFace,
  SessionListener,
  SessionProblem,
  SessionView,
} from '../../server/run/session-types.ts';
import type { RunFigures as Figures, StandFacts } from '../../server/run/types.ts';
import * as invented from './invented.ts';

type Asked = 'keepPlan' | 'choosePort' | 'arm' | 'start' | 'stop' | 'abort';

/** A session without a stand: shows what a test tells it to, and notes what the page asks for. */
export class FakeSession implements SessionFace {
  demo = false;
  startId = 'first-start';
  link: LinkView = invented.link;
  plan: Plan = invented.plan;
  run: RunView = { id: null, plan: invented.plan, figures: invented.figuresOf(invented.plan, 'idle', 0) };
  points: ChartPoint[] = [];
  stand: StandFacts = invented.standFacts;
  /** What was asked for, in order. */
  asked: Asked[] = [];
  /** What is to be refused, and why. */
  refuse: Partial<Record<Asked, SessionProblem>> = {};
  /** Milliseconds before an answer. */
  delay = 0;
  readonly #listeners = new Set<SessionListener>();
  readonly #readers = new Set<(reading: Reading) => void>();

  view(): SessionView {
    return { link: this.link, plan: this.plan, run: this.run };
  }

  trace(): ChartPoint[] {
    return this.points;
  }

  troubles(): string[] {
    return [];
  }

  listen(listener: SessionListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  readings(listener: (reading: Reading) => void): () => void {
    this.#readers.add(listener);
    return () => this.#readers.delete(listener);
  }

  standFacts(): StandFacts | null {
    return this.link.board === null ? null : this.stand;
  }

  holdStand(): Outcome<never> {
    return { ok: false, problem: { code: 'disconnected', message: 'There is no stand here.' } };
  }

  writeSettings(): Promise<Outcome<null>> {
    return Promise.resolve(this.holdStand());
  }

  /** The board sends a reading. */
  read(reading: Reading): void {
    for (const listener of this.#readers) listener(reading);
  }

  /** A new run of the plan begins. */
  begin(id: string, phase: Figures['phase'] = 'taring'): void {
    this.run = { id, plan: this.plan, figures: invented.figuresOf(this.plan, phase, 0) };
    this.points = [];
    for (const listener of this.#listeners) listener.began();
  }

  /** Shows other figures of the run in hand. */
  show(figures: Figures, points: ChartPoint[] = []): void {
    this.run = { ...this.run, figures };
    for (const point of points) this.points.push(point);
    for (const listener of this.#listeners) {
      listener.changed(null);
      for (const point of points) listener.changed(point);
    }
  }

  /** Another condition of the link. */
  connect(link: Partial<LinkView>): void {
    this.link = { ...this.link, ...link };
    for (const listener of this.#listeners) listener.changed(null);
  }

  async keepPlan(plan: Plan): Promise<Outcome<Plan>> {
    return this.#answer('keepPlan', () => {
      this.plan = plan;
      for (const listener of this.#listeners) listener.planned();
      return plan;
    });
  }

  async ports(): Promise<PortsAnswer> {
    return {
      ports: [
        { path: '/dev/ttyUSB0', label: 'USB serial adapter' },
        { path: '/dev/ttyACM0', label: '' },
      ],
    };
  }

  async choosePort(path: string | null): Promise<Outcome<LinkView>> {
    return this.#answer('choosePort', () => {
      this.connect({ path, condition: 'opening', sentence: `Opening ${path}.`, board: null });
      return this.link;
    });
  }

  async arm(): Promise<Outcome<RunView>> {
    return this.#answer('arm', () => {
      this.begin(`run-${this.asked.length}`);
      return this.run;
    });
  }

  async start(): Promise<Outcome<RunView>> {
    return this.#answer('start', () => {
      this.show(invented.figuresOf(this.run.plan, 'turning', 0));
      return this.run;
    });
  }

  async stop(): Promise<Outcome<RunView>> {
    return this.#answer('stop', () => {
      const { phase, turnsDone } = this.run.figures;
      if (phase === 'turning') this.show(invented.figuresOf(this.run.plan, 'settling', turnsDone));
      return this.run;
    });
  }

  async abort(): Promise<Outcome<RunView>> {
    return this.#answer('abort', () => {
      const { plan, figures } = this.run;
      this.show(invented.figuresOf(plan, 'finished', figures.turnsDone, 0.98, { outcome: 'aborted' }));
      return this.run;
    });
  }

  async #answer<T>(asked: Asked, act: () => T): Promise<Outcome<T>> {
    this.asked.push(asked);
    if (this.delay > 0) await new Promise((resolve) => setTimeout(resolve, this.delay));
    const problem = this.refuse[asked];
    return problem === undefined ? { ok: true, value: act() } : { ok: false, problem };
  }
}
