import { speedFactor } from './metering.ts';
import { lumpGrams, type Scenario, settingCurve } from './scenario.ts';

/** What is really so for as long as the drill stands as it does. */
export interface LastingTruth {
  /** Long-run rate of the rows caught at this setting, without this run's own factor. */
  readonly rateGramsPerSquareMetre: number;
  /** Expected grams a turn of the rows caught, likewise; with the hopper as it was at the start. */
  readonly gramsPerTurn: number;
  /** Ground that one turn stands for, for the rows caught: true circumference and spacing, slip included. */
  readonly squareMetresPerTurn: number;
  /** Variance of a catch per gram caught, grams, at a given run factor. */
  readonly lumpGrams: number;
}

/** What is really so. Grams and turns are those of all bags together unless a cell is named. */
export interface DrillTruth extends LastingTruth {
  /** What this run delivers relative to the long run. */
  readonly runFactor: number;
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

/** `rowsFactor`: mean delivery of the rows caught relative to the stated row. */
export function lastingTruth(scenario: Scenario, rowsFactor: number): LastingTruth {
  const { geometry, meter, drive, mix } = scenario;
  const rows = scenario.rowsPerCell * scenario.cells;
  const speed = drive.hand?.turnsPerMinute ?? drive.turnsPerMinute;
  const gramsPerTurn = settingCurve(meter, meter.setting) * speedFactor(meter, speed) * rows * rowsFactor;
  const travelledMetres = geometry.circumferenceMetres / (1 - geometry.slip);
  const squareMetresPerTurn = travelledMetres * geometry.rowSpacingMetres * rows;
  return {
    rateGramsPerSquareMetre: gramsPerTurn / squareMetresPerTurn,
    gramsPerTurn,
    squareMetresPerTurn,
    lumpGrams: meter.packing * lumpGrams(mix),
  };
}
