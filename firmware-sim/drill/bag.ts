import type { Bag } from './scenario.ts';

const STANDARD_GRAVITY = 9.80665;

/**
 * Bag and cell: a mass on a damped spring, moved on in closed form, so that steps of any length are exact. In units of the
 * cell's reading: y'' + 2 z w y' + w² y = w² load (grams); a landing seed adds to the load and, by its momentum, to y'.
 */
export class BagOnCell {
  private readonly emptyGrams: number;
  private readonly omega: number;
  private readonly decay: number;
  private readonly omegaDamped: number;
  private readonly kickPerGram: number;
  private seconds = 0;
  /** Grams lying in the bag, bag not counted. */
  private caughtGrams = 0;
  private leaningGrams = 0;
  private touchGrams = Infinity;
  private touchShare = 0;
  /** What the cell would feel at rest, grams. */
  private load: number;
  /** Reading less load, grams, and how fast the reading changes. */
  private offset = 0;
  private velocity = 0;

  constructor(bag: Bag, impactMetresPerSecond: number) {
    this.emptyGrams = bag.emptyGrams;
    this.load = bag.emptyGrams;
    this.omega = 2 * Math.PI * bag.hertz;
    this.decay = bag.dampingRatio * this.omega;
    this.omegaDamped = this.omega * Math.sqrt(1 - bag.dampingRatio ** 2);
    this.kickPerGram = (this.omega ** 2 * impactMetresPerSecond) / STANDARD_GRAVITY;
  }

  /** A seed lands. Calls come in order of time. */
  land(seconds: number, grams: number): void {
    this.moveTo(seconds);
    this.caughtGrams += grams;
    this.velocity += this.kickPerGram * grams;
    this.reload();
  }

  /** A blow that by itself would carry the reading up to `grams` and back, but for the damping. */
  knock(seconds: number, grams: number): void {
    this.moveTo(seconds);
    this.velocity += grams * this.omega;
  }

  /** Something presses on the bag (or lifts it, below 0) from now on. */
  lean(seconds: number, grams: number): void {
    this.moveTo(seconds);
    this.leaningGrams = grams;
    this.reload();
  }

  /** What is caught beyond `grams` is borne to this share by something that the bag touches. */
  touchesAbove(grams: number, share: number): void {
    this.touchGrams = grams;
    this.touchShare = share;
    this.reload();
  }

  empty(seconds: number): void {
    this.moveTo(seconds);
    this.caughtGrams = 0;
    this.reload();
  }

  /** What the cell feels at `seconds`, grams, bag and all. */
  feltGrams(seconds: number): number {
    this.moveTo(seconds);
    return this.load + this.offset;
  }

  /** The reading stays where it is and sets out for the new load. */
  private reload(): void {
    const borne = this.touchShare * Math.max(0, this.caughtGrams - this.touchGrams);
    const load = this.emptyGrams + this.caughtGrams + this.leaningGrams - borne;
    this.offset += this.load - load;
    this.load = load;
  }

  private moveTo(seconds: number): void {
    const step = seconds - this.seconds;
    if (step <= 0) return;
    this.seconds = seconds;
    const { offset, velocity, decay } = this;
    if (offset === 0 && velocity === 0) return;
    const shrink = Math.exp(-decay * step);
    const cos = shrink * Math.cos(this.omegaDamped * step);
    const sin = (shrink * Math.sin(this.omegaDamped * step)) / this.omegaDamped;
    this.offset = offset * cos + (velocity + decay * offset) * sin;
    this.velocity = velocity * cos - (decay * velocity + this.omega ** 2 * offset) * sin;
  }
}
