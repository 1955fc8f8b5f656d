import { describe, expect, it } from 'vitest';
import { createDrill } from '../../firmware-sim/drill/drill.ts';
import { type Scenario, settingCurve } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { motorOff, motorOn } from './runs.ts';

const still: Scenario = {
  ...oneRow,
  meter: { ...oneRow.meter, leverPlayMarks: 0, repeatability: 0, packing: 0 },
};

describe('setting the lever', () => {
  it('changes what a turn gives from then on, in truth and in the bag', () => {
    const drill = createDrill(still, 1);
    drill.advance(0, motorOff);
    drill.advance(10, motorOn);
    drill.advance(20, motorOff);
    const before = { turns: drill.truth.turns(), grams: drill.truth.gramsMetered() };
    const rateBefore = drill.truth.rateGramsPerSquareMetre;
    drill.setLever(2 * still.meter.setting);
    drill.advance(30, motorOn);
    drill.advance(40, motorOff);
    const turned = drill.truth.turns() - before.turns;
    const perTurn = settingCurve(still.meter, 2 * still.meter.setting);
    expect((drill.truth.gramsMetered() - before.grams) / turned).toBeCloseTo(perTurn, 1);
    expect(drill.truth.gramsPerTurn).toBeCloseTo(perTurn, 9);
    expect(drill.truth.rateGramsPerSquareMetre / rateBefore).toBeCloseTo(
      perTurn / settingCurve(still.meter, still.meter.setting),
      9,
    );
  });

  it('has its own play and run factor each time, even to the same mark', () => {
    const drill = createDrill(oneRow, 1);
    const factors = Array.from({ length: 400 }, () => {
      drill.setLever(32);
      return drill.truth.runFactor;
    });
    const mean = factors.reduce((sum, factor) => sum + factor, 0) / factors.length;
    const spread = Math.sqrt(
      factors.reduce((sum, factor) => sum + (factor - mean) ** 2, 0) / (factors.length - 1),
    );
    expect(Math.abs(mean - 1)).toBeLessThan((4 * oneRow.meter.repeatability) / 20);
    expect(spread / oneRow.meter.repeatability).toBeGreaterThan(0.85);
    expect(spread / oneRow.meter.repeatability).toBeLessThan(1.15);
  });

  it('takes no mark that does not exist', () => {
    const drill = createDrill(oneRow, 1);
    for (const mark of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => drill.setLever(mark)).toThrow(RangeError);
    }
  });
});
