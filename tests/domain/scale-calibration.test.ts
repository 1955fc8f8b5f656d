import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CheckMass, checkMassOfClass } from '../../server/domain/check-masses.ts';
import { leastSquares } from '../../server/domain/regression.ts';
import {
  type CalibrationRecord,
  calibrateScale,
  type ScaleCalibration,
} from '../../server/domain/scale-calibration.ts';
import { slopeDoubt, slopeDoubtParts, weighedLoad } from '../../server/domain/scale-doubt.ts';
import { suspects } from '../../server/domain/scale-faults.ts';
import { type CalibrationStep, loadedSteps } from '../../server/domain/scale-steps.ts';
import { straightLine } from '../../server/domain/straight-line.ts';
import { grams } from '../../server/domain/units.ts';
import { between, near, refused } from './lots.ts';
import { noiseFrom } from './noise.ts';

const countsPerGram = 420;
const zero = -31_000;
const set = [50, 100, 200, 500].map((each) => checkMassOfClass('M1', grams(each)));
/** Up and down: each step the masses on the scale. */
const upAndDown = [[], [50], [100], [200], [500], [200, 500], [500], [200], [100], [50], []];

/** Weighings of nominal masses as a scale shows them: a load in grams and the step's number to grams shown. */
function weighings(
  shown: (load: number, step: number, on: number[]) => number = (load) => load,
  plan: number[][] = upAndDown,
): CalibrationStep[] {
  return plan.map((on, step) => ({
    masses: on.map((each) => `${each} g`),
    counts:
      zero +
      countsPerGram *
        shown(
          on.reduce((a, b) => a + b, 0),
          step,
          on,
        ),
    standardError: 0.01 * countsPerGram,
  }));
}

const recordOf = (steps: CalibrationStep[], masses: CheckMass[] = set): CalibrationRecord => ({
  masses,
  steps,
});
const calibrated = (
  shown?: (load: number, step: number, on: number[]) => number,
  plan?: number[][],
): ScaleCalibration => calibrateScale(recordOf(weighings(shown, plan)));
const codes = (calibration: ScaleCalibration) => calibration.warnings.map(({ code }) => code);

/** The sentence that a refused calibration comes with. */
function sentenceOf(record: CalibrationRecord): string {
  try {
    calibrateScale(record);
  } catch (error) {
    return (error as Error).message;
  }
  return expect.unreachable('nothing was refused');
}

const noisy = (size: number, seed = 1) => {
  const noise = noiseFrom(seed);
  return (load: number) => load + size * noise();
};

