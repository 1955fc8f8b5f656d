import { calibrationKey } from '../calibration/identity.ts';
import type { Clock } from '../clock.ts';
import {
  type AskedItem,
  askedAgain,
  askedOnce,
  type BeforeRunView,
  type ConfirmBody,
} from '../http/before-run-messages.ts';
import type { Plan } from '../http/messages.ts';
import type { Store } from '../records/types.ts';
import type { MayBegin, SessionFace, SessionProblem } from '../run/session-types.ts';
import { goodForDays, newestChecks } from '../scale/kept.ts';
import { goodCounts, heaviestOf, isStill, type ScaleWatch } from '../scale/watch.ts';
import { type Confirmed, noteOf, type StandNow, seenOf } from './items.ts';

/** Hours that a confirmed list holds: a working day. Overnight anything may have been moved. Common practice, no source. */
const holdsHours = 12;

const keptKey = 'before-run';
const stopKey = 'stop-tried';
const dayMillis = 86_400_000;

const notKept = {
  list: 'That the list was confirmed will be forgotten when Catchbench ends.',
  stop: 'That the stop button was tried is not on record.',
  run: 'What was confirmed before the run is not on record.',
};

/** A run is on disk moments after it began; asked for so often, so many milliseconds apart. */
const noteTries = 20;
const noteWait = 250;

interface Kept extends Confirmed {
  /** Calibration and stand that it was confirmed for. */
  key: string;
}

const listFirst: SessionProblem = {
  code: 'list-first',
  message: 'Nothing was armed. Look over the list before a run and confirm it first.',
};

interface StopTried {
  stand: string;
  at: string;
}

export interface BeforeRunSurroundings {
  session: SessionFace;
  store: Store;
  watch: ScaleWatch;
  clock: Clock;
}

/** The short check before a run: looks at the stand, keeps what people confirmed, and notes both with the run. */
export class BeforeRunDesk {
  readonly #around: BeforeRunSurroundings;
  #kept: Kept | null = null;
  #stopTried: StopTried | null = null;
  /** Whether whoever armed last passed the list over. */
  #passedOver = false;
  /** What could not be put on record, by what it is about. */
  readonly #troubles = new Map<keyof typeof notKept, string>();
  readonly #ends: (() => void)[];

