import type { SeedSink } from './metering.ts';
import type { RandomStream } from './random.ts';
import type { SeedLot } from './seeds.ts';

/** Seed that runs out of a worn gate by the clock, one by one and independently, whether the wheel turns or not. */
export class Leak {
  private readonly lot: SeedLot;
  private readonly random: RandomStream;
  private gramsPerSecond = 0;
  private next = Infinity;

  constructor(lot: SeedLot, random: RandomStream) {
    this.lot = lot;
    this.random = random;
  }

  set(gramsPerSecond: number, seconds: number): void {
    this.gramsPerSecond = gramsPerSecond;
    this.next = gramsPerSecond > 0 ? seconds + this.gap() : Infinity;
  }

  until(seconds: number, sink: SeedSink): void {
    while (this.next <= seconds) {
      sink(this.next, this.lot.draw(this.random));
      this.next += this.gap();
    }
  }

  private gap(): number {
    return (this.random.exponential() * this.lot.meanGrams) / this.gramsPerSecond;
  }
}
