import type { RandomStream } from './random.ts';
import type { Fall } from './scenario.ts';
import type { Seed } from './seeds.ts';

const SHORTEST_FALL_SECONDS = 0.05;

/** The tube: holds seeds in the air in the order in which they will land. */
export class Tube {
  private readonly fall: Fall;
  private readonly random: RandomStream;
  private landings: number[] = [];
  private seeds: Seed[] = [];
  private head = 0;

  constructor(fall: Fall, random: RandomStream) {
    this.fall = fall;
    this.random = random;
  }

  /** A seed leaves the meter. A few dozen are in the air at once, nearly in order, so it is sorted in from the end. */
  drop(seconds: number, seed: Seed): void {
    const fallSeconds = this.fall.seconds + this.fall.spreadSeconds * this.random.normal();
    const landing = seconds + Math.max(SHORTEST_FALL_SECONDS, fallSeconds);
    let at = this.landings.length;
    while (at > this.head && this.landings[at - 1]! > landing) at--;
    if (at === this.landings.length) {
      this.landings.push(landing);
      this.seeds.push(seed);
    } else {
      this.landings.splice(at, 0, landing);
      this.seeds.splice(at, 0, seed);
    }
  }

  /** When the next seed lands; Infinity with none in the air. */
  nextLanding(): number {
    return this.landings[this.head] ?? Number.POSITIVE_INFINITY;
  }

  /** Seeds that will have landed by `seconds`, left where they are. */
  dueBy(seconds: number): Seed[] {
    let end = this.head;
    while (end < this.landings.length && this.landings[end]! <= seconds) end++;
    return this.seeds.slice(this.head, end);
  }

  /** Takes out the seed that lands next. */
  take(): Seed {
    const seed = this.seeds[this.head]!;
    this.head++;
    if (this.head === this.seeds.length || this.head > 256) {
      this.landings = this.landings.slice(this.head);
      this.seeds = this.seeds.slice(this.head);
      this.head = 0;
    }
    return seed;
  }
}
