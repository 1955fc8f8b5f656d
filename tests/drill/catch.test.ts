import { describe, expect, it } from 'vitest';
import { createDrill } from '../../firmware-sim/drill/drill.ts';
import { drawScenario, lumpGrams, type Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { motorOff, motorOn, turnFor } from './runs.ts';
import { chiSquareZ, correlation, expectNear, mean, variance } from './statistics.ts';

/** About 8 turns each: enough, since the sums are the same for any length. */
const seconds = 11;

function withMeter(change: Partial<Scenario['meter']>): Scenario {
  return { ...oneRow, meter: { ...oneRow.meter, ...change } };
}

/** How far each of many catches lies from what it should be, in the standard deviations of seed chance alone. */
function deviations(scenario: Scenario, count: number): number[] {
  return Array.from({ length: count }, (_, k) => {
    const { truth } = turnFor(scenario, `catch ${k}`, seconds);
    const expected = truth.gramsPerTurn * truth.turns() * truth.runFactor;
    return (truth.gramsCaught() - expected) / Math.sqrt(expected * truth.lumpGrams);
  });
}

describe('a catch', () => {
  it('is on average what the setting should give, and varies as independent seeds do', () => {
    // Variance of a compound Poisson sum: n E[mass²] (any textbook of probability; from memory).
    const z = deviations(oneRow, 400);
    expect(Math.abs(mean(z)) * Math.sqrt(z.length)).toBeLessThan(3);
    expect(Math.abs(chiSquareZ(z.length * mean(z.map((x) => x * x)), z.length))).toBeLessThan(3);
  });

  it.each([0.25, 0.04])('varies less under packing %s, by just that factor', (packing) => {
    const z = deviations(withMeter({ packing, pulsationDepth: 0 }), 300);
    expect(Math.abs(mean(z)) * Math.sqrt(z.length)).toBeLessThan(3.5);
    expect(Math.abs(chiSquareZ(z.length * mean(z.map((x) => x * x)), z.length))).toBeLessThan(3.5);
    expect(turnFor(withMeter({ packing }), 1, 1).truth.lumpGrams).toBeCloseTo(
      packing * lumpGrams(oneRow.mix),
      12,
    );
  });

  it('has the stated spread from run to run', () => {
    const factors = Array.from({ length: 2000 }, (_, k) => createDrill(oneRow, `run ${k}`).truth.runFactor);
    const degrees = factors.length - 1;
    const chi = (degrees * variance(factors)) / oneRow.meter.repeatability ** 2;
    expect(Math.abs(chiSquareZ(chi, degrees))).toBeLessThan(3);
    expect(Math.abs(mean(factors) - 1) * Math.sqrt(factors.length)).toBeLessThan(3 * 0.015);
  });

  it('lies in the air before it lies in the bag, and none of it is lost', () => {
    const drill = createDrill(oneRow, 'air');
    drill.advance(0, motorOff);
    drill.advance(10, motorOn);
    drill.convert(0, 10);
    const { truth } = drill;
    const inTheAir = truth.gramsMetered() - truth.gramsCaught();
    // Flow x fall time: 0.75 turns/s x 3.47 g x 0.4 s = 1.04 g.
    expect(inTheAir).toBeGreaterThan(0.4);
    expect(inTheAir).toBeLessThan(1.8);
    drill.advance(20, motorOff);
    drill.convert(0, 20);
    expect(truth.gramsCaught()).toBeCloseTo(truth.gramsMetered(), 9);
  });

  it('grows with the setting along the stated curve', () => {
    const perTurn = (setting: number) => createDrill(withMeter({ setting }), 1).truth.gramsPerTurn;
    expect(perTurn(0)).toBeCloseTo(0.27, 12);
    expect(perTurn(10)).toBeCloseTo(1.27, 12);
    const bent = withMeter({ setting: 20, bendGramsPerMarkSquared: -0.001 });
    expect(createDrill(bent, 1).truth.gramsPerTurn).toBeCloseTo(0.27 + 2 - 0.4, 12);
  });
});

describe('the flow', () => {
  /** Grams landed in each eighth of a flute, over a run without chance in the fall. */
  function byFluteAngle(pulsationDepth: number): number[] {
    const scenario = withMeter({ pulsationDepth, packing: 0 });
    scenario.fall = { ...scenario.fall, spreadSeconds: 0, seconds: 0.05 };
    scenario.drive = { ...scenario.drive, wander: 0 };
    const drill = createDrill(scenario, 'flute');
    drill.advance(0, motorOff);
    const parts = new Array<number>(8).fill(0);
    let before = 0;
    for (let at = 5; at < 305; at += 0.01) {
      drill.advance(at, motorOn);
      drill.convert(0, at);
      const part = Math.floor((drill.truth.turns() * scenario.meter.flutesPerTurn * 8) % 8);
      parts[part]! += drill.truth.gramsCaught() - before;
      before = drill.truth.gramsCaught();
    }
    return parts;
  }

  /** Amplitude of the first harmonic relative to the mean. */
  function pulsation(parts: readonly number[]): number {
    const angle = (i: number) => (2 * Math.PI * (i + 0.5)) / parts.length;
    const re = mean(parts.map((g, i) => g * Math.cos(angle(i))));
    const im = mean(parts.map((g, i) => g * Math.sin(angle(i))));
    return (2 * Math.hypot(re, im)) / mean(parts);
  }

  it('pulses once a flute, as deep as stated', () => {
    expect(pulsation(byFluteAngle(0.4))).toBeCloseTo(0.4, 1);
    expect(pulsation(byFluteAngle(0))).toBeLessThan(0.04);
  });
});

describe('the true rate', () => {
  it('is grams per turn over the ground of a turn', () => {
    const { truth } = createDrill(oneRow, 1);
    // 2.6924 m x 0.1905 m / 0.96 = 0.534273 m² a turn; 0.27 + 32 x 0.1 = 3.47 g.
    expect(truth.squareMetresPerTurn).toBeCloseTo(0.534273, 6);
    expect(truth.gramsPerTurn).toBeCloseTo(3.47, 12);
    expect(truth.rateGramsPerSquareMetre).toBeCloseTo(3.47 / 0.534273, 5);
  });

  it('counts every row that falls into a bag', () => {
    const twelve: Scenario = { ...sixRows, rowsPerCell: 2, rowSpread: 0 };
    const { truth } = createDrill(twelve, 1);
    expect(truth.gramsPerTurn).toBeCloseTo(12 * 3.47, 9);
    expect(truth.rateGramsPerSquareMetre).toBeCloseTo(
      createDrill(oneRow, 1).truth.rateGramsPerSquareMetre,
      9,
    );
  });

  it('does not know the run it is asked in', () => {
    const rates = [1, 2, 3].map((seed) => createDrill(oneRow, seed).truth.rateGramsPerSquareMetre);
    expect(new Set(rates).size).toBe(1);
  });

  it('lies where the stated doubts say, run after run', () => {
    const { stated } = oneRow;
    const z = Array.from({ length: 300 }, (_, k) => {
      const { truth } = turnFor(drawScenario(oneRow, `drill ${k}`), `run ${k}`, seconds);
      const area = (truth.turns() * stated.circumferenceMetres * stated.rowSpacingMetres) / (1 - stated.slip);
      const relative = Math.hypot(
        stated.circumferenceDoubtMetres / stated.circumferenceMetres,
        stated.rowSpacingDoubtMetres / stated.rowSpacingMetres,
        stated.slipDoubt / (1 - stated.slip),
        stated.repeatability,
        Math.sqrt(truth.lumpGrams / truth.gramsCaught()),
      );
      return (truth.gramsCaught() / area / truth.rateGramsPerSquareMetre - 1) / relative;
    });
    expect(Math.abs(mean(z)) * Math.sqrt(z.length)).toBeLessThan(3);
    expect(Math.abs(chiSquareZ((z.length - 1) * variance(z), z.length - 1))).toBeLessThan(3);
  });
});

describe('six rows', () => {
  it('differ by the stated spread and draw their seeds independently', () => {
    const even: Scenario = { ...sixRows, rowSpread: 0, meter: { ...sixRows.meter, repeatability: 0 } };
    const catches = Array.from({ length: 120 }, (_, k) => {
      const { truth } = turnFor(even, `six ${k}`, seconds);
      return [0, 1, 2, 3, 4, 5].map((cell) => truth.gramsCaught(cell) / truth.turns());
    });
    const series = (cell: number) => catches.map((row) => row[cell]!);
    expect(Math.abs(correlation(series(0), series(1))) * Math.sqrt(120)).toBeLessThan(3);
    const spreads = Array.from({ length: 100 }, (_, k) => {
      const { truth } = turnFor({ ...sixRows, rowSpread: 0.08 }, `rows ${k}`, seconds);
      const rows = [0, 1, 2, 3, 4, 5].map((cell) => truth.gramsCaught(cell));
      return variance(rows) / mean(rows) ** 2 - truth.lumpGrams / mean(rows);
    });
    expectNear(Math.sqrt(mean(spreads)), 0.08, 0.01);
  });
});