describe('a scale’s line', () => {
  it('is recovered from a perfect scale, with nothing to say but the little noise that the readings own to', () => {
    const calibration = calibrated();
    near(calibration.gramsPerCount, 1 / countsPerGram, 1e-12);
    expect(calibration.zeroCounts).toBeCloseTo(zero, 6);
    expect(calibration.span).toBe(700);
    expect(Math.max(...calibration.steps.map(({ residual }) => Math.abs(residual)))).toBeLessThan(1e-9);
    expect(calibration.scatter).toEqual({
      standard: expect.closeTo(0.01 * countsPerGram, 9),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
    });
    expect(calibration.diagnostics.hysteresis!.grams).toBeCloseTo(0, 9);
    expect(calibration.diagnostics.zeroReturn).toBeCloseTo(0, 9);
    expect(calibration.warnings).toEqual([]);
  });

  it('does not mind the order of the masses, nor of the weighings but for up and down', () => {
    const steps = weighings(noisy(0.03));
    const one = calibrateScale(recordOf(steps));
    fc.assert(
      fc.property(
        fc.shuffledSubarray(set, { minLength: 4 }),
        fc.shuffledSubarray(steps, { minLength: 11 }),
        (masses, mixed) => {
          const other = calibrateScale(recordOf(mixed, masses));
          near(other.gramsPerCount, one.gramsPerCount, 1e-13);
          near(other.scatter.standard, one.scatter.standard, 1e-9);
          near(slopeDoubt(other).standard, slopeDoubt(one).standard, 1e-9);
        },
      ),
    );
  });

  it('twice the counts: half the slope, the same grams, the same doubt', () => {
    const steps = weighings(noisy(0.03));
    const one = calibrateScale(recordOf(steps));
    fc.assert(
      fc.property(between(0.01, 100), fc.integer({ min: -1e6, max: 1e6 }), (factor, shift) => {
        const other = calibrateScale(
          recordOf(
            steps.map((step) => ({
              ...step,
              counts: step.counts * factor + shift,
              standardError: step.standardError * factor,
            })),
          ),
        );
        near(other.gramsPerCount * factor, one.gramsPerCount, 1e-9);
        near(slopeDoubt(other).standard, slopeDoubt(one).standard, 1e-6);
        const weighed = weighedLoad(other, (zero + countsPerGram * 86) * factor + shift);
        near(weighed.grams, weighedLoad(one, zero + countsPerGram * 86).grams, 1e-9);
      }),
    );
  });

  it('a heavier set of masses by a thousandth: a slope larger by a thousandth', () => {
    const heavier = set.map((mass) => ({ ...mass, grams: grams(mass.grams * 1.001) }));
    const steps = weighings(noisy(0.03));
    const [one, other] = [set, heavier].map((masses) => calibrateScale(recordOf(steps, masses)));
    near(other!.gramsPerCount, one!.gramsPerCount * 1.001, 1e-12);
  });

  it('a falling scale is refused unless it is meant so', () => {
    const falling = weighings((load) => -load);
    refused(() => calibrateScale(recordOf(falling)), 'inconsistent', 'steps');
    expect(sentenceOf(recordOf(falling))).toMatch(
      /counts fall as the load grows: the cell is the other way up/,
    );
    const meant = calibrateScale({ ...recordOf(falling), falling: true });
    near(meant.gramsPerCount, -1 / countsPerGram, 1e-12);
    near(weighedLoad(meant, zero - countsPerGram * 86).grams, 86, 1e-9);
    refused(() => calibrateScale({ ...recordOf(weighings()), falling: true }), 'inconsistent', 'steps');
  });
});

