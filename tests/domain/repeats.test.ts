import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pooledRepeatability, repeatsNeeded, repeatsOverDays } from '../../server/domain/repeatability.ts';
import { type RepeatedRun, summarizeRepeats } from '../../server/domain/repeats.ts';
import { halfWidth } from '../../server/domain/statistics.ts';
import type { BudgetPart, BudgetPartName } from '../../server/domain/uncertainty.ts';
import { gramsPerSquareMetre } from '../../server/domain/units.ts';
import { between, near, refused } from './lots.ts';

const endless = Number.POSITIVE_INFINITY;
const part = (name: BudgetPartName, relative: number, common = false): BudgetPart => ({
  part: name,
  relative,
  degreesOfFreedom: endless,
  common,
});

/** A run with 1 % of chance in it and 2 % that all runs share. */
function run(rate: number, name = 'run 1', chance = 0.01, shared = 0.02): RepeatedRun {
  const parts = [
    part('seed-sampling', chance),
    part('repeatability', 0.03),
    part('circumference', shared, true),
  ];
  return { name, rate: gramsPerSquareMetre(rate), parts };
}
const runsAt = (...rates: number[]) => rates.map((rate, index) => run(rate, `run ${index + 1}`));
const rates = fc.array(
  fc.integer({ min: 500, max: 2000 }).map((hundredths) => hundredths / 100),
  { minLength: 2, maxLength: 8 },
);

