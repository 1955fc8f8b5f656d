import type { BoardOutputs, WheelEdge, World } from '../world.ts';
import { BagOnCell } from './bag.ts';
import { CellConverter } from './converter.ts';
import { Tube } from './fall.ts';
import { MeterOutlet, MeterRun, speedFactor } from './metering.ts';
import { type RandomStream, randomStreams, type Streams } from './random.ts';
import { lumpGrams, type Scenario, settingCurve } from './scenario.ts';
import { faultsOfScenario } from './scenario-check.ts';
import { SeedLot } from './seeds.ts';
import { WheelMotion } from './turning.ts';
import { Shaking } from './vibration.ts';
import { PulseSensor } from './wheel.ts';

/** Seeds due this long ago may land without waiting for a conversion: none will come for a moment before. */
const LANDED_FOR_SURE_SECONDS = 1;

/** What is really so. Grams and turns are those of all bags together unless a cell is named. */
export interface DrillTruth {
  /** Long-run rate of the rows caught at this setting, without this run's own factor. */
  readonly rateGramsPerSquareMetre: number;
  /** Expected grams a turn of the rows caught, likewise. */
  readonly gramsPerTurn: number;
  /** Ground that one turn stands for, for the rows caught: true circumference and spacing, slip included. */
  readonly squareMetresPerTurn: number;
  /** What this run delivers relative to the long run. */
  readonly runFactor: number;
  /** Variance of a catch per gram caught, grams, at a given run factor. */
  readonly lumpGrams: number;
  /** Turns of the wheel since power-up, forwards less backwards. */
  turns(): number;
  turnsPerMinute(): number;
  /** Grams that have left the meter. */
  gramsMetered(cell?: number): number;
  /** Grams that lie in the bag. */
  gramsCaught(cell?: number): number;
  /** By species in the order of the mix: seeds that lie in the bags. */
  seedsCaught(): readonly { seeds: number; grams: number }[];
}

/** An imagined drill under a board. */
export interface Drill extends World {
  readonly scenario: Scenario;
  readonly truth: DrillTruth;
  /** Has the person at the wheel begin or let go (scenarios with a hand drive). */
  turnByHand(): void;
  letGo(): void;
  pressStop(): void;
  releaseStop(): void;
}

/** One bag with what is above and below it. */
class Station {
  readonly outlet: MeterOutlet;
  readonly converter: CellConverter;
  private readonly caught: { seeds: number; grams: number }[];
  meteredGrams = 0;
  /** What its rows deliver relative to the drill's mean row. */
  readonly rowsFactor: number;
  private readonly tube: Tube;
  private readonly bag: BagOnCell;
  private readonly shaking: Shaking;

  constructor(scenario: Scenario, lot: SeedLot, streams: Streams, cell: number, startTurns: number) {
    this.tube = new Tube(scenario.fall, streams(`fall ${cell}`));
    this.bag = new BagOnCell(scenario.bag, scenario.fall.impactMetresPerSecond);
    this.shaking = new Shaking(scenario.vibration, streams, cell);
    this.converter = new CellConverter(scenario.converter, streams, cell);
    this.caught = scenario.mix.map(() => ({ seeds: 0, grams: 0 }));
    this.rowsFactor = meanRow(scenario, streams(`rows ${cell}`));
    this.outlet = new MeterOutlet(scenario.meter, lot, streams, cell, startTurns, (seconds, seed) => {
      this.meteredGrams += seed.grams;
      this.tube.drop(seconds, seed);
    });
  }

  /** What lies in the bag at `seconds`, by species. Asking changes nothing. */
  caughtBy(seconds: number): { seeds: number; grams: number }[] {
    const caught = this.caught.map((count) => ({ ...count }));
    for (const seed of this.tube.dueBy(seconds)) {
      caught[seed.species]!.seeds++;
      caught[seed.species]!.grams += seed.grams;
    }
    return caught;
  }

  /** Lets everything land that reaches the bag by `seconds`. */
  landUntil(seconds: number): void {
    for (let landing = this.tube.nextLanding(); landing <= seconds; landing = this.tube.nextLanding()) {
      const seed = this.tube.take();
      this.bag.land(landing, seed.grams);
      const count = this.caught[seed.species]!;
      count.seeds++;
      count.grams += seed.grams;
    }
  }

  convert(seconds: number, turns: number, speedShare: number): number {
    this.landUntil(seconds);
    const grams = this.bag.feltGrams(seconds) + this.shaking.feltGrams(seconds, turns, speedShare);
    return this.converter.convert(seconds, grams);
  }
}

/** Mean of the delivery of the rows over one bag, each drawn about 1. */
function meanRow(scenario: Scenario, random: RandomStream): number {
  let sum = 0;
  for (let row = 0; row < scenario.rowsPerCell; row++) {
    sum += Math.max(0, 1 + scenario.rowSpread * random.normal());
  }
  return sum / scenario.rowsPerCell;
}

class ImaginedDrill implements Drill {
  readonly scenario: Scenario;
  readonly truth: DrillTruth;
  readonly cells: number;
  private readonly motion: WheelMotion;
  private readonly sensor: PulseSensor;
  private readonly meter: MeterRun;
  private readonly stations: Station[];
  private readonly startTurns: number;
  private seconds = 0;
  private meteredUntil = 0;
  private stopPressed = false;

