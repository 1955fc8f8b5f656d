/** Who plays the person in a check of the emulated stand: does what is asked with hands, and types what there is to type. */
import type { CheckState } from '../server/stand/check.ts';
import type { MassesWork } from '../server/stand/step-masses.ts';
import type { Ask } from '../server/stand/types.ts';
import type { PersonWorld } from './person.ts';
import type { Stand } from './stand.ts';

/** What is hung on each cell, grams by mass, in order: up, down, and empty at both ends. */
const loads: readonly (readonly number[])[] = [
  [],
  [20],
  [50],
  [100],
  [200],
  [200, 100],
  [500],
  [200, 100],
  [200],
  [100],
  [50],
  [20],
  [],
];

/** As the check asks. */
const turnsEachWay = 3;

/** Seconds of the stand's time that a person needs to do anything at all. */
const unhurried = 0.5;

export class Player {
  readonly #person: PersonWorld;
  readonly #stand: Stand;
  readonly #instead: (ask: Ask, state: CheckState) => string | undefined;
  #cancel = () => {};
  /** What stands on the line and was not read yet; who waits for it. */
  #typed: string | null = null;
  #reader: ((typed: string) => void) | null = null;

  /** @param instead what is typed at once in place of what the player would do; undefined leaves it to the player. */
  constructor(
    stand: Stand,
    person: PersonWorld,
    instead: (ask: Ask, state: CheckState) => string | undefined = () => undefined,
  ) {
    this.#stand = stand;
    this.#person = person;
    this.#instead = instead;
  }

  /** Does what is asked of hands alone: turning the wheel, pressing and releasing the button. */
  useHands({ code }: Ask): void {
    const later = (task: () => void) => this.#stand.clock.after(1000 * unhurried, task);
    if (code === 'turn-forward') this.#person.turn(turnsEachWay);
    if (code === 'turn-back') this.#person.turn(-turnsEachWay);
    if (code === 'press') later(() => this.#person.press());
    if (code === 'release') later(() => this.#person.release());
  }

  /** The person is asked something: begins to do it, and leaves what was asked before. */
  asked(ask: Ask, state: CheckState): void {
    this.#cancel();
    this.#typed = null;
    const { seconds, typed } = this.#answer(ask, state);
    this.#cancel = this.#stand.clock.after(1000 * seconds, () => this.#type(typed));
  }

  /** What the person types, once what was asked for is done. */
  read(): Promise<string> {
    return new Promise((resolve) => {
      this.#reader = resolve;
      if (this.#typed !== null) this.#type(this.#typed);
    });
  }

  #type(typed: string): void {
    const reader = this.#reader;
    this.#typed = reader === null ? typed : null;
    this.#reader = null;
    reader?.(typed);
  }

  #answer(ask: Ask, state: CheckState): { seconds: number; typed: string } {
    const instead = this.#instead(ask, state);
    if (instead !== undefined) return { seconds: unhurried, typed: instead };
    this.useHands(ask);
    switch (ask.code) {
      case 'turn-forward':
        return { seconds: this.#person.turn(turnsEachWay) + unhurried, typed: '' };
      case 'turn-back':
        return { seconds: this.#person.turn(-turnsEachWay) + unhurried, typed: '' };
      case 'masses':
        return this.#hang(state.work as MassesWork);
      case 'lines-keep':
      case 'lamp-seen':
      case 'motor-clear':
        return { seconds: unhurried, typed: 'yes' };
      case 'motor-turning':
        // Nobody who watches a wheel turn types anything.
        return { seconds: 1e6, typed: '' };
      default:
        return { seconds: unhurried, typed: '' };
    }
  }

  #hang({ cell, steps }: MassesWork): { seconds: number; typed: string } {
    const load = loads[steps.length];
    if (load === undefined) return { seconds: unhurried, typed: '' };
    this.#person.hang(
      cell,
      load.reduce((sum, mass) => sum + mass, 0),
    );
    return { seconds: 2, typed: load.length === 0 ? '0' : load.join('+') };
  }
}
