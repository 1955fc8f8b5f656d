/**
 * Hands for a stand without any: somebody who turns the wheel, hangs masses on a cell and presses the stop button. A world around another
 * world, which goes on underneath.
 */
import type { BoardOutputs, WheelEdge, World } from './world.ts';

export interface PersonOptions {
  /** Pulses of one turn of the wheel, and counts of a gram on a cell. */
  pulsesPerTurn: number;
  countsPerGram: number;
  /** Turns a minute, and how unevenly an arm turns: the share by which its speed swells once a turn. */
  turnsPerMinute?: number;
  unevenness?: number;
  /** Magnets (from 0) that give no pulse. */
  missingMagnets?: readonly number[];
  /** Seconds for which the line chatters after each edge of A. */
  bounceSeconds?: number;
}

const ends = { least: -8_388_608, most: 8_388_607 };

/** A full pulse in quarters: what the lines A and B are in each, forwards. */
const quarters = [
  { a: 0, b: 0 },
  { a: 1, b: 0 },
  { a: 1, b: 1 },
  { a: 0, b: 1 },
] as const;

export class PersonWorld implements World {
  readonly cells: number;
  readonly #inner: World;
  readonly #options: Required<PersonOptions>;
  readonly #hung: number[];
  #pressed = false;
  #seconds = 0;
  #newest: WheelEdge = { seconds: 0, a: 0, b: 0 };
  /** Edges of the hand to come, in order of time. */
  #planned: WheelEdge[] = [];
  #turnsDone = 0;

  constructor(inner: World, options: PersonOptions) {
    this.#inner = inner;
    this.cells = inner.cells;
    this.#hung = Array(inner.cells).fill(0);
    this.#options = {
      turnsPerMinute: 30,
      unevenness: 0.2,
      missingMagnets: [],
      bounceSeconds: 0,
      ...options,
    };
  }

  /** Turns the wheel by so many whole turns, back where below 0. Returns the seconds that it takes. Only while the wheel stands; a hand that turns already is let finish. */
  turn(turns: number): number {
    const last = this.#planned.at(-1);
    if (last !== undefined) return last.seconds - this.#seconds;
    const { pulsesPerTurn, turnsPerMinute, unevenness } = this.#options;
    const steps = Math.abs(turns) * pulsesPerTurn * 4;
    const way = Math.sign(turns);
    let quarter = quarters.findIndex(({ a, b }) => a === this.#newest.a && b === this.#newest.b);
    let seconds = this.#seconds + 0.2;
    for (let step = 0; step < steps; step++) {
      const turned = (step + 0.5) / (4 * pulsesPerTurn);
      const speed = (turnsPerMinute / 60) * (1 + unevenness * Math.sin(2 * Math.PI * turned));
      seconds += 1 / (4 * pulsesPerTurn) / speed;
      quarter = (quarter + way + 4) % 4;
      this.#plan(seconds, quarters[quarter]!, this.#turnsDone + way * turned);
    }
    this.#turnsDone += turns;
    return seconds - this.#seconds;
  }

  /** Hangs so many grams on a cell, in place of what hung there. */
  hang(cell: number, grams: number): void {
    this.#hung[cell] = grams;
  }

  press(): void {
    this.#pressed = true;
  }

  release(): void {
    this.#pressed = false;
  }

  advance(seconds: number, outputs: BoardOutputs): WheelEdge[] {
    const own = this.#inner.advance(seconds, outputs);
    this.#seconds = seconds;
    let count = 0;
    while (count < this.#planned.length && this.#planned[count]!.seconds <= seconds) count++;
    const edges = [...own, ...this.#planned.splice(0, count)].sort(
      (one, other) => one.seconds - other.seconds,
    );
    this.#newest = edges.at(-1) ?? this.#newest;
    return edges;
  }

  conversionPeriod(cell: number): number {
    return this.#inner.conversionPeriod(cell);
  }

  convert(cell: number, seconds: number): number {
    const counts =
      this.#inner.convert(cell, seconds) + Math.round((this.#hung[cell] ?? 0) * this.#options.countsPerGram);
    return Math.min(ends.most, Math.max(ends.least, counts));
  }

  stopOpen(): boolean {
    return this.#pressed || this.#inner.stopOpen();
  }

  /** An edge of the hand, with chatter, unless its magnet is missing. */
  #plan(seconds: number, { a, b }: { a: 0 | 1; b: 0 | 1 }, turned: number): void {
    const { pulsesPerTurn, missingMagnets, bounceSeconds } = this.#options;
    const before = this.#planned.at(-1) ?? this.#newest;
    const magnet = ((Math.floor(turned * pulsesPerTurn) % pulsesPerTurn) + pulsesPerTurn) % pulsesPerTurn;
    const seen: 0 | 1 = missingMagnets.includes(magnet) ? 0 : a;
    if (bounceSeconds > 0 && seen !== before.a) {
      const other = before.a;
      this.#planned.push({ seconds, a: seen, b }, { seconds: seconds + bounceSeconds / 3, a: other, b });
      this.#planned.push({ seconds: seconds + bounceSeconds, a: seen, b });
    } else this.#planned.push({ seconds, a: seen, b });
  }
}
