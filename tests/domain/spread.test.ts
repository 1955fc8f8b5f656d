import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exceedsF, oneWay, oneWayFromSummaries } from '../../server/domain/one-way.ts';
import { standardDeviation } from '../../server/domain/sample.ts';
import {
  type DoubtedValue,
  realSpread,
  spreadAgainstChance,
  weightedMean,
} from '../../server/domain/spread.ts';
import { studentProbability } from '../../server/domain/statistics.ts';
import { between, near, refused } from './lots.ts';

/** Thousandths: doubles include numbers so small that their squares vanish, which is not the point here. */
const tame = (min: number, max: number) =>
  fc.integer({ min: 1000 * min, max: 1000 * max }).map((value) => value / 1000);

const group = fc.array(fc.record({ value: tame(-10, 10), doubt: between(0.1, 2) }), {
  minLength: 2,
  maxLength: 8,
});
const scaled = (values: DoubtedValue[], by: number) =>
  values.map(({ value, doubt }) => ({ value: by * value, doubt: by * doubt }));

describe('spread against chance', () => {
  it('does not depend on order, shift or unit', () => {
    fc.assert(
      fc.property(group, between(0.1, 10), between(-100, 100), (values, by, shift) => {
        const moved = scaled(values, by)
          .map((each) => ({ ...each, value: each.value + shift }))
          .reverse();
        expect(spreadAgainstChance([moved]).chiSquare).toBeCloseTo(
          spreadAgainstChance([values]).chiSquare,
          6,
        );
        expect(realSpread([moved]).standard).toBeCloseTo(by * realSpread([values]).standard, 5);
        expect(weightedMean(moved).mean).toBeCloseTo(by * weightedMean(values).mean + shift, 8);
      }),
    );
  });

  it('with doubts all alike is the plain variance over theirs, and what is left of it', () => {
    fc.assert(
      fc.property(fc.array(tame(-10, 10), { minLength: 2, maxLength: 9 }), between(0.1, 5), (list, doubt) => {
        const values = list.map((value) => ({ value, doubt }));
        const variance = standardDeviation(list) ** 2;
        const { chiSquare, degreesOfFreedom } = spreadAgainstChance([values]);
        expect(degreesOfFreedom).toBe(list.length - 1);
        near(chiSquare * doubt ** 2, variance * degreesOfFreedom, 1e-9);
        expect(realSpread([values]).standard ** 2).toBeCloseTo(Math.max(0, variance - doubt ** 2), 8);
      }),
    );
  });

  it('the estimate lies in its interval; larger doubts leave less; more confidence widens', () => {
    fc.assert(
      fc.property(group, between(1.1, 3), (values, more) => {
        const { standard, low, high } = realSpread([values]);
        expect(low).toBeLessThanOrEqual(standard);
        expect(standard).toBeLessThanOrEqual(high);
        const vaguer = values.map((each) => ({ ...each, doubt: each.doubt * more }));
        expect(spreadAgainstChance([vaguer]).probability).toBeGreaterThanOrEqual(
          spreadAgainstChance([values]).probability,
        );
        const wide = realSpread([values], 0.99);
        expect(wide.low).toBeLessThanOrEqual(low);
        expect(wide.high).toBeGreaterThanOrEqual(high);
      }),
    );
  });

  it('groups keep their own means: apart or together they say the same', () => {
    fc.assert(
      fc.property(group, group, between(-1e3, 1e3), (one, two, shift) => {
        const apart = [one, two.map((each) => ({ ...each, value: each.value + shift }))];
        const sums = spreadAgainstChance([one]).chiSquare + spreadAgainstChance([two]).chiSquare;
        expect(spreadAgainstChance(apart).chiSquare).toBeCloseTo(sums, 5);
        expect(spreadAgainstChance(apart).degreesOfFreedom).toBe(one.length + two.length - 2);
      }),
    );
  });

  it('a weighted mean lies within the values and is surer than each of them', () => {
    fc.assert(
      fc.property(group, between(0, 5), (values, spread) => {
        const { mean, doubt } = weightedMean(values, spread);
        const list = values.map((each) => each.value);
        expect(mean).toBeGreaterThanOrEqual(Math.min(...list) - 1e-9);
        expect(mean).toBeLessThanOrEqual(Math.max(...list) + 1e-9);
        expect(doubt).toBeLessThan(Math.min(...values.map((each) => Math.hypot(each.doubt, spread))));
        expect(weightedMean(values, spread + 0.1).doubt).toBeGreaterThan(doubt);
      }),
    );
  });

  it('refuses what cannot be', () => {
    const good = { value: 1, doubt: 1 };
    refused(() => spreadAgainstChance([]), 'too-few', 'values');
    refused(() => spreadAgainstChance([[good], [good]]), 'too-few', 'values');
    refused(() => realSpread([[good, { value: 2, doubt: 0 }]]), 'out-of-range', 'doubt');
    refused(() => realSpread([[good, { value: Number.NaN, doubt: 1 }]]), 'not-a-number', 'values');
    refused(() => realSpread([[good, good]], 1), 'out-of-range', 'confidence');
    refused(() => spreadAgainstChance([[good, good]], 0), 'out-of-range', 'significance');
    refused(() => weightedMean([]), 'too-few', 'values');
    refused(() => weightedMean([good], -1), 'out-of-range', 'between');
  });
});