describe('a calibration that cannot stand is refused, and says which mass', () => {
  it('a single check mass, or no empty scale', () => {
    const single = recordOf(weighings(undefined, [[], [200], [], [200]]));
    refused(() => calibrateScale(single), 'too-few', 'steps');
    expect(sentenceOf(single)).toMatch(/One check mass and zero always fit a line/);
    refused(() => calibrateScale(recordOf(weighings(undefined, [[50], [100], [200]]))), 'too-few', 'steps');
    refused(() => calibrateScale(recordOf([])), 'too-few', 'steps');
  });

  it('a mass that reads too much, by how much', () => {
    const heavy = (load: number, _: number, on: number[]) => load + (on.includes(200) ? 5 : 0);
    expect(sentenceOf(recordOf(weighings(heavy)))).toBe(
      'The 200 g mass reads 5 g too much: is it the right mass, and does nothing touch? Weigh it again, or leave it out.',
    );
    refused(() => calibrateScale(recordOf(weighings(heavy))), 'inconsistent', 'masses');
    const light = (load: number, _: number, on: number[]) => load - (on.includes(500) ? 30 : 0);
    expect(sentenceOf(recordOf(weighings(light)))).toMatch(/^The 500 g mass reads 30 g too little/);
  });

  it('whichever mass it is, through noise', () => {
    const plan = [[], [50], [100], [200], [50, 200], [500], [100, 500], [500], [200], [100], [50], []];
    fc.assert(
      fc.property(
        fc.constantFrom(50, 100, 200, 500),
        fc.constantFrom(-1, 1),
        fc.integer({ min: 1, max: 1000 }),
        (wrong, sign, seed) => {
          const scatter = noisy(0.05, seed);
          const shown = (load: number, _: number, on: number[]) =>
            scatter(load) + (on.includes(wrong) ? sign * 8 : 0);
          expect(sentenceOf(recordOf(weighings(shown, plan)))).toMatch(
            new RegExp(
              `^The ${wrong} g mass reads (7\\.\\d|8|8\\.\\d) g too ${sign > 0 ? 'much' : 'little'}`,
            ),
          );
        },
      ),
    );
  });

  it('an empty scale that was touched', () => {
    const touched = (load: number) => (load === 0 ? 12 : load);
    expect(sentenceOf(recordOf(weighings(touched)))).toMatch(/^The empty scale reads 12 g too much/);
  });

  it('a single weighing that was touched', () => {
    const touched = (load: number, step: number) => load + (step === 7 ? 9 : 0);
    const sentence = sentenceOf(recordOf(weighings(touched)));
    expect(sentence).toMatch(/^The eighth weighing, of 200 g, reads 9 g too much/);
  });

  it('two masses and zero that lie on no line: it may be any of them', () => {
    const wrong = (load: number) => (load === 200 ? 210 : load);
    const sentence = sentenceOf(recordOf(weighings(wrong, [[], [200], [500]])));
    expect(sentence).toMatch(/^The weighings lie on no line\. One of these is wrong: /);
    for (const name of ['the 200 g mass by', 'the 500 g mass by', 'the empty scale by']) {
      expect(sentence).toContain(name);
    }
  });

  it('masses mixed up: no longer monotone', () => {
    const mixed = (load: number) => (load === 100 ? 200 : load === 200 ? 100 : load);
    const sentence = sentenceOf(recordOf(weighings(mixed)));
    expect(sentence).toBe(
      'With 200 g the scale shows no more than with 100 g. Check which mass is which, and that nothing touches.',
    );
    refused(
      () => calibrateScale(recordOf(weighings((load) => Math.min(load, 500)))),
      'inconsistent',
      'steps',
    );
    refused(() => calibrateScale(recordOf(weighings(() => 7))), 'inconsistent', 'steps');
  });

  it('noise alone is seldom blamed on a mass', () => {
    let blamed = 0;
    for (let seed = 1; seed <= 300; seed += 1) {
      try {
        calibrated(noisy(1.2, seed));
      } catch (error) {
        blamed += /mass reads/.test((error as Error).message) ? 1 : 0;
      }
    }
    expect(blamed).toBeLessThan(3);
  });

  // The same by general least squares with one more column.
  it('what a suspect is off by is what a line with one more unknown gives', () => {
    const plan = [[], [50], [100], [50, 200], [500], [200, 500], [100], []];
    const steps = loadedSteps(set, weighings(noisy(0.5, 3), plan));
    const loads = steps.map(({ load }) => load);
    const ones = loads.map(() => 1);
    const line = straightLine(
      loads,
      steps.map(({ counts }) => counts),
    );
    const squares = loads.reduce((sum, load) => sum + (load - line.centre) ** 2, 0);
    const found = suspects(steps, { line, centre: line.centre, squares, residuals: line.residuals });
    expect(found.map(({ mass }) => mass)).toEqual(['50 g', '100 g', '200 g', '500 g', null]);
    for (const { mass, grams: off, t, leftSquares, left, freedom } of found) {
      const marked = steps.map(({ masses }) =>
        Number(mass === null ? masses.length === 0 : masses.includes(mass)),
      );
      const fit = leastSquares(
        [ones, loads, marked],
        steps.map(({ counts }) => counts),
      );
      near(off, fit.coefficients[2]! / fit.coefficients[1]!, 1e-9);
      near(t, Math.abs(fit.coefficients[2]!) / Math.sqrt(fit.covariance[2]![2]!), 1e-9);
      near(leftSquares, fit.residualSumOfSquares, 1e-9);
      near(left, Math.max(...fit.residuals.map(Math.abs)) / fit.coefficients[1]!, 1e-9);
      expect(freedom).toBe(fit.residualFreedom);
    }
  });

  it('weighings that scatter all over', () => {
    const record = recordOf(weighings(noisy(8, 4)));
    refused(() => calibrateScale(record), 'inconsistent', 'steps');
  });

  it('masses too light for the noise', () => {
    const small = [1, 2, 5].map((each) => checkMassOfClass('M1', grams(each)));
    const plan = [[], [1], [2], [5], [2, 5], [5], [2], [1], []];
    const record = recordOf(
      weighings(undefined, plan).map((step) => ({ ...step, standardError: 0.2 * countsPerGram })),
      small,
    );
    refused(() => calibrateScale(record), 'out-of-range', 'steps');
    expect(sentenceOf(record)).toMatch(
      /^The masses are too light for the noise of this scale.*Weigh up to about \d+ g/,
    );
  });

  it('figures that are none', () => {
    const bad = (change: Partial<CalibrationStep>) =>
      recordOf(weighings().map((step, i) => (i === 3 ? { ...step, ...change } : step)));
    refused(() => calibrateScale(bad({ counts: Number.NaN })), 'not-a-number', 'steps');
    refused(() => calibrateScale(bad({ standardError: -1 })), 'out-of-range', 'steps');
    refused(
      () => calibrateScale(bad({ drift: { counts: Number.NaN, standardError: 1 } })),
      'not-a-number',
      'steps',
    );
    refused(() => calibrateScale(bad({ masses: ['7 g'] })), 'inconsistent', 'steps');
    refused(() => calibrateScale(bad({ masses: ['50 g', '50 g'] })), 'inconsistent', 'steps');
    for (const wrong of [0, -5, Number.NaN, Number.POSITIVE_INFINITY]) {
      const masses = [{ ...set[0]!, grams: wrong as CheckMass['grams'] }, ...set.slice(1)];
      refused(
        () => calibrateScale(recordOf(weighings(), masses)),
        Number.isFinite(wrong) ? 'out-of-range' : 'not-a-number',
        'masses',
      );
      expect(sentenceOf(recordOf(weighings(), masses))).toContain('the 50 g check mass');
    }
    refused(() => calibrateScale(recordOf(weighings(), [...set, set[0]!])), 'inconsistent', 'masses');
    refused(
      () =>
        calibrateScale(recordOf(weighings(), [{ ...set[0]!, standardDoubt: grams(20) }, ...set.slice(1)])),
      'out-of-range',
      'masses',
    );
    refused(
      () => calibrateScale({ ...recordOf(weighings()), sharedDoubt: 0.5 }),
      'out-of-range',
      'sharedDoubt',
    );
    refused(
      () => calibrateScale({ ...recordOf(weighings()), heaviest: grams(0) }),
      'out-of-range',
      'heaviest',
    );
  });
});

