import { type Reading, readingFlags } from './readings.ts';

/** The board marks a second without a word from the host; this much longer, and it is no hiccup. */
const deafAfterMillis = 1500;

/** Whether the board hears us, which only the board can say: the wire may work in one direction alone. */
export class Hearing {
  #unheardSince: number | null = null;
  /** True when readings have said for a while that no word arrives. */
  deaf = false;

  take(reading: Reading, nowMillis: number): void {
    if ((reading.flags & readingFlags.hostSilent) === 0) {
      this.forget();
      return;
    }
    this.#unheardSince ??= nowMillis;
    this.deaf = nowMillis - this.#unheardSince >= deafAfterMillis;
  }

  forget(): void {
    this.#unheardSince = null;
    this.deaf = false;
  }
}