  constructor(around: BeforeRunSurroundings) {
    this.#around = around;
    this.#ends = [
      around.watch.look(() => this.#look()),
      around.session.listen({ changed: () => {}, planned: () => {}, began: () => void this.#began() }),
    ];
  }

  async open(): Promise<void> {
    const { store } = this.#around;
    this.#kept ??= (await store.setting(keptKey)) as Kept | null;
    this.#stopTried ??= (await store.setting(stopKey)) as StopTried | null;
  }

  close(): void {
    for (const end of this.#ends) end();
  }

  async view(): Promise<BeforeRunView> {
    const confirmed = this.#confirmed();
    return {
      seen: seenOf(await this.#standNow(), new Date()),
      asked: confirmed === null ? [...askedOnce] : [...askedAgain],
      toConfirm: confirmed === null,
      confirmedAt: confirmed?.at ?? null,
      trouble: this.#troubles.size === 0 ? null : [...this.#troubles.values()].join(' '),
    };
  }

  /**
   * Keeps that all of it was confirmed. Returns what is still missing of the list; then nothing is kept. Where it cannot be put on disk it holds until
   * the service ends: people at the drill do not wait for a disk.
   */
  async confirm({ items }: ConfirmBody): Promise<AskedItem[]> {
    const missing = askedOnce.filter((item) => !items.includes(item));
    if (missing.length > 0) return missing;
    this.#kept = { key: this.#key(), at: new Date().toISOString(), items };
    await this.#keep('list', keptKey, this.#kept);
    return [];
  }

  /** Lets a run begin whose list is confirmed; another one only for a caller who passes the list over, which is noted with the run. */
  gate(passesOver: boolean): MayBegin {
    return (plan) => {
      const confirmed = this.#confirmed(plan) !== null;
      if (!confirmed && !passesOver) return listFirst;
      this.#passedOver = !confirmed;
      return null;
    };
  }

  /** What was confirmed for this plan, or the one in hand, on this stand, while it holds. */
  #confirmed(plan?: Plan): Kept | null {
    const kept = this.#kept;
    if (kept === null || kept.key !== this.#key(plan)) return null;
    return Date.now() - Date.parse(kept.at) < holdsHours * 3_600_000 ? kept : null;
  }

  #key(plan: Plan = this.#around.session.view().plan): string {
    return `${this.#around.session.standFacts()?.name ?? ''} ${calibrationKey(plan)}`;
  }

  async #standNow(): Promise<StandNow> {
    const { session, store, watch } = this.#around;
    const stand = session.standFacts();
    const { ageMillis } = session.view().link;
    const cells = watch.cells;
    const heaviest = heaviestOf(session.view().plan);
    const goodEnough = (cell: number) => goodCounts(heaviest, stand?.cells[cell]?.gramsPerCount ?? 1);
    const checks = stand === null ? new Map() : await newestChecks(store, stand.name);
    const ages = (stand?.cells ?? []).map((_, cell) => {
      const check = checks.get(cell);
      return check === undefined ? null : Math.max(0, (Date.now() - Date.parse(check.fields.at)) / dayMillis);
    });
    const scaleDays = ages.length === 0 || ages.includes(null) ? null : Math.max(...(ages as number[]));
    const tried = this.#stopTried;
    return {
      connected: stand !== null,
      ageMillis,
      still: cells.length === 0 ? null : cells.every((record, cell) => isStill(record, goodEnough(cell))),
      scaleDays,
      scaleInDate: scaleDays !== null && scaleDays <= goodForDays,
      scalePassed: [...checks.values()].every(({ fields }) => fields.passed),
      turns: stand === null ? 0 : watch.seen.pulses / stand.pulsesPerTurn,
      stopOpen: watch.seen.stopOpen,
      stopTriedAt: tried !== null && tried.stand === stand?.name ? tried.at : null,
    };
  }

  /** The stop button counts as tried once it has been seen pressed. */
  #look(): void {
    const { session, watch } = this.#around;
    const at = watch.seen.stopOpenAt;
    if (at === null || at === this.#stopTried?.at) return;
    const stand = session.standFacts()?.name;
    if (stand === undefined) return;
    this.#stopTried = { stand, at };
    void this.#keep('stop', stopKey, this.#stopTried);
  }

  /** Puts it on disk; where that fails, `trouble` of the view says so. Never throws. */
  async #keep(about: keyof typeof notKept, key: string, value: unknown): Promise<void> {
    try {
      await this.#around.store.keepSetting(key, value);
      this.#troubles.delete(about);
    } catch (error) {
      this.#troubles.set(about, `${notKept[about]} ${(error as Error).message}`);
    }
  }

  /** A run has begun: what was confirmed and seen stays with it. */
  async #began(): Promise<void> {
    const { session, store } = this.#around;
    const { id } = session.view().run;
    if (id === null) return;
    const list = this.#confirmed(session.view().run.plan) ?? (this.#passedOver ? 'passed-over' : null);
    this.#passedOver = false;
    try {
      const text = noteOf(await this.view(), list);
      for (let tries = 0; tries < noteTries && (await store.runs.find(id)) === null; tries++)
        await this.#wait();
      await store.notes.create({ aboutId: id, text });
      this.#troubles.delete('run');
    } catch (error) {
      this.#troubles.set('run', `${notKept.run} ${(error as Error).message}`);
    }
  }

  #wait(): Promise<void> {
    return new Promise((resolve) => {
      this.#around.clock.after(noteWait, resolve);
    });
  }
}