describe('what is worth saying about one that stands', () => {
  it('few masses, no way back, loads beyond the masses', () => {
    const short = calibrated(noisy(0.02), [[], [100], [500]]);
    expect(codes(short)).toEqual(['few-masses', 'no-return']);
    const far = calibrateScale({ ...recordOf(weighings()), heaviest: grams(2000) });
    expect(codes(far)).toEqual(['span-below-use']);
    expect(far.warnings[0]!.sentence).toMatch(/2000 g .* only to 700 g/);
    expect(codes(calibrateScale({ ...recordOf(weighings()), heaviest: grams(700) }))).toEqual([]);
    const repeated = calibrated(noisy(0.02), [[], [50], [50], [100], [200], [500], []]);
    expect(codes(repeated)).toEqual(['no-return']);
  });

  it('hysteresis, and where', () => {
    const loop = (load: number, step: number) => load + (step > 5 ? ({ 500: 1.2, 200: 0.7 }[load] ?? 0) : 0);
    const calibration = calibrated(loop);
    expect(calibration.diagnostics.hysteresis).toMatchObject({ load: 500, grams: expect.closeTo(1.2, 2) });
    expect(codes(calibration)).toContain('hysteresis');
    expect(calibration.warnings.find(({ code }) => code === 'hysteresis')!.sentence).toMatch(
      /^At 500 g the scale shows 1\.2 g more coming down than going up/,
    );
  });

  it('a zero that does not come back', () => {
    const calibration = calibrated((load, step) => load + 0.08 * step);
    expect(calibration.diagnostics.zeroReturn).toBeCloseTo(0.8, 2);
    expect(codes(calibration)).toContain('zero-return');
  });

  it('a bend, beyond its scatter', () => {
    const scatter = noisy(0.01);
    const calibration = calibrated((load) => scatter(load) + (2 * load * (700 - load)) / 700 ** 2);
    const { bend, nonLinearity } = calibration.diagnostics;
    expect(bend!.probability).toBeLessThan(1e-6);
    expect(Math.abs(bend!.grams)).toBeCloseTo(0.25, 1);
    expect(Math.abs(nonLinearity.grams)).toBeGreaterThan(0.2);
    expect(codes(calibration)).toContain('bend');
    expect(codes(calibrated(noisy(0.03)))).toEqual([]);
  });

  it('creep: a reading that still moves', () => {
    const steps = weighings().map((step, i) =>
      i === 5
        ? { ...step, drift: { counts: 0.6 * countsPerGram, standardError: 0.02 * countsPerGram } }
        : step,
    );
    const calibration = calibrateScale(recordOf(steps));
    expect(calibration.diagnostics.creep).toMatchObject({ load: 700, grams: expect.closeTo(0.6, 9) });
    expect(codes(calibration)).toEqual(['creep']);
    const known = (standardError: number) =>
      weighings().map((step) => ({
        ...step,
        drift: { counts: 0.6 * countsPerGram, standardError: standardError * countsPerGram },
      }));
    expect(codes(calibrateScale(recordOf(known(0.3))))).toEqual([]);
    expect(codes(calibrateScale(recordOf(known(0.15))))).toEqual(['creep']);
  });

  it('a mass that is a little off', () => {
    const scatter = noisy(0.02);
    const odd = (load: number, _: number, on: number[]) => scatter(load) + (on.includes(100) ? 1 : 0);
    const warning = calibrated(odd).warnings.find(({ code }) => code === 'odd-mass');
    expect(warning!.sentence).toMatch(
      /the 100 g mass fits the others worst: it reads (1|0\.9\d|1\.\d) g too much/,
    );
  });

  it('a sound scale is warned about an odd mass or a bend in few of a thousand calibrations', () => {
    let alarms = 0;
    for (let seed = 1; seed <= 1000; seed += 1) {
      const found = codes(calibrated(noisy(0.03, seed)));
      alarms += found.includes('odd-mass') || found.includes('bend') ? 1 : 0;
    }
    expect(alarms).toBeLessThan(25);
  });

  it('repeatability, from weighings come to the same way', () => {
    const noise = noiseFrom(6);
    const plan = Array.from({ length: 30 }, () => [[], [200], [500]]).flat();
    const { repeatability } = calibrated((load) => load + 0.05 * noise(), plan).diagnostics;
    expect(repeatability!.degreesOfFreedom).toBe(86);
    expect(repeatability!.standard).toBeGreaterThan(0.04);
    expect(repeatability!.standard).toBeLessThan(0.06);
    expect(calibrated().diagnostics.repeatability).toBeNull();
  });
});

