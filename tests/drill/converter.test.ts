import { describe, expect, it } from 'vitest';
import { CellConverter } from '../../firmware-sim/drill/converter.ts';
import { createDrill } from '../../firmware-sim/drill/drill.ts';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import type { Converter } from '../../firmware-sim/drill/scenario.ts';
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { calm, motorOff, motorOn } from './runs.ts';
import { chiSquareZ, correlation, expectNear, mean, variance } from './statistics.ts';

const ideal = calm.converter;

function values(converter: Converter, count: number, grams: number, seed = 'converter'): number[] {
  const cell = new CellConverter(converter, randomStreams(seed), 0);
  return Array.from({ length: count }, (_, i) => cell.convert((i + 1) / 80, grams));
}

describe('a converter', () => {
  it('turns grams into counts along its line, in whole counts', () => {
    expect(values(ideal, 1, 12.3456)).toEqual([84_000 + 12_346]);
    expect(values(ideal, 1, -100)).toEqual([84_000 - 100_000]);
  });

  it('has the stated noise, white', () => {
    const counts = values({ ...ideal, noiseCounts: 38 }, 20_000, 100);
    const degrees = counts.length - 1;
    const chi = (degrees * variance(counts)) / (38 ** 2 + 1 / 12);
    expect(Math.abs(chiSquareZ(chi, degrees))).toBeLessThan(3);
    const lagged = correlation(counts.slice(1), counts.slice(0, -1));
    expect(Math.abs(lagged) * Math.sqrt(counts.length)).toBeLessThan(3);
  });

  it('clips at both ends of 24 bits', () => {
    expect(values(ideal, 2, 1e6)).toEqual([8_388_607, 8_388_607]);
    expect(values(ideal, 2, -1e6)).toEqual([-8_388_608, -8_388_608]);
  });

  it('drifts evenly, each run its own way', () => {
    const drifts = Array.from({ length: 300 }, (_, k) => {
      const cell = new CellConverter({ ...ideal, driftGramsPerMinute: 0.1 }, randomStreams(k), 0);
      return (cell.convert(60, 0) - 84_000) / 1000;
    });
    expect(Math.abs(chiSquareZ(299 * (variance(drifts) / 0.01), 299))).toBeLessThan(3);
  });

  it('walks at random as far as stated in a minute', () => {
    const walks = Array.from({ length: 200 }, (_, k) => {
      const all = values({ ...ideal, walkGramsPerRootMinute: 0.1 }, 4800, 0, `walk ${k}`);
      return (all[4799]! - 84_000) / 1000;
    });
    expect(Math.abs(chiSquareZ(199 * (variance(walks) / 0.01), 199))).toBeLessThan(3);
  });

  it('creeps toward more under a standing load', () => {
    const creeping = values({ ...ideal, creep: 0.01, creepSeconds: 10 }, 80 * 60, 100);
    expect(creeping[80 * 10 - 1]! - 184_000).toBeCloseTo(1000 * (1 - Math.exp(-1)), -1);
    expect(creeping.at(-1)! - 184_000).toBeCloseTo(1000, -1);
  });

  it('picks up mains hum', () => {
    const hum = values({ ...ideal, humCounts: 100, humHertz: 50 }, 8000, 0);
    expect(Math.sqrt(variance(hum))).toBeCloseTo(100 / Math.SQRT2, 0);
  });

  it('keeps its own clock, near 80 a second', () => {
    const periods = [0, 1, 2, 3, 4, 5].map((cell) => createDrill(sixRows, 1).conversionPeriod(cell));
    expect(new Set(periods).size).toBe(6);
    for (const period of periods) expect(Math.abs(period * 80 - 1)).toBeLessThan(0.04);
  });
});

describe('a reading of the drill', () => {
  it('is the catch, once the bag is still', () => {
    const drill = createDrill(calm, 'still');
    drill.advance(1, motorOff);
    const before = drill.convert(0, 1);
    drill.advance(11, motorOn);
    drill.advance(30, motorOff);
    const grams = (drill.convert(0, 30) - before) / 1000;
    expect(grams).toBeCloseTo(drill.truth.gramsCaught(), 2);
    expect(grams).toBeGreaterThan(20);
  });

  it('shakes while the wheel turns and is quiet when it stands', () => {
    const empty = { ...oneRow, meter: { ...oneRow.meter, setting: 0, offsetGrams: 0 } };
    const drill = createDrill(empty, 'shake');
    const period = drill.conversionPeriod(0);
    const read = (from: number, to: number, outputs: typeof motorOn) => {
      const counts: number[] = [];
      for (let at = from; at < to; at += period) {
        drill.advance(at, outputs);
        counts.push(drill.convert(0, at));
      }
      return Math.sqrt(variance(counts)) / 1000;
    };
    const still = read(period, 20, motorOff);
    read(20, 25, motorOn);
    const turning = read(25, 85, motorOn);
    // Noise 38 counts and hum 4; turning adds 0.10, 0.12 and 0.05/sqrt(2) g RMS.
    expect(still).toBeCloseTo(0.038, 2);
    expectNear(turning, Math.hypot(0.038, 0.1, 0.12, 0.035), 0.015);
    expect(mean([still])).toBeLessThan(turning);
  });
});
