import type { Clock } from '../../clock.ts';
import { FieldError, RecordsError } from '../errors.ts';
import type { Outbox } from '../outbox.ts';
import type { Store } from '../types.ts';
import { exchange } from './exchange.ts';
import { ShareFormatError, type ShareStore } from './share-store.ts';

/**
 * Milliseconds between two rounds while all is well; after a failure `first`, doubled each time up to `most`, with chance in it so that stands do
 * not all come at once.
 */
const usualPace = { round: 2000, first: 500, most: 60_000 };

export interface SharingState {
  condition: 'starting' | 'in touch' | 'out of touch' | 'refused';
  /** Things that the share has not got yet. */
  waiting: number;
  sentence: string;
  /** When both sides were last in step, ISO 8601, UTC; null while they never were since the start. */
  lastSuccessAt: string | null;
}

export interface SharingOptions {
  store: Store & { readonly outbox: Outbox };
  /** Makes a connection anew for each try. */
  connect: () => ShareStore;
  clock: Clock;
  /** Called whenever the condition changes. */
  changed?: (state: SharingState) => void;
  random?: () => number;
  pace?: typeof usualPace;
}

const sentences = {
  starting: 'Getting in touch with the shared records.',
  'in touch': 'The records are shared with the other stands.',
  'out of touch':
    'The shared records cannot be reached. All goes on here, and what is made meanwhile is handed in later. Check the network, and CATCHBENCH_SHARE if it goes on.',
} as const;

/** Keeps a stand and the share in step for as long as the service runs. Nothing else ever waits for it. */
export class Sharing {
  readonly #options: SharingOptions;
  readonly #pace: typeof usualPace;
  #state: SharingState = {
    condition: 'starting',
    waiting: 0,
    sentence: sentences.starting,
    lastSuccessAt: null,
  };
  #share: ShareStore | null = null;
  #failures = 0;
  #stopped = false;
  #cancel: () => void = () => {};
  #round: Promise<void> | null = null;

  constructor(options: SharingOptions) {
    this.#options = options;
    this.#pace = options.pace ?? usualPace;
  }

  get state(): SharingState {
    return this.#state;
  }

  /** The same with what waits at this moment. */
  async report(): Promise<SharingState> {
    return { ...this.#state, waiting: await this.#waiting() };
  }

  start(): void {
    this.#next(0);
  }

  /** Ends after the round in hand. */
  async stop(): Promise<void> {
    this.#stopped = true;
    this.#cancel();
    await this.#round;
    await this.#letGo();
  }

  #next(milliseconds: number): void {
    if (this.#stopped) return;
    this.#cancel = this.#options.clock.after(milliseconds, () => {
      this.#round = this.#once().finally(() => {
        this.#round = null;
      });
    });
  }

  /** Never rejects. */
  async #once(): Promise<void> {
    const { store, connect } = this.#options;
    try {
      this.#share ??= connect();
      await exchange(store, store.outbox, this.#share);
      this.#failures = 0;
      await this.#tell('in touch', sentences['in touch']);
      this.#next(this.#pace.round);
    } catch (error) {
      await this.#letGo();
      const refused =
        error instanceof FieldError || error instanceof RecordsError || error instanceof ShareFormatError;
      if (refused)
        await this.#tell('refused', `The shared records and these are out of step: ${error.message}`);
      else await this.#tell('out of touch', sentences['out of touch']);
      this.#next(this.#pause());
    }
  }

  #pause(): number {
    const { random = Math.random } = this.#options;
    const full = Math.min(this.#pace.most, this.#pace.first * 2 ** this.#failures++);
    return full * (0.5 + random() / 2);
  }

  /** A connection that failed is not used again. */
  async #letGo(): Promise<void> {
    const share = this.#share;
    this.#share = null;
    await share?.close().catch(() => {});
  }

  async #tell(condition: SharingState['condition'], sentence: string): Promise<void> {
    const before = this.#state;
    const lastSuccessAt = condition === 'in touch' ? new Date().toISOString() : before.lastSuccessAt;
    this.#state = { condition, waiting: await this.#waiting(), sentence, lastSuccessAt };
    if (before.condition !== condition) this.#options.changed?.(this.#state);
  }

  #waiting(): Promise<number> {
    return this.#options.store.outbox.waiting().catch(() => this.#state.waiting);
  }
}
