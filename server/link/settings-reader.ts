import type { CommandDesk } from './commands.ts';
import type { Identity, Setting } from './readings.ts';
import { isSettingKey, type SettingKey, type StandFacts, standFacts } from './settings.ts';

const mostTries = 3;

/** Reads the board's settings by `get` and keeps them while they are known to hold. */
export class SettingsReader {
  readonly #desk: CommandDesk;
  /** The settings last read whole, or null. */
  settings: ReadonlyMap<SettingKey, string> | null = null;
  #incoming = new Map<SettingKey, string>();
  /** Grows whenever what was read, or is being read, no longer holds. */
  #edition = 0;
  #reading = false;

  constructor(desk: CommandDesk) {
    this.#desk = desk;
  }

  /** A setting's line came. */
  take(line: Setting): void {
    if (isSettingKey(line.key)) this.#incoming.set(line.key, line.value);
  }

  /** The board is gone, another, or has new settings: what was read holds no longer. */
  forget(): void {
    this.settings = null;
    this.#edition++;
    this.#reading = false;
  }

  /** True where they are neither known nor on their way. */
  get wanting(): boolean {
    return this.settings === null && !this.#reading;
  }

  /** Asks until every line came that the facts need, three times at most. True when `settings` is there. */
  async read(identity: Identity): Promise<boolean> {
    this.forget();
    const edition = this.#edition;
    this.#reading = true;
    for (let tries = 0; tries < mostTries && this.settings === null; tries++) {
      this.#incoming = new Map();
      const incoming = this.#incoming;
      const result = await this.#desk.send({ command: 'get' });
      if (edition !== this.#edition) return false;
      if (result.ok && standFacts(identity, incoming) !== null) this.settings = incoming;
    }
    this.#reading = false;
    return this.settings !== null;
  }

  /** What a run must know of the stand, or null while the settings are not read. */
  facts(identity: Identity): StandFacts | null {
    return this.settings === null ? null : standFacts(identity, this.settings);
  }
}
