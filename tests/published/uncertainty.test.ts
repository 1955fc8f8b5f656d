import { describe, expect, it } from 'vitest';
import { combineCorrelated, correlationOf } from '../../server/domain/correlated.ts';
import { weighCountedSample } from '../../server/domain/counted-sample.ts';
import { weighingDoubt } from '../../server/domain/enough-turns.ts';
import { cellRounding } from '../../server/domain/shaft.ts';
import { combineDoubts, halfWidth, studentQuantile } from '../../server/domain/statistics.ts';
import { grams, turns } from '../../server/domain/units.ts';

/** READ, READ-2: seen in the source, or quoted; MEMORY: recalled; computed: done again here. */

// JCGM 100:2008 (GUM), H.1, end-gauge calibration, nanometres. READ-2: R package propagate, WelchSatter ("taken from GUM H.1.6": 25, 9.7,
// 2.9 and 16.6 with 18, 25.6, 50 and 2 degrees of freedom, 32), and MSLNZ/GTC docs/API/GUM_H1.rst (5.8, 3.9, 6.7, 16.599, 2.88679).
// MEMORY (high confidence): how the three parts of the difference come about, the 16.7 cut to 16, and the 93 nm at 99 %.
describe('GUM H.1, an end gauge', () => {
  const parts = [
    { standard: 13 / Math.sqrt(5), degreesOfFreedom: 24 },
    { standard: 10 / studentQuantile(0.975, 5), degreesOfFreedom: 5 },
    { standard: 20 / 3, degreesOfFreedom: 8 },
  ];
  const difference = combineDoubts(parts);
  const others = [
    { standard: 25, degreesOfFreedom: 18 },
    { standard: 2.88679, degreesOfFreedom: 50 },
    { standard: 16.599, degreesOfFreedom: 2 },
  ];
  const length = combineDoubts([...others, difference]);

  it('the parts of the difference of the gauges: 5.8, 3.9 and 6.7; together 9.7 with 25.6 degrees of freedom', () => {
    [5.8, 3.9, 6.7].forEach((printed, index) => {
      expect(parts[index]!.standard).toBeCloseTo(printed, 1);
    });
    expect(difference.standard).toBeCloseTo(9.7, 1);
    expect(difference.degreesOfFreedom).toBeCloseTo(25.6, 1);
  });

  it('the length: 32 nm with 16.7 effective degrees of freedom', () => {
    expect(Math.round(length.standard)).toBe(32);
    expect(length.degreesOfFreedom).toBeCloseTo(16.7, 1);
  });

  it('at 99 %: t is 2.92 with 16 degrees of freedom, and 32 nm make an interval of 93 either way', () => {
    expect(studentQuantile(0.995, 16)).toBeCloseTo(2.92, 2);
    expect(Math.round(halfWidth({ standard: 32, degreesOfFreedom: 16 }, 0.99))).toBe(93);
  });

  it('taking the parts in one go or the difference first is the same', () => {
    expect(combineDoubts([...others, ...parts]).degreesOfFreedom).toBeCloseTo(length.degreesOfFreedom, 9);
  });
});

// JCGM 100:2008, H.2, resistance and reactance from voltage, current and phase seen together five times. MEMORY (high confidence): data and
// printed results; done again to the printed digits.
describe('GUM H.2, figures that rise and fall together', () => {
  const volts = [5.007, 4.994, 5.005, 4.99, 4.999];
  const amperes = [19.663, 19.639, 19.64, 19.685, 19.678].map((milli) => milli / 1000);
  const phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
  const each = (of: (v: number, i: number, phi: number) => number) =>
    volts.map((v, k) => of(v, amperes[k]!, phase[k]!));
  const resistance = each((v, i, phi) => (v / i) * Math.cos(phi));
  const reactance = each((v, i, phi) => (v / i) * Math.sin(phi));
  const impedance = each((v, i) => v / i);

  it.each([
    ['resistance', resistance, 127.732, 0.071],
    ['reactance', reactance, 219.847, 0.295],
    ['impedance', impedance, 254.26, 0.236],
  ])('%s, each set by itself: %#', (_, values, printed, doubt) => {
    const mean = weighCountedSample({
      weights: values.map(grams),
      seedsEach: 1000,
      scaleStep: grams(0),
      chaffy: false,
    });
    expect(mean.thousandSeedWeight).toBeCloseTo(printed, 3);
    expect(mean.standardDoubt).toBeCloseTo(doubt, 3);
  });

  it('they hang together by -0.588, -0.485 and 0.993', () => {
    expect(correlationOf(resistance, reactance)).toBeCloseTo(-0.588, 3);
    expect(correlationOf(resistance, impedance)).toBeCloseTo(-0.485, 3);
    expect(correlationOf(reactance, impedance)).toBeCloseTo(0.993, 3);
  });

  // The other approach of H.2: means and their correlations first, then the law of propagation with them.
  it('the law of propagation with correlations gives the same 0.071 ohm, and without them three times as much', () => {
    const inputs = [volts, amperes, phase];
    const means = inputs.map((values) => values.reduce((sum, value) => sum + value, 0) / 5);
    const [v, i, phi] = means as [number, number, number];
    const doubts = inputs.map((values, k) =>
      Math.sqrt(values.reduce((sum, value) => sum + (value - means[k]!) ** 2, 0) / 20),
    );
    const sensitivities = [Math.cos(phi) / i, (-v * Math.cos(phi)) / i ** 2, (-v * Math.sin(phi)) / i];
    const parts = sensitivities.map((sensitivity, k) => sensitivity * doubts[k]!);
    const together = inputs.map((a, k) => inputs.map((b, m) => (k === m ? 1 : correlationOf(a, b))));
    const apart = inputs.map((_, k) => inputs.map((_other, m) => Number(k === m)));
    expect(combineCorrelated(parts, together)).toBeCloseTo(0.071, 3);
    expect(combineCorrelated(parts, apart)).toBeGreaterThan(2 * 0.071);
  });
});

// JCGM 100:2008, 4.3.7, as worked in lecture notes: anywhere between 7 and 10, half-width 1.5, u = 0.87. READ.
it('anywhere within 1.5 either way is a standard deviation of 0.87', () => {
  expect(weighingDoubt(grams(3), grams(0)) / Math.SQRT2).toBeCloseTo(0.87, 2);
});

// Twelve flutes at half the wheel's speed, 20 turns: 120 flutes, 0.8 % for one of them. Computed.
it('one flute of 120 is 0.8 % of the catch', () => {
  expect(cellRounding(turns(20), 0.5, 12)).toBeCloseTo(1 / 120, 12);
});
