import { BagOnCell } from './bag.ts';
import { CellConverter, countsHighest } from './converter.ts';
import { Tube } from './fall.ts';
import { Leak } from './leak.ts';
import { MeterOutlet } from './metering.ts';
import type { RandomStream, Streams } from './random.ts';
import type { Scenario } from './scenario.ts';
import { SeedLot } from './seeds.ts';
import { Shaking } from './vibration.ts';

interface Catch {
  seeds: number;
  grams: number;
}

/** One bag with what is above and below it: meter outlet, tube, bag, cell, converter. */
export class Station {
  readonly bag: BagOnCell;
  readonly leak: Leak;
  readonly shaking: Shaking;
  /** What its rows deliver relative to the stated row. */
  readonly rowsFactor: number;
  readonly periodSeconds: number;
  meteredGrams = 0;
  /** Fraction of the flow that a blockage holds back. */
  blocked = 0;
  /** Seed has bridged over the meter: nothing comes into it. */
  bridged = false;
  /** The cell's wire is off: the converter sees its input run away. */
  loose = false;
  /** The converter gives its last value again and again. */
  stuck = false;
  private lastCounts: number | null = null;
  private readonly lot: SeedLot;
  private readonly outlet: MeterOutlet;
  private readonly tube: Tube;
  private readonly converter: CellConverter;
  private readonly caught: Catch[];

  constructor(scenario: Scenario, streams: Streams, cell: number, startTurns: number) {
    this.lot = new SeedLot(scenario.mix);
    this.tube = new Tube(scenario.fall, streams(`fall ${cell}`));
    this.bag = new BagOnCell(scenario.bag, scenario.fall.impactMetresPerSecond);
    this.shaking = new Shaking(scenario.vibration, streams, cell);
    this.converter = new CellConverter(scenario.converter, streams, cell);
    this.periodSeconds = this.converter.periodSeconds;
    this.caught = scenario.mix.map(() => ({ seeds: 0, grams: 0 }));
    this.rowsFactor = meanRow(scenario, streams(`rows ${cell}`));
    this.leak = new Leak(this.lot, streams(`leak ${cell}`));
    this.outlet = new MeterOutlet(scenario.meter, this.lot, streams, cell, startTurns, (seconds, seed) => {
      this.meteredGrams += seed.grams;
      this.tube.drop(seconds, seed);
    });
  }

  /** The wheel has gone on to `turns` between two moments while the meter stood at `gramsPerTurn` for the rows here. */
  turnTo(turns: number, fromSeconds: number, toSeconds: number, gramsPerTurn: number): void {
    const flowing = gramsPerTurn * this.rowsFactor * (this.bridged ? 0 : 1 - this.blocked);
    this.outlet.turnTo(turns, fromSeconds, toSeconds, flowing);
  }

  /** What the hopper has given so far, kilograms: the mix in it separates with that. */
  separate(kilogramsGiven: number): void {
    if (this.lot.separates) this.lot.separate(kilogramsGiven);
  }

  /** Lets seed run out until `seconds` where there is a leak. */
  leakUntil(seconds: number): void {
    this.leak.until(seconds, (at, seed) => {
      this.meteredGrams += seed.grams;
      this.tube.drop(at, seed);
    });
  }

  /** What lies in the bag at `seconds`, by species. Asking changes nothing. */
  caughtBy(seconds: number): Catch[] {
    const caught = this.caught.map((count) => ({ ...count }));
    for (const seed of this.tube.dueBy(seconds)) add(caught, seed.species, seed.grams);
    return caught;
  }

  /** Lets everything land that reaches the bag by `seconds`. */
  landUntil(seconds: number): void {
    for (let landing = this.tube.nextLanding(); landing <= seconds; landing = this.tube.nextLanding()) {
      const seed = this.tube.take();
      this.bag.land(landing, seed.grams);
      add(this.caught, seed.species, seed.grams);
    }
  }

  /** Shakes out the bag and hangs it up again. */
  empty(seconds: number): void {
    this.landUntil(seconds);
    this.bag.empty(seconds);
    for (const count of this.caught) {
      count.seeds = 0;
      count.grams = 0;
    }
  }

  convert(seconds: number, turns: number, speedShare: number): number {
    this.landUntil(seconds);
    const grams = this.bag.feltGrams(seconds) + this.shaking.feltGrams(seconds, turns, speedShare);
    const counts = this.converter.convert(seconds, grams);
    if (!this.stuck || this.lastCounts === null) this.lastCounts = counts;
    return this.loose ? countsHighest : this.lastCounts;
  }
}

function add(caught: Catch[], species: number, grams: number): void {
  const count = caught[species]!;
  count.seeds++;
  count.grams += grams;
}

/** Mean of the delivery of the rows over one bag, each drawn about 1. */
function meanRow(scenario: Scenario, random: RandomStream): number {
  let sum = 0;
  for (let row = 0; row < scenario.rowsPerCell; row++) {
    sum += Math.max(0, 1 + scenario.rowSpread * random.normal());
  }
  return sum / scenario.rowsPerCell;
}
