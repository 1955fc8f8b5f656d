import type { BoardOutputs, WheelEdge, World } from '../world.ts';
import { applyFault } from './fault-effects.ts';
import { FaultWatch } from './faults.ts';
import { hopperFactor, type MeterChance, MeterRun, meterChance } from './metering.ts';
import { randomStreams } from './random.ts';
import type { Scenario } from './scenario.ts';
import { faultsOfScenario } from './scenario-check.ts';
import { Station } from './station.ts';
import { type DrillTruth, lastingTruth } from './truth.ts';
import { WheelMotion } from './turning.ts';
import { PulseSensor } from './wheel.ts';

/** Seeds due this long ago may land without waiting for a conversion: none will come for a moment before. */
const LANDED_FOR_SURE_SECONDS = 1;

/** An imagined drill under a board. */
export interface Drill extends World {
  readonly scenario: Scenario;
  readonly truth: DrillTruth;
  /** Has the person at the wheel begin or let go (scenarios with a hand drive). */
  turnByHand(): void;
  letGo(): void;
  pressStop(): void;
  releaseStop(): void;
  /** Shakes out all bags and hangs them up again. */
  emptyBags(): void;
  /** Has masses lie on a cell beside the bag, so many grams in all; 0 takes them off. */
  putOn(cell: number, grams: number): void;
  /** Sets the lever to a mark of the setting scale, 0 or more. Each setting, even to the same mark, has its own play and its own run factor. */
  setLever(mark: number): void;
}

class ImaginedDrill implements Drill {
  scenario: Scenario;
  truth: DrillTruth;
  readonly cells: number;
  readonly motion: WheelMotion;
  readonly sensor: PulseSensor;
  readonly stations: Station[];
  stopPressed = false;
  private meter: MeterRun;
  private readonly chance: MeterChance;
  private readonly faults: FaultWatch[];
  private readonly startTurns: number;
  private seconds = 0;
  private meteredUntil = 0;

  constructor(scenario: Scenario, seed: number | string) {
    const streams = randomStreams(seed);
    this.scenario = scenario;
    this.cells = scenario.cells;
    this.startTurns = streams('start').uniform();
    this.motion = new WheelMotion(scenario.drive, streams, this.startTurns);
    this.sensor = new PulseSensor(scenario.wheel, streams, this.startTurns);
    this.chance = meterChance(streams);
    this.meter = new MeterRun(scenario.meter, this.chance);
    this.faults = scenario.faults.map((fault) => new FaultWatch(fault));
    this.stations = Array.from(
      { length: scenario.cells },
      (_, cell) => new Station(scenario, streams, cell, this.startTurns),
    );
    this.truth = this.tellTruth();
  }

  advance(seconds: number, outputs: BoardOutputs): WheelEdge[] {
    if (this.motion.driveBy(outputs, this.seconds)) this.endStretch(this.seconds);
    while (this.motion.stretch.endSeconds <= seconds) this.endStretch(this.motion.stretch.endSeconds);
    this.sensor.follow(this.motion.stretch, this.motion.turnsAt(seconds));
    this.seconds = Math.max(this.seconds, seconds);
    if (this.faults.length > 0 && this.watchFaults(this.seconds)) this.endStretch(this.seconds);
    return this.sensor.take(seconds);
  }

  conversionPeriod(cell: number): number {
    return this.station(cell).periodSeconds;
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

  emptyBags(): void {
    for (const station of this.stations) station.empty(this.seconds);
  }

  putOn(cell: number, grams: number): void {
    this.station(cell).bag.lean(this.seconds, grams);
  }

  setLever(mark: number): void {
    if (!(mark >= 0 && Number.isFinite(mark))) throw new RangeError(`The lever has no mark ${mark}.`);
    this.endStretch(this.seconds);
    this.scenario = { ...this.scenario, meter: { ...this.scenario.meter, setting: mark } };
    this.meter = new MeterRun(this.scenario.meter, this.chance);
    this.truth = this.tellTruth();
  }

  /** Ends the present stretch of motion: the sensor has followed, the meter meters what belongs to it, the next is planned. */
  private endStretch(seconds: number): void {
    const turns = this.motion.turnsAt(seconds);
    this.sensor.follow(this.motion.stretch, turns);
    const meanSpeed = (this.motion.stretch.speed + this.motion.speedAt(seconds)) / 2;
    const gramsPerTurn = this.gramsPerTurn(60 * meanSpeed);
    for (const station of this.stations) {
      station.turnTo(turns, this.meteredUntil, seconds, gramsPerTurn);
      station.landUntil(seconds - LANDED_FOR_SURE_SECONDS);
    }
    this.meteredUntil = seconds;
    if (this.faults.length > 0) this.watchFaults(seconds);
    this.motion.plan(seconds);
  }

  /** What the meter gives now for the rows over one cell; the hopper runs down and its mix separates. */
  private gramsPerTurn(turnsPerMinute: number): number {
    const { hopper, rowsPerCell } = this.scenario;
    const gramsPerTurn = rowsPerCell * this.meter.gramsPerTurnAt(turnsPerMinute);
    if (hopper === null) return gramsPerTurn;
    let given = 0;
    for (const station of this.stations) given += station.meteredGrams;
    for (const station of this.stations) station.separate(given / 1000);
    return gramsPerTurn * hopperFactor(hopper, given);
  }

  /** Lets faults come and go; true when one did. */
  private watchFaults(seconds: number): boolean {
    const turns = this.motion.turnsAt(seconds) - this.startTurns;
    let changed = false;
    for (const watch of this.faults) {
      if (!watch.changes(turns, seconds)) continue;
      applyFault(this, watch.fault, watch.active, seconds);
      changed = true;
    }
    for (const station of this.stations) station.leakUntil(seconds);
    return changed;
  }

  private station(cell: number): Station {
    const station = this.stations[cell];
    if (station === undefined)
      throw new RangeError(`There is no load cell ${cell}: ${this.cells} are fitted.`);
    return station;
  }

  private tellTruth(): DrillTruth {
    const rowsFactor = this.stations.reduce((sum, station) => sum + station.rowsFactor, 0) / this.cells;
    const asked = (cell?: number) => (cell === undefined ? this.stations : [this.station(cell)]);
    const caught = (cell?: number) => asked(cell).map((station) => station.caughtBy(this.seconds));
    const total = (values: number[]) => values.reduce((sum, value) => sum + value, 0);
    return {
      ...lastingTruth(this.scenario, rowsFactor),
      runFactor: this.meter.factor,
      turns: () => this.motion.turnsAt(this.seconds) - this.startTurns,
      turnsPerMinute: () => 60 * this.motion.speedAt(this.seconds),
      gramsMetered: (cell) => total(asked(cell).map((station) => station.meteredGrams)),
      gramsCaught: (cell) => total(caught(cell).flatMap((bag) => bag.map(({ grams }) => grams))),
      seedsCaught: () =>
        this.scenario.mix.map((_, species) => ({
          seeds: total(caught().map((bag) => bag[species]!.seeds)),
          grams: total(caught().map((bag) => bag[species]!.grams)),
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
