import type { Fault } from './faults.ts';
import type { Station } from './station.ts';
import type { WheelMotion } from './turning.ts';
import type { PulseSensor } from './wheel.ts';

/** The parts of a drill that a fault can take hold of. */
export interface DrillParts {
  readonly stations: readonly Station[];
  readonly motion: WheelMotion;
  readonly sensor: PulseSensor;
  stopPressed: boolean;
}

type Effects = {
  [Kind in Fault['kind']]: (
    parts: DrillParts,
    fault: Extract<Fault, { kind: Kind }>,
    on: boolean,
    seconds: number,
  ) => void;
};

const effects: Effects = {
  'seed-bridges': ({ stations }, _, on) => {
    for (const station of stations) station.bridged = on;
  },
  'tube-blocked': ({ stations }, { cell, share }, on) => {
    stations[cell]!.blocked = on ? share : 0;
  },
  leak: ({ stations }, { cell, gramsPerSecond }, on, seconds) => {
    stations[cell]!.leak.set(on ? gramsPerSecond : 0, seconds);
  },
  'bag-knocked': ({ stations }, { cell, grams }, on, seconds) => {
    if (on) stations[cell]!.bag.knock(seconds, grams);
  },
  'bag-leaned-on': ({ stations }, { cell, grams }, on, seconds) => {
    stations[cell]!.bag.lean(seconds, on ? grams : 0);
  },
  'bag-touches': ({ stations }, { cell, aboveGrams, share }, on) => {
    stations[cell]!.bag.touchesAbove(on ? aboveGrams : Infinity, share);
  },
  'cell-loose': ({ stations }, { cell }, on) => {
    stations[cell]!.loose = on;
  },
  'cell-stuck': ({ stations }, { cell }, on) => {
    stations[cell]!.stuck = on;
  },
  'pulses-missed': ({ sensor }, { share }, on) => {
    sensor.missedShare = on ? share : 0;
  },
  'pulses-doubled': ({ sensor }, { share, seconds }, on) => {
    sensor.doubledShare = on ? share : 0;
    sensor.doubledSeconds = seconds;
  },
  'magnet-missing': ({ sensor }, { magnet }, on) => {
    if (on) sensor.missingMagnets.add(magnet);
    else sensor.missingMagnets.delete(magnet);
  },
  'magnet-doubled': ({ sensor }, { magnet, behind }, on) => {
    if (on) sensor.doubledMagnets.set(magnet, behind);
    else sensor.doubledMagnets.delete(magnet);
  },
  'magnet-late': ({ sensor }, { magnet, by }, on) => {
    sensor.delay(magnet, on ? by : 0);
  },
  'wheel-rolls-back': ({ motion }, { turns }, on) => {
    motion.rollBackTurns = on ? turns : 0;
  },
  'wheel-jams': ({ motion }, _, on) => {
    motion.jammed = on;
  },
  'bench-shakes': ({ stations }, { grams }, on) => {
    for (const station of stations) station.shaking.benchGrams = on ? grams : 0;
  },
  'stop-pressed': (parts, _, on) => {
    parts.stopPressed = on;
  },
};

/** Has a fault come (`on`) or go at a moment. */
export function applyFault<F extends Fault>(parts: DrillParts, fault: F, on: boolean, seconds: number): void {
  const effect = effects[fault.kind] as (parts: DrillParts, fault: F, on: boolean, seconds: number) => void;
  effect(parts, fault, on, seconds);
}