describe('the analysis of variance', () => {
  const groups = fc.array(fc.array(tame(-10, 10), { minLength: 1, maxLength: 6 }), {
    minLength: 2,
    maxLength: 6,
  });

  it('splits the sum of squares, whatever the order', () => {
    fc.assert(
      fc.property(groups, (lists) => {
        if (lists.every((list) => list.length === 1)) return;
        const { between: among, within } = oneWay(lists);
        const all = lists.flat();
        const whole = standardDeviation(all) ** 2 * (all.length - 1);
        expect(among.sumOfSquares + within.sumOfSquares).toBeCloseTo(whole, 6);
        const back = oneWay(lists.map((list) => list.toReversed()).toReversed());
        expect(back.betweenSpread).toBeCloseTo(oneWay(lists).betweenSpread, 5);
      }),
    );
  });

  // Student's t of two samples, squared, is F (Abramowitz & Stegun 26.6.4).
  it('of two groups is Student’s t, squared', () => {
    fc.assert(
      fc.property(between(0.01, 30), fc.integer({ min: 1, max: 200 }), (t, below) => {
        near(exceedsF(t ** 2, 1, below), 2 * studentProbability(-t, below), 1e-10);
      }),
    );
  });

  it('sees groups that are shifted', () => {
    const even = oneWay([
      [1, 2, 3],
      [1.1, 2.1, 2.9],
    ]);
    const shifted = oneWay([
      [1, 2, 3],
      [11.1, 12.1, 12.9],
    ]);
    expect(even).toMatchObject({ betweenSpread: 0 });
    expect(even.probability).toBeGreaterThan(0.9);
    expect(shifted.probability).toBeLessThan(0.001);
    expect(shifted.betweenSpread).toBeGreaterThan(6);
    expect(
      oneWay([
        [2, 2],
        [2, 2],
      ]),
    ).toMatchObject({ f: 0, probability: 1 });
    expect(
      oneWay([
        [2, 2],
        [3, 3],
      ]).probability,
    ).toBe(0);
  });

  it('refuses what cannot be', () => {
    refused(() => oneWay([[1, 2, 3]]), 'too-few', 'groups');
    refused(() => oneWay([[1], [2]]), 'too-few', 'groups');
    refused(() => oneWay([[1, 2], []]), 'too-few', 'values');
    const summary = { count: 2, mean: 1, standardDeviation: 1 };
    refused(() => oneWayFromSummaries([summary, { ...summary, count: 0 }]), 'out-of-range', 'count');
    refused(
      () => oneWayFromSummaries([summary, { ...summary, standardDeviation: -1 }]),
      'out-of-range',
      'standardDeviation',
    );
    refused(() => exceedsF(-1, 2, 2), 'out-of-range', 'f');
    refused(() => exceedsF(1, 0, 2), 'out-of-range', 'above');
  });
});
