import type { Refusal, Result } from './person.ts';
import { askedBy, freeWheel, heldBy, kept, leftBy, type Wheel, waitToTake } from './wheel.ts';

const held: Refusal = {
  status: 409,
  code: 'wheel-held',
  message: 'Someone else holds the wheel. Ask for it, or look on; Stop works for everyone.',
};
const notHolder: Refusal = {
  status: 409,
  code: 'not-holder',
  message: 'The wheel is not in the hands of this device.',
};
const tooEarly: Refusal = {
  status: 409,
  code: 'wheel-held',
  message:
    'Someone else holds the wheel and is here. Ask first; who does not answer for half a minute loses it.',
};

const done: Result<null> = { ok: true, value: null };

export interface WheelView {
  holder: string | null;
  asking: string[];
  /** Milliseconds until the one who looks may take it; null where asking comes first. */
  takeIn: number | null;
}

/** The wheel and who has a page open, on the clock. */
export class WheelStand {
  readonly #now: () => number;
  readonly #changed: () => void;
  readonly #pages = new Map<string, number>();
  /** When the last page of each was closed. */
  readonly #left = new Map<string, number>();
  #wheel: Wheel = freeWheel;

  constructor(now: () => number, changed: () => void) {
    this.#now = now;
    this.#changed = changed;
  }

  pagesOf(person: string): number {
    return this.#pages.get(person) ?? 0;
  }

  /** A page of this person opened; call the answer once when it has closed. */
  opened(person: string): () => void {
    this.#pages.set(person, this.pagesOf(person) + 1);
    this.#left.delete(person);
    this.#changed();
    return () => {
      const more = this.pagesOf(person) - 1;
      if (more > 0) {
        this.#pages.set(person, more);
        return;
      }
      this.#pages.delete(person);
      if (this.#wheel.holder === person) this.#left.set(person, this.#now());
      this.#changed();
    };
  }

  view(person: string): WheelView {
    const { holder, asking } = this.#wheel;
    return { holder, asking: asking.map((one) => one.person), takeIn: this.#wait(person) };
  }

  /** To be asked before something that the one who holds the wheel relies on is changed. */
  mayUse(person: string): Result<null> {
    const { holder } = this.#wheel;
    return holder === null || holder === person ? done : { ok: false, refusal: held };
  }

  /** To be asked before the wheel is used: a free one is taken hold of. */
  use(person: string): Result<null> {
    const may = this.mayUse(person);
    if (may.ok && this.#wheel.holder === null) this.#become(heldBy(this.#wheel, person, this.#now()));
    return may;
  }

  ask(person: string): Result<null> {
    if (this.#wheel.holder === null) return this.use(person);
    this.#become(askedBy(this.#wheel, person, this.#now()));
    return done;
  }

  take(person: string): Result<null> {
    if (this.#wait(person) !== 0) return { ok: false, refusal: tooEarly };
    this.#become(heldBy(this.#wheel, person, this.#now()));
    return done;
  }

  give(person: string, to: string): Result<null> {
    if (this.#wheel.holder !== person) return { ok: false, refusal: notHolder };
    this.#become(heldBy(this.#wheel, to, this.#now()));
    return done;
  }

  keep(person: string): Result<null> {
    if (this.#wheel.holder !== person) return { ok: false, refusal: notHolder };
    this.#become(kept(this.#wheel));
    return done;
  }

  /** Puts it down, or stops asking. */
  leave(person: string): Result<null> {
    this.#become(leftBy(this.#wheel, person));
    return done;
  }

  /** This person is known no more. */
  forget(person: string): void {
    this.#pages.delete(person);
    this.#left.delete(person);
    this.#become(leftBy(this.#wheel, person));
  }

  #wait(person: string): number | null {
    const { holder } = this.#wheel;
    // Who took it without a page, by a program, is away from the moment of taking.
    const since = holder === null || this.pagesOf(holder) > 0 ? null : (this.#left.get(holder) ?? null);
    return waitToTake(this.#wheel, person, since, this.#now());
  }

  #become(wheel: Wheel): void {
    if (wheel === this.#wheel) return;
    const { holder } = wheel;
    if (holder !== this.#wheel.holder) {
      this.#left.clear();
      if (holder !== null && this.pagesOf(holder) === 0) this.#left.set(holder, this.#now());
    }
    this.#wheel = wheel;
    this.#changed();
  }
}
