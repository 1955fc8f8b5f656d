import type { SendResult } from '../link/commands.ts';
import type { BoardCommand } from '../link/encode.ts';
import type { Link } from '../link/link.ts';
import type { BoardLine, Identity } from '../link/readings.ts';
import type { SettingKey } from '../link/settings.ts';
import type { RunsInHand } from './session-hand.ts';
import { refuse, runUnderWay } from './session-refusals.ts';
import type { Outcome } from './session-types.ts';

/** The stand for something other than a run: nothing can be armed by anyone else until it is let go. */
export interface StandHold {
  send(command: BoardCommand): Promise<SendResult>;
  /** Stop, ahead of everything. */
  stopNow(): Promise<SendResult>;
  /** What the board says of itself, and its settings; null while it is away or they are not read. */
  known(): { identity: Identity; settings: ReadonlyMap<SettingKey, string> } | null;
  /** Calls `line` with every line of the board, `lost` when it goes away, until the returned function is called. */
  listen(listener: HoldListener): () => void;
  release(): void;
}

export interface HoldListener {
  line(line: BoardLine): void;
  lost(): void;
}

const inUse = refuse('run-under-way', 'The stand is being checked. Finish that or give it up first.');

/** Whether the stand is held, by one at a time; and its settings, which may be written only where nothing is under way. */
export class Holding {
  readonly #link: Link;
  readonly #hand: RunsInHand;
  readonly #listeners = new Set<HoldListener>();
  #identity: Identity | null = null;
  #held = false;

  constructor(link: Link, hand: RunsInHand) {
    this.#link = link;
    this.#hand = hand;
  }

  /** Why nothing may be armed for the sake of whoever holds the stand, or null. */
  heldBy(): Outcome<never> | null {
    return this.#held ? inUse : null;
  }

  /** Takes hold of the stand. */
  take(): Outcome<StandHold> {
    if (this.#hand.underWay) return runUnderWay;
    if (this.#held) return inUse;
    this.#held = true;
    return { ok: true, value: this.#hold() };
  }

  /** A line of the board. */
  heard(line: BoardLine): void {
    if (line.kind === 'identity') this.#identity = line;
    for (const listener of this.#listeners) listener.line(line);
  }

  /** The board, or another, began anew. Renamed in the same boot it is still the one. */
  rebooted(identity: Identity): void {
    if (identity.boot !== this.#identity?.boot) this.lost();
  }

  /** The board went away. */
  lost(): void {
    for (const listener of this.#listeners) listener.lost();
  }

  /** Puts settings into the board's memory, all or none; in use once it resolves. */
  async writeSettings(changes: Readonly<Partial<Record<SettingKey, string>>>): Promise<Outcome<null>> {
    const hold = this.take();
    if (!hold.ok) return hold;
    try {
      for (const [key, value] of Object.entries(changes) as [SettingKey, string][]) {
        const set = await this.#link.send({ command: 'set', key, value });
        if (!set.ok) return refuse('refused', `The stand did not take its new settings. ${set.sentence}`);
      }
      const saved = await this.#link.send({ command: 'save' });
      return saved.ok
        ? { ok: true, value: null }
        : refuse('not-confirmed', `The settings may not be saved: look at them again. ${saved.sentence}`);
    } finally {
      hold.value.release();
    }
  }

  #hold(): StandHold {
    const own = new Set<HoldListener>();
    let released = false;
    return {
      send: (command) => this.#link.send(command),
      stopNow: () => this.#link.stopNow(),
      known: () => this.#known(),
      listen: (listener) => {
        own.add(listener);
        this.#listeners.add(listener);
        return () => this.#listeners.delete(listener);
      },
      release: () => {
        for (const listener of own) this.#listeners.delete(listener);
        // Let go of twice, it would take the stand from whoever holds it by then.
        if (!released) this.#held = false;
        released = true;
      },
    };
  }

  #known(): ReturnType<StandHold['known']> {
    const settings = this.#link.settings();
    if (this.#link.view().board === null || this.#identity === null || settings === null) return null;
    return { identity: this.#identity, settings };
  }
}
