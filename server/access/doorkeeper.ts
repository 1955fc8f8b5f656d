import { type CodeHash, hashCode, isCode, newCode, shownCode, typedCode } from './code.ts';
import { codeMillis, liveOffer, noPairing, offered, type Pairing, tried, used } from './pairing.ts';
import { type Refusal, refusals } from './person.ts';
import type { Role } from './roles.ts';

/** Codes whose hash may be computed or waited for at once: each takes 16 MiB and a twentieth of a second. */
const mostWaiting = 4;

export interface ShownCode {
  /** As it is to be read out. */
  code: string;
  role: Role;
  /** Milliseconds that it can still be used. */
  millisLeft: number;
}

/** Offers codes and hears tries. Of a code it keeps only the hash. `now` never goes back. */
export class Doorkeeper {
  readonly #now: () => number;
  #pairing: Pairing = noPairing;
  #hash: CodeHash | null = null;
  #queue: Promise<unknown> = Promise.resolve();
  #waiting = 0;

  constructor(now: () => number) {
    this.#now = now;
  }

  /** Whether a code can be typed in now. */
  get waits(): boolean {
    return liveOffer(this.#pairing, this.#now()) !== null;
  }

  /** A new code; the one before is void. Only whoever gets this answer can show it. */
  async offer(role: Role): Promise<ShownCode> {
    const code = newCode();
    const hash = await hashCode(code);
    this.#pairing = offered(this.#pairing, role, this.#now());
    this.#hash = hash;
    return { code: shownCode(code), role, millisLeft: codeMillis };
  }

  /** The role that this code gives, or why it gives none. `address` is where it comes from. */
  async hear(text: string, address: string): Promise<Role | Refusal> {
    const code = typedCode(text);
    const now = this.#now();
    if (this.#waiting >= mostWaiting) return refusals.busy;
    const attempt = tried(this.#pairing, address, now);
    if (attempt === 'wait') return refusals.wait;
    if (attempt === 'no-code') return refusals.noCode;
    this.#pairing = attempt.pairing;
    const hash = this.#hash;
    if (code === null || hash === null || !(await this.#inTurn(() => isCode(code, hash)))) {
      return refusals.wrongCode;
    }
    const after = used(this.#pairing, attempt.offer, address, this.#now());
    if (after === null) return refusals.noCode;
    this.#pairing = after;
    return attempt.offer.role;
  }

  async #inTurn(task: () => Promise<boolean>): Promise<boolean> {
    this.#waiting += 1;
    const turn = this.#queue.then(task);
    this.#queue = turn.catch(() => {});
    try {
      return await turn;
    } finally {
      this.#waiting -= 1;
    }
  }
}
