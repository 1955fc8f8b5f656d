import type { Fault } from './faults.ts';
import { soundLine } from './line.ts';
import type { Scenario } from './scenario.ts';
import { byHand, oneRow, sixRows } from './scenarios.ts';

/** One scenario for each thing that goes wrong, told as it looks on the stand. Turns are counted from power-up. */

function withFault(name: string, fault: Fault, scenario: Scenario = oneRow): Scenario {
  return { ...scenario, name, faults: [fault] };
}

const running = (grams: number, starvesBelowGrams: number, headEffect: number): Scenario['hopper'] => ({
  grams,
  headEffect,
  starvesBelowGrams,
});

export const faultScenarios: Readonly<Record<string, Scenario>> = {
  'hopper-runs-empty': { ...oneRow, name: 'the hopper runs empty', hopper: running(60, 15, 0) },
  'hopper-head': { ...oneRow, name: 'less head, less seed', hopper: running(300, 10, 0.12) },
  'mix-separates': {
    ...oneRow,
    name: 'small seed settles in the hopper',
    hopper: running(2000, 20, 0),
    mix: oneRow.mix.map((species) => ({
      ...species,
      driftPerKilogram: species.thousandSeedGrams < 10 ? -3 : 0.2,
    })),
  },
  'tube-blocks': withFault(
    'the third tube blocks for good',
    { kind: 'tube-blocked', cell: 2, share: 1, afterTurns: 10 },
    sixRows,
  ),
  'flow-stops-a-while': withFault('seed bridges over the meter for three turns', {
    kind: 'seed-bridges',
    afterTurns: 10,
    forTurns: 3,
  }),
  'seed-leaks': withFault('seed runs out though the wheel stands', {
    kind: 'leak',
    cell: 0,
    gramsPerSecond: 0.05,
    afterTurns: 0,
  }),
  'bag-knocked': withFault('someone knocks the bag', {
    kind: 'bag-knocked',
    cell: 0,
    grams: 60,
    afterTurns: 10,
  }),
  'bag-leaned-on': withFault('something comes to lie on the bag', {
    kind: 'bag-leaned-on',
    cell: 0,
    grams: 12,
    afterTurns: 10,
  }),
  'bag-touches': withFault('the full bag touches the floor', {
    kind: 'bag-touches',
    cell: 0,
    aboveGrams: 50,
    share: 0.6,
    afterTurns: 0,
  }),
  'cell-loose': withFault('a wire of the cell comes off', { kind: 'cell-loose', cell: 0, afterTurns: 10 }),
  'cell-stuck': withFault('a converter repeats itself', { kind: 'cell-stuck', cell: 0, afterTurns: 10 }),
  'pulses-missed': withFault('one pulse in ten is missed', {
    kind: 'pulses-missed',
    share: 0.1,
    afterTurns: 0,
  }),
  'pulses-doubled': withFault('one pulse in ten is seen twice', {
    kind: 'pulses-doubled',
    share: 0.1,
    seconds: 0.004,
    afterTurns: 0,
  }),
  'wheel-rolls-back': withFault('the wheel rolls back a quarter turn', {
    kind: 'wheel-rolls-back',
    turns: 0.25,
    afterTurns: 1,
  }),
  'wheel-jams': withFault('the wheel jams', { kind: 'wheel-jams', afterTurns: 10 }),
  'bench-shakes': withFault('a grinder shakes the bench', {
    kind: 'bench-shakes',
    grams: 1.5,
    afterTurns: 0,
  }),
  'stop-pressed': withFault('the stop button is pressed', {
    kind: 'stop-pressed',
    afterTurns: 10,
    forSeconds: 20,
  }),
  'line-noisy': {
    ...oneRow,
    name: 'a motor cable disturbs the serial line',
    line: { ...soundLine, lost: 0.0003, flipped: 0.0003 },
  },
  'cable-out': {
    ...oneRow,
    name: 'the cable comes off for two seconds',
    line: { ...soundLine, cableOut: { afterTurns: 10, forSeconds: 2 } },
  },
  'board-resets': {
    ...oneRow,
    name: 'the board loses its supply for a moment',
    line: { ...soundLine, boardReset: { afterTurns: 10 } },
  },
  'uneven-hand': {
    ...byHand,
    name: 'turned by hand, very unevenly',
    drive: { ...byHand.drive, wander: 0.15, hand: { ...byHand.drive.hand!, unevenness: 0.5 } },
  },
};
