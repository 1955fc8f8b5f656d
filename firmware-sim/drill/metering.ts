import type { RandomStream, Streams } from './random.ts';
import { type Hopper, type Meter, settingCurve } from './scenario.ts';
import type { Seed, SeedLot } from './seeds.ts';

/** Takes a seed that left the meter at `seconds`. */
export type SeedSink = (seconds: number, seed: Seed) => void;

/**
 * The meter over one bag. As the wheel turns it meters out grams, in pulses, one a flute; a seed drops whenever the metered
 * grams pass its mark. The distance between marks is (1 - b) x the seed's own mass + b x the mean mass x an exponential, with
 * b² = `packing`: mean and mix are those of the lot for any b, and the variance of a long catch is b² times that of
 * independently arriving seeds (renewal reward process, any textbook; from memory). b = 1 is independent arrival.
 */
export class MeterOutlet {
  private readonly lot: SeedLot;
  private readonly random: RandomStream;
  private readonly sink: SeedSink;
  private readonly randomness: number;
  private readonly ripplePerTurn: number;
  private readonly rippleTurns: number;
  private readonly phase: number;
  private meteredGrams = 0;
  private nextSeed: Seed;
  private nextMark: number;
  private furthestTurns: number;

  constructor(
    meter: Meter,
    lot: SeedLot,
    streams: Streams,
    cell: number,
    startTurns: number,
    sink: SeedSink,
  ) {
    this.lot = lot;
    this.sink = sink;
    this.random = streams(`seeds ${cell}`);
    this.randomness = Math.sqrt(meter.packing);
    this.ripplePerTurn = 2 * Math.PI * meter.flutesPerTurn;
    this.rippleTurns = meter.flutesPerTurn > 0 ? meter.pulsationDepth / this.ripplePerTurn : 0;
    this.phase = 2 * Math.PI * streams(`flute ${cell}`).uniform();
    this.furthestTurns = startTurns;
    this.nextSeed = lot.draw(this.random);
    // The first mark lies anywhere in its gap: the meter was at work before the run.
    this.nextMark = this.gapTo(this.nextSeed) * (meter.packing < 1 ? this.random.uniform() : 1);
  }

  /**
   * Meters while the wheel goes on to `turns` between two moments, at `gramsPerTurn`. Short steps: within one, time and grams
   * are taken as proportional. Turning back meters nothing, nor does making up for it.
   */
  turnTo(turns: number, fromSeconds: number, toSeconds: number, gramsPerTurn: number): void {
    if (turns <= this.furthestTurns) return;
    const stepGrams = gramsPerTurn * (this.flow(turns) - this.flow(this.furthestTurns));
    const from = this.meteredGrams;
    this.furthestTurns = turns;
    this.meteredGrams = from + stepGrams;
    while (this.nextMark <= this.meteredGrams) {
      const seconds = fromSeconds + ((this.nextMark - from) / stepGrams) * (toSeconds - fromSeconds);
      this.sink(seconds, this.nextSeed);
      this.nextSeed = this.lot.draw(this.random);
      this.nextMark += this.gapTo(this.nextSeed);
    }
  }

  /** The integral of 1 + depth x sin(flute angle) over the turns. */
  private flow(turns: number): number {
    return turns - this.rippleTurns * Math.cos(this.ripplePerTurn * turns + this.phase);
  }

  private gapTo(seed: Seed): number {
    const b = this.randomness;
    return (1 - b) * seed.grams + b * this.lot.meanGrams * this.random.exponential();
  }
}

/** Where the lever comes to stand, and how much a run differs from the next. */
export interface MeterChance {
  lever: RandomStream;
  repeatability: RandomStream;
}

export const meterChance = (streams: Streams): MeterChance => ({
  lever: streams('lever'),
  repeatability: streams('repeatability'),
});

/** Grams per turn and row for one run: the lever set once with its play, the run's own factor, at a speed. */
export class MeterRun {
  /** What this run delivers relative to the long run at this setting. */
  readonly factor: number;
  private readonly meter: Meter;
  private readonly gramsPerTurn: number;

  constructor(meter: Meter, chance: MeterChance) {
    this.meter = meter;
    const lever = meter.setting + meter.leverPlayMarks * chance.lever.normal();
    const ownFactor = Math.max(0, 1 + meter.repeatability * chance.repeatability.normal());
    this.gramsPerTurn = settingCurve(meter, lever) * ownFactor;
    this.factor = this.gramsPerTurn / settingCurve(meter, meter.setting);
  }

  gramsPerTurnAt(turnsPerMinute: number): number {
    return this.gramsPerTurn * speedFactor(this.meter, turnsPerMinute);
  }
}

/** Grams per turn at a speed relative to those at the reference speed. */
export function speedFactor(meter: Meter, turnsPerMinute: number): number {
  return Math.max(0, 1 + meter.speedEffect * (turnsPerMinute - meter.referenceTurnsPerMinute));
}

/** What the hopper still lets out, relative to as it was filled, after `givenGrams` have left it: less head, then none. */
export function hopperFactor(hopper: Hopper, givenGrams: number): number {
  const left = Math.max(0, hopper.grams - givenGrams);
  const head = 1 - hopper.headEffect * (1 - left / hopper.grams);
  return head * Math.min(1, left / hopper.starvesBelowGrams);
}
