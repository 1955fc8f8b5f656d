import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import type { WheelEdge } from '../../firmware-sim/world.ts';

export const motorOn = { motor: true, lamp: false };
export const motorOff = { motor: false, lamp: false };

/** The preset without anything that makes readings uncertain: no noise, drift, shaking, clock spread or chatter. */
export const calm: Scenario = {
  ...oneRow,
  name: 'calm',
  vibration: { ...oneRow.vibration, whiteGrams: 0, swingGrams: 0, oncePerTurnGrams: 0 },
  converter: {
    ...oneRow.converter,
    clockSpread: 0,
    noiseCounts: 0,
    driftGramsPerMinute: 0,
    walkGramsPerRootMinute: 0,
    creep: 0,
    humCounts: 0,
  },
  wheel: { ...oneRow.wheel, bounceSeconds: 0 },
};

/** Turns the wheel by motor for `seconds`, lets everything come to rest, and gives the drill. */
export function turnFor(scenario: Scenario, seed: number | string, seconds: number): Drill {
  const drill = createDrill(scenario, seed);
  drill.advance(0, motorOff);
  drill.advance(seconds, motorOn);
  drill.advance(seconds + 10, motorOff);
  return drill;
}

/** All edges of a wheel turned for `seconds` and left to come to rest, in order. */
export function edgesOf(scenario: Scenario, seed: number | string, seconds: number): WheelEdge[] {
  const drill = createDrill(scenario, seed);
  return [
    ...drill.advance(0, motorOff),
    ...drill.advance(seconds, motorOn),
    ...drill.advance(seconds + 10, motorOff),
  ];
}