describe('the doubt of the slope', () => {
  it('grows with noise, with the tolerance of the masses and with what they share', () => {
    const doubt = (size: number, change: Partial<CalibrationRecord> = {}) =>
      slopeDoubt(calibrateScale({ ...recordOf(weighings(noisy(size))), ...change })).standard;
    expect(doubt(0.2)).toBeGreaterThan(2 * doubt(0.05));
    const coarse = [50, 100, 200, 500].map((each) => checkMassOfClass('M3', grams(each)));
    expect(doubt(0.02, { masses: coarse })).toBeGreaterThan(3 * doubt(0.02));
    near(doubt(0.05, { sharedDoubt: 0.002 }), Math.hypot(doubt(0.05), 0.002), 1e-9);
  });

  // Exact: one mass on the scale alone, heavy and light, is the slope; its relative doubt becomes the slope's.
  it('one mass that is nearly all of the span gives its own relative doubt', () => {
    const masses = [
      { name: '1 g', grams: grams(1), standardDoubt: grams(0) },
      { name: '500 g', grams: grams(500), standardDoubt: grams(0.25) },
    ];
    const steps = weighings(undefined, [[], [1], [500], [500], [500]]);
    const { massesOfSlope } = calibrateScale(recordOf(steps, masses));
    expect(massesOfSlope).toBeCloseTo(0.0005, 5);
  });

  it('masses that are all wrong by the same share move the slope by that share', () => {
    const { levers } = calibrated();
    const share = levers.reduce((sum, { slope }, i) => sum + slope * set[i]!.grams, 0);
    expect(share).toBeCloseTo(1, 12);
  });

  it('counts a bend where the catch is weighed, and only where one shows', () => {
    const scatter = noisy(0.01);
    const bent = calibrated((load) => scatter(load) + (2 * load * (700 - load)) / 700 ** 2);
    // The chord of 2 x (700 - x) / 700² from 0 to 100 is steeper than the whole by 2 x 600 / 700², the best line is as steep as the whole.
    expect(slopeDoubt(bent, { from: 0, to: 100 }).standard).toBeGreaterThan(0.0015);
    const chord = (from: number, to: number) => (2 * (700 - from - to)) / 700 ** 2;
    const parts = slopeDoubtParts(bent, { from: 0, to: 100 });
    expect(parts.at(-1)!.standard).toBeCloseTo(chord(0, 100) - chord(300, 400 - 1e-9), 3);
    expect(slopeDoubt(bent, { from: 0, to: 100 }).standard).toBeGreaterThan(
      2 * slopeDoubt(bent, { from: 300, to: 400 }).standard,
    );
    const straight = calibrated(noisy(0.03));
    expect(slopeDoubt(straight, { from: 0, to: 100 })).toEqual(slopeDoubt(straight));
    refused(() => slopeDoubt(straight, { from: 100, to: 100 }), 'out-of-range', 'to');
    refused(() => slopeDoubt(straight, { from: -1, to: 100 }), 'out-of-range', 'from');
  });
});

describe('a weighed load', () => {
  it('is least in doubt amid the check masses, and more so the noisier its own readings', () => {
    const calibration = calibrated(noisy(0.05));
    const doubt = (load: number, standardError = 0) =>
      weighedLoad(calibration, zero + countsPerGram * load, standardError).doubt.standard;
    expect(doubt(250)).toBeLessThan(doubt(700));
    expect(doubt(700)).toBeLessThan(doubt(3000));
    expect(doubt(250, 0.2 * countsPerGram)).toBeGreaterThan(0.2);
    const { grams: weighed, low, high } = weighedLoad(calibration, zero + countsPerGram * 86);
    expect(low).toBeLessThan(weighed);
    expect(high - weighed).toBeCloseTo(weighed - low, 12);
    expect(weighed).toBeCloseTo(86, 0);
  });

  it('refuses what is no count', () => {
    const calibration = calibrated();
    refused(() => weighedLoad(calibration, Number.NaN), 'not-a-number', 'counts');
    refused(() => weighedLoad(calibration, 0, -1), 'out-of-range', 'standardError');
    refused(() => weighedLoad(calibration, 0, 0, 1), 'out-of-range', 'confidence');
  });
});