describe('repeated runs', () => {
  it('three runs: mean, spread and both doubts as by hand', () => {
    const { mean, spread, runToRun, common, interval, forComparing } = summarizeRepeats(
      runsAt(9.9, 10, 10.1),
    );
    near(mean, 10);
    near(spread!, 0.01, 1e-10);
    near(runToRun.standard, 0.01 / Math.sqrt(3), 1e-10);
    expect(runToRun.degreesOfFreedom).toBe(2);
    near(common.standard, 0.02);
    near(interval.standardDoubt, 10 * Math.hypot(0.02, 0.01 / Math.sqrt(3)), 1e-10);
    near(forComparing.high - mean, 10 * halfWidth(runToRun, 0.95), 1e-9);
    expect(interval.high).toBeGreaterThan(forComparing.high);
  });

  it('do not depend on their order, and follow a scale', () => {
    fc.assert(
      fc.property(rates, between(0.2, 5), (list, by) => {
        const there = summarizeRepeats(runsAt(...list));
        const back = summarizeRepeats(runsAt(...list.map((rate) => by * rate).reverse()));
        near(back.mean, by * there.mean, 1e-9);
        near(back.interval.high, by * there.interval.high, 1e-6);
        expect(back.repeatability!.standard).toBeCloseTo(there.repeatability!.standard, 6);
      }),
    );
  });

  it('what they share stays however many there are; the rest shrinks', () => {
    const few = summarizeRepeats(runsAt(9.8, 10.2));
    const many = summarizeRepeats(runsAt(9.8, 10.2, 9.8, 10.2, 9.8, 10.2, 9.8, 10.2));
    near(many.common.standard, few.common.standard);
    expect(many.runToRun.standard).toBeLessThan(few.runToRun.standard / 2);
    expect(many.interval.high - many.mean).toBeLessThan(few.interval.high - few.mean);
  });

  it('the interval widens with every doubt and with confidence', () => {
    fc.assert(
      fc.property(rates, between(0, 0.05), between(0, 0.05), (list, shared, more) => {
        const width = (doubt: number, confidence: number) => {
          const runs = list.map((rate) => run(rate, 'a run', 0.01, doubt));
          const { interval, forComparing } = summarizeRepeats(runs, { prior: null, confidence });
          expect(interval.high).toBeGreaterThanOrEqual(forComparing.high * (1 - 1e-12));
          return interval.high - interval.gramsPerSquareMetre;
        };
        expect(width(shared + more, 0.95)).toBeGreaterThanOrEqual(width(shared, 0.95) * (1 - 1e-9));
        expect(width(shared, 0.99)).toBeGreaterThanOrEqual(width(shared, 0.95) * (1 - 1e-9));
      }),
    );
  });

  it('a single run has the doubt of its own budget', () => {
    const { spread, verdict, repeatability, ofOne, sentence } = summarizeRepeats([run(10)]);
    expect([spread, verdict, repeatability]).toEqual([null, null, null]);
    near(ofOne.standard, Math.hypot(0.01, 0.03));
    expect(ofOne.degreesOfFreedom).toBe(endless);
    expect(sentence).toMatch(/^One run\. The rate is known to .* %.*\.$/);
  });

  it('what the drill did before steadies two runs', () => {
    const two = runsAt(9.99, 10.01);
    const alone = summarizeRepeats(two);
    const informed = summarizeRepeats(two, {
      prior: { standard: 0.03, degreesOfFreedom: 9 },
      confidence: 0.95,
    });
    // Two alike by luck say 0.14 % alone; pooled with nine degrees of 3 % (and 1 % of chance) they say 3 %.
    near(alone.ofOne.standard, 0.002 / Math.SQRT2, 1e-9);
    near(informed.ofOne.standard, Math.sqrt((9 * (0.03 ** 2 + 0.01 ** 2) + 0.002 ** 2 / 2) / 10), 1e-9);
    expect(informed.ofOne.degreesOfFreedom).toBe(10);
    const sure = summarizeRepeats(two, {
      prior: { standard: 0.03, degreesOfFreedom: endless },
      confidence: 0.95,
    });
    near(sure.ofOne.standard, Math.hypot(0.03, 0.01));
  });

  it('says whether the spread is more than chance', () => {
    const calm = summarizeRepeats(runsAt(9.95, 10, 10.05, 10));
    expect(calm.verdict!.beyondChance).toBe(false);
    expect(calm.repeatability!.standard).toBe(0);
    expect(calm.sentence).toContain('no more than weighing and seed sampling explain');
    const wild = summarizeRepeats(runsAt(9, 10, 11, 10));
    expect(wild.verdict!.beyondChance).toBe(true);
    near(wild.repeatability!.standard ** 2, wild.spread! ** 2 - 0.01 ** 2, 1e-6);
    expect(wild.sentence).toContain('the metering itself does not repeat better');
    const untold = [9, 11].map((rate) => ({ ...run(rate), parts: [part('slip', 0.02, true)] }));
    expect(summarizeRepeats(untold).verdict).toBeNull();
  });

  it('offers an outlier and keeps it in the mean', () => {
    const { outlier, mean } = summarizeRepeats(runsAt(10, 10.1, 9.9, 10.05, 13));
    expect(outlier).toMatchObject({ index: 4, name: 'run 5' });
    expect(outlier!.sentence).toMatch(/^Run 5 gave 29\.\d % more than the others.*set it aside.*\.$/);
    near(mean, (10 + 10.1 + 9.9 + 10.05 + 13) / 5);
    expect(summarizeRepeats(runsAt(10, 10.1, 9.9, 10.05)).outlier).toBeNull();
  });

  it('a difference of a scale’s step is no outlier, however alike the others', () => {
    expect(summarizeRepeats(runsAt(10, 10, 10, 10.03)).outlier).toBeNull();
  });

  it('refuse what cannot be', () => {
    refused(() => summarizeRepeats([]), 'too-few', 'runs');
    refused(() => summarizeRepeats(runsAt(10, 0)), 'out-of-range', 'rate');
    refused(() => summarizeRepeats(runsAt(10, -1)), 'out-of-range', 'rate');
    const nothing = { ...run(10), rate: Number.NaN as never };
    refused(() => summarizeRepeats([nothing]), 'not-a-number', 'runs');
    refused(() => summarizeRepeats(runsAt(10), { prior: null, confidence: 1 }), 'out-of-range', 'confidence');
    const prior = (standard: number, degreesOfFreedom: number) => ({
      prior: { standard, degreesOfFreedom },
      confidence: 0.95,
    });
    refused(() => summarizeRepeats(runsAt(10), prior(-0.1, 3)), 'out-of-range', 'prior');
    refused(() => summarizeRepeats(runsAt(10), prior(0.1, 0)), 'out-of-range', 'prior');
  });
});

