/**
 * From converter counts to grams: cells of the imagined drill (noise, hum, creep, drift) calibrated with check masses as
 * hardware-notes/commissioning.md says, then loaded. Within 0.1 % of the load or twice a reading's noise, whichever is larger.
 */
import { expect, it } from 'vitest';
import { CellConverter } from '../../firmware-sim/drill/converter.ts';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { checkMassOfClass } from '../../server/domain/check-masses.ts';
import { calibrateScale } from '../../server/domain/scale-calibration.ts';
import { grams } from '../../server/domain/units.ts';

const { converter, cells } = oneRow;
const settleSeconds = 3;
const averageSeconds = 2;
const loads = [20, 87, 150, 260];

/** A cell with something hung on it for a while; weighs in order of time. */
class Cell {
  readonly #converter: CellConverter;
  #seconds = 0;

  constructor(seed: number) {
    this.#converter = new CellConverter(converter, randomStreams(seed), cells - 1);
  }

  /** Mean of the counts over the averaging time, with its standard error from neighbours' differences. */
  weigh(load: number): { counts: number; standardError: number } {
    const readings: number[] = [];
    const from = this.#seconds + settleSeconds;
    while (this.#seconds < from + averageSeconds) {
      this.#seconds += this.#converter.periodSeconds;
      const count = this.#converter.convert(this.#seconds, load);
      if (this.#seconds > from) readings.push(count);
    }
    const mean = readings.reduce((a, b) => a + b) / readings.length;
    const squares = readings.slice(1).reduce((sum, count, n) => sum + (count - readings[n]!) ** 2, 0);
    return { counts: mean, standardError: Math.sqrt(squares / 2 / (readings.length - 1) / readings.length) };
  }
}

/** Errors of the loads on one cell, grams, each with what is allowed. */
function errorsOf(seed: number): { error: number; allowed: number }[] {
  const cell = new Cell(seed);
  const masses = [20, 50, 100, 200].map((nominal) => checkMassOfClass('M1', grams(nominal)));
  const [small, middle, large, largest] = masses.map(({ name }) => name) as [string, string, string, string];
  const levels = [[], [small], [middle], [large], [largest], [largest, large]];
  const weight = new Map(masses.map(({ name, grams: each }) => [name, Number(each)]));
  const steps = [...levels, ...levels.toReversed().slice(1)].map((names) => ({
    masses: names,
    ...cell.weigh(names.reduce((sum, name) => sum + weight.get(name)!, 0)),
  }));
  const { gramsPerCount } = calibrateScale({ masses, steps });
  const noise = converter.noiseCounts / converter.countsPerGram;
  return loads.map((load) => {
    const empty = cell.weigh(0).counts;
    const error = (cell.weigh(load).counts - empty) * gramsPerCount - load;
    return { error: Math.abs(error), allowed: Math.max(0.001 * load, 2 * noise) };
  });
}

it('weighs within 0.1 % of the load or twice the noise, 40 cells and four loads each', () => {
  const all = Array.from({ length: 40 }, (_, seed) => errorsOf(seed + 1)).flat();
  const worst = Math.max(...all.map(({ error, allowed }) => error / allowed));
  console.info(
    `${all.length} weighings: largest error ${Math.max(...all.map(({ error }) => error)).toFixed(3)} g, ${(100 * worst).toFixed(0)} % of what is allowed`,
  );
  expect(all).toHaveLength(160);
  expect(worst).toBeLessThanOrEqual(1);
  expect(worst).toBeGreaterThan(0.05);
});
