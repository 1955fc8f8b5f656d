import type { LinkView, Plan, PortsAnswer, RunView } from '../http/messages.ts';
import type { Reading } from '../link/readings.ts';
import type { SettingKey } from '../link/settings.ts';
import type { ChartPoint } from '../records/types.ts';
import type { StandHold } from './session-hold.ts';
import type { StandFacts } from './types.ts';

/** Why something was not done. `message` is a sentence for a mechanic, `code` a word for programs. */
export interface SessionProblem {
  code:
    | 'disconnected' // no stand is connected
    | 'stand-not-ready' // it is, but its settings are not good
    | 'run-under-way' // another run, or the same one a step further
    | 'not-ready' // nothing is armed
    | 'two-at-once' // another command still waits for the board
    | 'refused' // the board said no
    | 'not-confirmed' // the board did not say yes in time
    | 'no-run' // nothing to throw away
    | 'list-first' // the list before a run is not confirmed
    | 'port'; // the port cannot be used
  message: string;
}

/** Asked at the last moment before a run of this plan begins: why it may not, or null. */
export type MayBegin = (plan: Plan) => SessionProblem | null;

export type Outcome<T> = { ok: true; value: T } | { ok: false; problem: SessionProblem };

export interface SessionView {
  link: LinkView;
  plan: Plan;
  run: RunView;
}

export interface SessionListener {
  /** Something of the view changed; `point` is the chart's newest point where there is a new one. */
  changed(point: ChartPoint | null): void;
  /** A new run began. */
  began(): void;
  /** The plan for the next run changed. */
  planned(): void;
}

/** What the HTTP side may ask of the session. */
export interface SessionFace {
  readonly demo: boolean;
  /** Changes with every start of the server. */
  readonly startId: string;
  view(): SessionView;
  /** The chart of the run in hand or of the last one, thinned. */
  trace(): ChartPoint[];
  /** What is wrong with the service itself, as sentences. */
  troubles(): string[];
  keepPlan(plan: Plan): Promise<Outcome<Plan>>;
  ports(): Promise<PortsAnswer>;
  choosePort(path: string | null): Promise<Outcome<LinkView>>;
  arm(mayBegin?: MayBegin): Promise<Outcome<RunView>>;
  start(): Promise<Outcome<RunView>>;
  stop(): Promise<Outcome<RunView>>;
  abort(): Promise<Outcome<RunView>>;
  /** Calls the listener from now on; the returned function ends that. */
  listen(listener: SessionListener): () => void;
  /** Calls the listener with every reading of the board that is to be believed, run or no run; the returned function ends that. */
  readings(listener: (reading: Reading) => void): () => void;
  /** Takes the stand for something other than a run, such as its check; refused while a run is under way or someone else has it. */
  holdStand(): Outcome<StandHold>;
  /** Puts settings into the board's memory; refused while anything is under way. */
  writeSettings(changes: Readonly<Partial<Record<SettingKey, string>>>): Promise<Outcome<null>>;
  /** The stand by its settings; null unless it is connected and they have been read. */
  standFacts(): StandFacts | null;
}