describe('repeatability over settings', () => {
  it('pools what each setting shows about its own mean', () => {
    const low = runsAt(4.9, 5.1);
    const high = runsAt(19, 20, 21);
    const { spread, prior, beyond } = pooledRepeatability([low, high, runsAt(10)]);
    near(spread.standard, Math.sqrt((2 * 0.02 ** 2 + 2 * 0.05 ** 2) / 3), 1e-9);
    expect(spread.degreesOfFreedom).toBe(3);
    near(beyond.standard, Math.sqrt(spread.standard ** 2 - 0.01 ** 2), 1e-6);
    expect(prior).toEqual({ standard: beyond.standard, degreesOfFreedom: 3 });
  });

  it('refuses settings run once only', () => {
    refused(() => pooledRepeatability([runsAt(5), runsAt(10)]), 'too-few', 'settings');
    refused(() => pooledRepeatability([]), 'too-few', 'settings');
    refused(() => pooledRepeatability([runsAt(5, 6), []]), 'too-few', 'runs');
  });
});

describe('how many runs', () => {
  const known = (standard: number) => ({ standard, degreesOfFreedom: endless });
  const nothing = known(0);

  it('are just enough', () => {
    fc.assert(
      fc.property(between(0.005, 0.1), between(0, 0.01), between(0.025, 0.2), (one, common, tolerance) => {
        const { runs } = repeatsNeeded(known(one), known(common), tolerance);
        if (runs === null) return;
        const half = (count: number) => 1.959964 * Math.hypot(one / Math.sqrt(count), common);
        expect(half(runs)).toBeLessThanOrEqual(tolerance * (1 + 1e-6));
        if (runs > 1) expect(half(runs - 1)).toBeGreaterThan(tolerance * (1 - 1e-6));
      }),
    );
  });

  it('are more where the spread is known from few', () => {
    expect(repeatsNeeded(known(0.03), nothing, 0.03).runs).toBe(4);
    // t at five degrees of freedom: 2.57 x 3 % / sqrt(7) = 2.9 %.
    expect(repeatsNeeded({ standard: 0.03, degreesOfFreedom: 2 }, nothing, 0.03).runs).toBe(7);
    expect(repeatsNeeded(nothing, nothing, 0.03)).toMatchObject({ runs: 1 });
  });

  it('are never enough against what all runs share, and the sentence says what to do', () => {
    const never = repeatsNeeded(known(0.01), known(0.02), 0.03);
    expect(never.runs).toBeNull();
    expect(never.sentence).toMatch(/^No number of runs .*Measure the wheel's way in the field/);
    expect(repeatsNeeded(known(0.5), nothing, 0.01).sentence).toMatch(/^More than 100 runs .*turn longer/);
    expect(repeatsNeeded(known(0.01), nothing, 0.03).sentence).toBe(
      'One run is enough to know the rate to 3 % either way.',
    );
  });

  it('refuse what cannot be', () => {
    refused(() => repeatsNeeded(known(-1), nothing, 0.03), 'out-of-range', 'one');
    refused(() => repeatsNeeded(nothing, known(Number.NaN), 0.03), 'not-a-number', 'common');
    refused(() => repeatsNeeded(nothing, nothing, 0), 'out-of-range', 'tolerance');
    refused(() => repeatsNeeded(nothing, nothing, 0.03, 1), 'out-of-range', 'confidence');
  });
});

describe('days', () => {
  it('that are alike and days that are not', () => {
    const alike = repeatsOverDays([runsAt(9.9, 10, 10.1), runsAt(10, 10.1, 9.9)]);
    expect(alike).toMatchObject({ daysDiffer: false, dayToDay: 0 });
    near(alike.withinDay, 0.01, 1e-9);
    const apart = repeatsOverDays([runsAt(9.9, 10, 10.1), runsAt(10.9, 11, 11.1)]);
    expect(apart.daysDiffer).toBe(true);
    near(apart.dayToDay, Math.sqrt(0.5 - 0.01 / 3) / 10.5, 1e-9);
    near(apart.ofMean.standard, 0.5 / 10.5, 1e-9);
    expect(apart.ofMean.degreesOfFreedom).toBe(1);
    expect(apart.sentence).toContain('test again on the day of seeding');
    refused(() => repeatsOverDays([runsAt(9.9, 10)]), 'too-few', 'groups');
  });
});
