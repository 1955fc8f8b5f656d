import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  circumferenceFromDiameter,
  countedCircumference,
  rolledCircumference,
  slipFromCircumferences,
  tapedCircumference,
} from '../../server/domain/circumference.ts';
import { testArea } from '../../server/domain/geometry.ts';
import { metres, turns } from '../../server/domain/units.ts';
import { uniformsFrom } from './draws.ts';
import { between, near, refused } from './lots.ts';

const close = metres(0.005);
const several = fc.array(between(2.2, 2.4).map(metres), { minLength: 1, maxLength: 10 });

describe('the circumference, by the way it was found', () => {
  it('one tape: its reading and the squash of the tyre make the doubt', () => {
    const found = tapedCircumference([metres(2.4)], close);
    expect(found.circumference).toBe(2.4);
    near(found.doubt.standard, Math.hypot(0.005, 0.048) / Math.sqrt(3));
    expect(found.doubt.degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
    expect(found.holdsSlip).toBe(false);
    near(tapedCircumference([metres(2.4)], close, 0).doubt.standard, 0.005 / Math.sqrt(3));
  });

  it('several tapes: their spread counts, with few degrees of freedom', () => {
    const found = tapedCircumference([2.38, 2.4, 2.42].map(metres), metres(0.001), 0);
    near(found.circumference, 2.4);
    near(found.doubt.standard, 0.02 / Math.sqrt(3));
    expect(found.doubt.degreesOfFreedom).toBe(2);
  });

  it('readings that agree by rounding do not make the tape exact', () => {
    const found = tapedCircumference([2.4, 2.4, 2.4, 2.4].map(metres), close, 0);
    near(found.doubt.standard, 0.005 / Math.sqrt(3) / 2);
  });

  it('the order of the readings does not matter, and more looseness never makes less doubt', () => {
    fc.assert(
      fc.property(several, between(0, 0.1), (readings, loose) => {
        const found = tapedCircumference(readings, metres(loose));
        near(tapedCircumference(readings.toReversed(), metres(loose)).circumference, found.circumference);
        expect(tapedCircumference(readings, metres(loose + 0.1)).doubt.standard).toBeGreaterThanOrEqual(
          found.doubt.standard,
        );
      }),
    );
  });

  it('a longer roll-out knows more: twice the turns, half the doubt of the marks', () => {
    const short = rolledCircumference([metres(24)], turns(10), metres(0.02));
    const long = rolledCircumference([metres(48)], turns(20), metres(0.02));
    near(short.circumference, 2.4);
    near(long.circumference, 2.4);
    near(long.doubt.standard, short.doubt.standard / 2);
    near(short.doubt.standard, (Math.SQRT2 * 0.02) / Math.sqrt(3) / 10);
  });

  it('counted in the field it holds the slip, and stands for the same ground', () => {
    const slip = 0.05;
    const counted = countedCircumference(metres(2.4 / (1 - slip)), [turns(1)], 0);
    const field = { rowSpacing: metres(0.19), rowsCaught: 2 };
    near(
      testArea({ ...field, circumference: counted.circumference, slip: 0 }, turns(20)),
      testArea({ ...field, circumference: metres(2.4), slip }, turns(20)),
    );
    expect(counted.holdsSlip).toBe(true);
  });

  it('pi times the diameter', () => {
    near(circumferenceFromDiameter(metres(0.8)), 2.5132741228718345);
  });
});

describe('slip from two circumferences', () => {
  const rolled = rolledCircumference([metres(24)], turns(10), metres(0.02));

  it('is what the wheel does not roll', () => {
    fc.assert(
      fc.property(between(0, 0.3), (slip) => {
        const counted = countedCircumference(metres(100), [turns((100 / 2.4) * (1 - slip))], 0.25);
        expect(slipFromCircumferences(rolled, counted).slip).toBeCloseTo(slip, 10);
      }),
    );
  });

  it('its doubt is that of both together', () => {
    const counted = countedCircumference(metres(100), [turns(40)], 0.25);
    const { slip, doubt } = slipFromCircumferences(rolled, counted);
    near(slip, 0.04, 1e-9);
    const relative = Math.hypot(rolled.doubt.standard / 2.4, counted.doubt.standard / 2.5);
    near(doubt.standard, 0.96 * relative, 1e-9);
  });

  it('a little below nothing is nothing, much below is refused', () => {
    const slightly = countedCircumference(metres(100), [turns(41.75)], 0.25);
    expect(slipFromCircumferences(rolled, slightly).slip).toBe(0);
    const far = countedCircumference(metres(100), [turns(50)], 0.25);
    refused(() => slipFromCircumferences(rolled, far), 'inconsistent', 'rolled');
    refused(() => slipFromCircumferences(rolled, rolled), 'inconsistent', 'counted');
  });

  it('the stated doubt is what repeated work scatters by', () => {
    const uniform = uniformsFrom(20261125);
    const anyway = (half: number) => (2 * uniform() - 1) * half;
    const found = Array.from({ length: 4000 }, () => {
      const marks = 24 + anyway(0.02) + anyway(0.02);
      const count = (100 / 2.4) * 0.95 + anyway(0.25);
      return slipFromCircumferences(
        rolledCircumference([metres(marks)], turns(10), metres(0.02)),
        countedCircumference(metres(100), [turns(count)], 0.25),
      );
    });
    const mean = found.reduce((sum, { slip }) => sum + slip, 0) / found.length;
    const spread = Math.sqrt(found.reduce((sum, { slip }) => sum + (slip - mean) ** 2, 0) / found.length);
    expect(mean).toBeCloseTo(0.05, 3);
    expect(spread / found[0]!.doubt.standard).toBeGreaterThan(0.95);
    expect(spread / found[0]!.doubt.standard).toBeLessThan(1.05);
  });
});

describe('what no wheel is', () => {
  it('is refused by name', () => {
    refused(() => tapedCircumference([], close), 'too-few', 'readings');
    refused(() => tapedCircumference([metres(2400)], close), 'out-of-range', 'readings');
    refused(() => tapedCircumference([metres(2.4)], metres(-1)), 'out-of-range', 'within');
    refused(() => tapedCircumference([metres(2.4)], close, 2), 'out-of-range', 'squash');
    refused(() => rolledCircumference([], turns(10), close), 'too-few', 'distances');
    refused(() => rolledCircumference([metres(24)], turns(0), close), 'out-of-range', 'turns');
    refused(() => rolledCircumference([metres(0)], turns(10), close), 'out-of-range', 'distances');
    refused(() => countedCircumference(metres(100), [], 0.25), 'too-few', 'counts');
    refused(() => countedCircumference(metres(0), [turns(40)], 0.25), 'out-of-range', 'distance');
    refused(() => countedCircumference(metres(100), [turns(40)], Number.NaN), 'not-a-number', 'within');
    refused(() => circumferenceFromDiameter(metres(0)), 'out-of-range', 'diameter');
  });
});
