import { calibrationKey } from '../calibration/identity.ts';
import type { Clock } from '../clock.ts';
import {
  type AskedItem,
  askedAgain,
  askedOnce,
  type BeforeRunView,
  type ConfirmBody,
} from '../http/before-run-messages.ts';
import type { Store } from '../records/types.ts';
import type { SessionFace } from '../run/session-types.ts';
import { goodForDays, newestChecks } from '../scale/kept.ts';
import { goodCounts, heaviestOf, isStill, type ScaleWatch } from '../scale/watch.ts';
import { type Confirmed, noteOf, type StandNow, seenOf } from './items.ts';

/** Hours that a confirmed list holds: a working day. Overnight anything may have been moved. Common practice, no source. */
const holdsHours = 12;

const keptKey = 'before-run';
const stopKey = 'stop-tried';
const dayMillis = 86_400_000;

/** A run is on disk moments after it began; asked for so often, so many milliseconds apart. */
const noteTries = 20;
const noteWait = 250;

interface Kept extends Confirmed {
  /** Calibration and stand that it was confirmed for. */
  key: string;
}

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
  #trouble: string | null = null;
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

  /** Why something could not be put on record, or null. */
  get trouble(): string | null {
    return this.#trouble;
  }

  async view(): Promise<BeforeRunView> {
    const confirmed = this.#confirmed();
    return {
      seen: seenOf(await this.#standNow(), new Date()),
      asked: confirmed === null ? [...askedOnce] : [...askedAgain],
      toConfirm: confirmed === null,
      confirmedAt: confirmed?.at ?? null,
    };
  }

  /** Keeps that all of it was confirmed. Returns what is still missing of the list; then nothing is kept. */
  async confirm({ items }: ConfirmBody): Promise<AskedItem[]> {
    const missing = askedOnce.filter((item) => !items.includes(item));
    if (missing.length > 0) return missing;
    this.#kept = { key: this.#key(), at: new Date().toISOString(), items };
    await this.#around.store.keepSetting(keptKey, this.#kept);
    return [];
  }

  /** What was confirmed for the plan in hand on this stand, while it holds. */
  #confirmed(): Kept | null {
    const kept = this.#kept;
    if (kept === null || kept.key !== this.#key()) return null;
    return Date.now() - Date.parse(kept.at) < holdsHours * 3_600_000 ? kept : null;
  }

  #key(): string {
    const { session } = this.#around;
    return `${session.standFacts()?.name ?? ''} ${calibrationKey(session.view().plan)}`;
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
    const { session, watch, store } = this.#around;
    const at = watch.seen.stopOpenAt;
    if (at === null || at === this.#stopTried?.at) return;
    const stand = session.standFacts()?.name;
    if (stand === undefined) return;
    this.#stopTried = { stand, at };
    store.keepSetting(stopKey, this.#stopTried).catch((error: Error) => {
      this.#trouble = error.message;
    });
  }

  /** A run has begun: what was confirmed and seen stays with it. */
  async #began(): Promise<void> {
    const { session, store } = this.#around;
    const { id } = session.view().run;
    if (id === null) return;
    try {
      const text = noteOf(await this.view(), this.#confirmed());
      for (let tries = 0; tries < noteTries && (await store.runs.find(id)) === null; tries++)
        await this.#wait();
      await store.notes.create({ aboutId: id, text });
      this.#trouble = null;
    } catch (error) {
      this.#trouble = `What was confirmed before the run is not on record. ${(error as Error).message}`;
    }
  }

  #wait(): Promise<void> {
    return new Promise((resolve) => {
      this.#around.clock.after(noteWait, resolve);
    });
  }
}