  constructor(scenario: Scenario, seed: number | string) {
    const streams = randomStreams(seed);
    this.scenario = scenario;
    this.cells = scenario.cells;
    this.startTurns = streams('start').uniform();
    this.motion = new WheelMotion(scenario.drive, streams, this.startTurns);
    this.sensor = new PulseSensor(scenario.wheel, streams('bounce'), this.startTurns);
    this.meter = new MeterRun(scenario.meter, streams);
    const lot = new SeedLot(scenario.mix);
    this.stations = Array.from(
      { length: scenario.cells },
      (_, cell) => new Station(scenario, lot, streams, cell, this.startTurns),
    );
    this.truth = this.tellTruth();
  }

  advance(seconds: number, outputs: BoardOutputs): WheelEdge[] {
    if (this.motion.driveBy(outputs, this.seconds)) this.endStretch(this.seconds);
    while (this.motion.stretch.endSeconds <= seconds) this.endStretch(this.motion.stretch.endSeconds);
    this.sensor.follow(this.motion.stretch, this.motion.turnsAt(seconds));
    this.seconds = Math.max(this.seconds, seconds);
    return this.sensor.take(seconds);
  }

  conversionPeriod(cell: number): number {
    return this.station(cell).converter.periodSeconds;
  }

  convert(cell: number, seconds: number): number {
    const speedShare = Math.abs(this.motion.speedAt(seconds)) / this.motion.ratedSpeed;
    return this.station(cell).convert(seconds, this.motion.turnsAt(seconds), speedShare);
  }

  stopOpen(): boolean {
    return this.stopPressed;
  }

  turnByHand(): void {
    this.motion.hand?.begin(this.seconds);
  }

  letGo(): void {
    this.motion.hand?.letGo();
  }

  pressStop(): void {
    this.stopPressed = true;
  }

  releaseStop(): void {
    this.stopPressed = false;
  }

  /** Ends the present stretch of motion: the sensor has followed, the meter meters what belongs to it, the next is planned. */
  private endStretch(seconds: number): void {
    const turns = this.motion.turnsAt(seconds);
    this.sensor.follow(this.motion.stretch, turns);
    const meanSpeed = (this.motion.stretch.speed + this.motion.speedAt(seconds)) / 2;
    const gramsPerTurn = this.scenario.rowsPerCell * this.meter.gramsPerTurnAt(60 * meanSpeed);
    for (const station of this.stations) {
      station.outlet.turnTo(turns, this.meteredUntil, seconds, gramsPerTurn * station.rowsFactor);
      station.landUntil(seconds - LANDED_FOR_SURE_SECONDS);
    }
    this.meteredUntil = seconds;
    this.motion.plan(seconds);
  }

  private station(cell: number): Station {
    const station = this.stations[cell];
    if (station === undefined)
      throw new RangeError(`There is no load cell ${cell}: ${this.cells} are fitted.`);
    return station;
  }

  private tellTruth(): DrillTruth {
    const { geometry, rowsPerCell, meter, mix, drive } = this.scenario;
    const rows = rowsPerCell * this.cells;
    const rowsFactor = this.stations.reduce((sum, station) => sum + station.rowsFactor, 0) / this.cells;
    const speed = drive.hand?.turnsPerMinute ?? drive.turnsPerMinute;
    const gramsPerTurn = settingCurve(meter, meter.setting) * speedFactor(meter, speed) * rows * rowsFactor;
    const rolled = geometry.circumferenceMetres / (1 - geometry.slip);
    const squareMetresPerTurn = rolled * geometry.rowSpacingMetres * rows;
    const sum = (of: (station: Station) => number, cell?: number) =>
      (cell === undefined ? this.stations : [this.station(cell)]).reduce((all, s) => all + of(s), 0);
    return {
      rateGramsPerSquareMetre: gramsPerTurn / squareMetresPerTurn,
      gramsPerTurn,
      squareMetresPerTurn,
      runFactor: this.meter.factor,
      lumpGrams: meter.packing * lumpGrams(mix),
      turns: () => this.motion.turnsAt(this.seconds) - this.startTurns,
      turnsPerMinute: () => 60 * this.motion.speedAt(this.seconds),
      gramsMetered: (cell) => sum((s) => s.meteredGrams, cell),
      gramsCaught: (cell) =>
        sum((s) => s.caughtBy(this.seconds).reduce((all, { grams }) => all + grams, 0), cell),
      seedsCaught: () =>
        mix.map((_, i) => ({
          seeds: sum((s) => s.caughtBy(this.seconds)[i]!.seeds),
          grams: sum((s) => s.caughtBy(this.seconds)[i]!.grams),
        })),
    };
  }
}

/**
 * An imagined drill for one run: this run's factor, its noise and every seed come from `seed`.
 * @throws RangeError with a sentence when the scenario is not one that can exist.
 */
export function createDrill(scenario: Scenario, seed: number | string): Drill {
  const wrong = faultsOfScenario(scenario);
  if (wrong.length > 0)
    throw new RangeError(`Scenario "${scenario.name}" cannot exist: ${wrong.join('; ')}.`);
  return new ImaginedDrill(scenario, seed);
}
