import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createDrill } from '../../firmware-sim/drill/drill.ts';
import { Tube } from '../../firmware-sim/drill/fall.ts';
import { hopperFactor, MeterOutlet, speedFactor } from '../../firmware-sim/drill/metering.ts';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import { lumpGrams, type Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { SeedLot } from '../../firmware-sim/drill/seeds.ts';
import { calm, motorOff, motorOn } from './runs.ts';
import { expectNear } from './statistics.ts';

const { meter, mix } = oneRow;

describe('a meter outlet', () => {
  it.each([1, 0.3, 0])(
    'gives its grams per turn to within seed chance over 40 kg, at packing %s',
    (packing) => {
      let grams = 0;
      const outlet = new MeterOutlet(
        { ...meter, packing },
        new SeedLot(mix),
        randomStreams('long'),
        0,
        0,
        (_, seed) => {
          grams += seed.grams;
        },
      );
      for (let turns = 1; turns <= 10_000; turns++) outlet.turnTo(turns, turns - 1, turns, 4);
      const chance = Math.sqrt(40_000 * lumpGrams(mix) * packing);
      // Some 0.08 % at packing 1; without chance all but the last seed has fallen.
      expectNear(grams, 40_000, 3 * chance + 0.5);
    },
  );

  it('lets seeds fall when the wheel has come to their place, and none on the way back', () => {
    const times: number[] = [];
    const outlet = new MeterOutlet(
      { ...meter, packing: 0, pulsationDepth: 0 },
      new SeedLot([{ name: 'bead', massShare: 1, thousandSeedGrams: 100, massCv: 0 }]),
      randomStreams(1),
      0,
      0,
      (seconds) => times.push(seconds),
    );
    outlet.turnTo(1, 10, 12, 1);
    outlet.turnTo(0.5, 12, 13, 1);
    outlet.turnTo(1, 13, 14, 1);
    // Ten beads of 0.1 g to the turn, evenly: one every 0.2 s.
    expect(times).toHaveLength(10);
    times.slice(1).forEach((time, i) => {
      expect(time - times[i]!).toBeCloseTo(0.2, 9);
    });
    expect(times[0]).toBeGreaterThanOrEqual(10);
    expect(times[9]).toBeLessThanOrEqual(12);
  });

  it('follows speed and hopper as stated', () => {
    expect(speedFactor({ ...meter, speedEffect: -0.002 }, 55)).toBeCloseTo(0.98, 12);
    expect(speedFactor({ ...meter, speedEffect: -0.1 }, 455)).toBe(0);
    const hopper = { grams: 1000, headEffect: 0.1, starvesBelowGrams: 50 };
    expect(hopperFactor(hopper, 0)).toBe(1);
    expect(hopperFactor(hopper, 500)).toBeCloseTo(0.95, 12);
    expect(hopperFactor(hopper, 975)).toBeCloseTo(0.5 * 0.9025, 12);
    expect(hopperFactor(hopper, 1200)).toBe(0);
  });
});

describe('the speed effect', () => {
  it('changes what a turn gives, in truth and in the bag', () => {
    const fast: Scenario = {
      ...oneRow,
      meter: { ...meter, speedEffect: -0.01, packing: 0, repeatability: 0 },
      drive: { ...oneRow.drive, turnsPerMinute: 65, wander: 0 },
    };
    const drill = createDrill(fast, 1);
    drill.advance(0, motorOff);
    drill.advance(10, motorOn);
    const [turns, grams] = [drill.truth.turns(), drill.truth.gramsMetered()];
    drill.advance(40, motorOn);
    expect(drill.truth.gramsPerTurn).toBeCloseTo(3.47 * 0.8, 9);
    expectNear((drill.truth.gramsMetered() - grams) / (drill.truth.turns() - turns), 3.47 * 0.8, 0.01);
  });
});

describe('a tube', () => {
  it('lands seeds in order of time, every one of them, none before the shortest fall', () => {
    const drops = fc.array(fc.double({ min: 0, max: 0.02, noNaN: true }), { maxLength: 400 });
    fc.assert(
      fc.property(drops, (gaps) => {
        const tube = new Tube(
          { seconds: 0.3, spreadSeconds: 0.2, impactMetresPerSecond: 0 },
          randomStreams(3)('fall'),
        );
        let at = 1;
        for (const gap of gaps) {
          at += gap;
          tube.drop(at, { species: 0, grams: 1 });
        }
        let last = 1.05;
        let landed = 0;
        for (; tube.nextLanding() < Infinity; landed++) {
          expect(tube.nextLanding()).toBeGreaterThanOrEqual(last);
          last = tube.nextLanding();
          tube.take();
        }
        expect(landed).toBe(gaps.length);
      }),
    );
  });

  it('spreads landings over time, not over the steps in which the wheel is reckoned', () => {
    const drill = createDrill({ ...calm, fall: { ...calm.fall, spreadSeconds: 0 } }, 'spread');
    drill.advance(0, motorOff);
    const counts = new Array<number>(10).fill(0);
    let before = 0;
    for (let ms = 1; ms < 20_000; ms++) {
      drill.advance(ms / 1000, motorOn);
      const caught = drill.truth.gramsCaught();
      if (caught > before) counts[ms % 10]!++;
      before = caught;
    }
    for (const count of counts) expectNear(count, counts.reduce((sum, c) => sum + c, 0) / 10, 50);
  });
});
