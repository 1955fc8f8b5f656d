import type { Fault } from './faults.ts';
import type { SerialLine } from './line.ts';
import { randomStreams } from './random.ts';

/**
 * A scenario says what is true of an imagined drill, stand and seed lot, and beside it what its user believes. Plain data: it
 * can be written as JSON. Grams, metres, seconds, turns of the drive wheel; `Spread` and `Doubt` are standard deviations.
 */
export interface Scenario {
  name: string;
  stated: Stated;
  geometry: Geometry;
  meter: Meter;
  /** The seed in the hopper; mass shares sum to 1. */
  mix: Species[];
  /** Null: never empty, always mixed, its level without effect. */
  hopper: Hopper | null;
  fall: Fall;
  bag: Bag;
  vibration: Vibration;
  converter: Converter;
  wheel: WheelSensor;
  drive: Drive;
  /** Load cells, 1 to 6, each with its own bag. */
  cells: number;
  rowsPerCell: number;
  /** Relative spread of the rows' own delivery about their common mean. */
  rowSpread: number;
  faults: Fault[];
  /** A sound one where it is left out. */
  line?: SerialLine;
}

/** What the user measured or read off a label, and how sure of it they are. */
export interface Stated {
  drillName: string;
  seedName: string;
  rowSpacingMetres: number;
  rowSpacingDoubtMetres: number;
  circumferenceMetres: number;
  circumferenceDoubtMetres: number;
  slip: number;
  slipDoubt: number;
  /** Mass-weighted mean mass of one seed: sum of mass share x thousand-seed weight / 1000. */
  seedMassGrams: number;
  /** Relative spread from run to run at one setting, beyond the sampling of seeds. */
  repeatability: number;
  gramsPerCount: number;
  /** Relative doubt of `gramsPerCount`. */
  gramsPerCountDoubt: number;
  zeroCount: number;
  targetGramsPerSquareMetre: number;
  /** Half-width of what counts as right, as a fraction of the target. */
  tolerance: number;
  turns: number;
  pulsesPerTurn: number;
  debounceMicros: number;
}

export interface Geometry {
  rowSpacingMetres: number;
  circumferenceMetres: number;
  /** Fraction of the ground travel that the wheel does not roll. */
  slip: number;
}

/** Grams per turn and row = offset + perMark x setting + bend x setting². */
export interface Meter {
  setting: number;
  offsetGrams: number;
  gramsPerMark: number;
  bendGramsPerMarkSquared: number;
  /** Spread of where the lever really stands when it is set, in marks. */
  leverPlayMarks: number;
  /** Relative spread of the delivery from run to run. */
  repeatability: number;
  flutesPerTurn: number;
  /** Depth of the pulsation that each flute gives, 0 (even) to 1 (stops between flutes). */
  pulsationDepth: number;
  /** Variance of the catch as a fraction of what independently arriving seeds would give, 0 to 1. */
  packing: number;
  /** Relative change of the grams per turn for each turn per minute above `referenceTurnsPerMinute`. */
  speedEffect: number;
  referenceTurnsPerMinute: number;
}

export interface Species {
  name: string;
  massShare: number;
  thousandSeedGrams: number;
  /** Relative spread of single seed masses (log-normal). */
  massCv: number;
  /** Relative change of its share for each kilogram that has left the hopper, at first; the mix separates. */
  driftPerKilogram?: number;
}

export interface Hopper {
  grams: number;
  /** Relative loss of delivery from the hopper as filled to an almost empty one. */
  headEffect: number;
  /** When so little is left the meter begins to starve. */
  starvesBelowGrams: number;
}

/** From the meter down the tube into the bag. */
export interface Fall {
  seconds: number;
  spreadSeconds: number;
  /** Downward speed at which seeds reach the bag; their momentum shows on the scale while they fall. */
  impactMetresPerSecond: number;
}

/** Bag and cell as a mass on a damped spring. */
export interface Bag {
  emptyGrams: number;
  hertz: number;
  /** Above 0 and below 1. */
  dampingRatio: number;
}

/** What the turning wheel shakes into the cell, at the drive's rated speed; proportional to speed below it. Grams RMS. */
export interface Vibration {
  whiteGrams: number;
  swingGrams: number;
  swingHertz: number;
  swingDampingRatio: number;
  /** Amplitude of a swing once per turn (an unbalanced wheel rocks the frame). */
  oncePerTurnGrams: number;
}

export interface Converter {
  hertz: number;
  /** Relative spread of the converters' own clocks. */
  clockSpread: number;
  countsPerGram: number;
  zeroCount: number;
  noiseCounts: number;
  /** Spread of a steady drift, drawn once a run for each cell. */
  driftGramsPerMinute: number;
  /** Spread that a random walk reaches after one minute. */
  walkGramsPerRootMinute: number;
  /** Fraction of a load by which the cell goes on yielding, and the time constant it takes. */
  creep: number;
  creepSeconds: number;
  humCounts: number;
  humHertz: number;
}

export interface WheelSensor {
  pulsesPerTurn: number;
  /** Spread of where the magnets sit about even spacing, in pulses; none if left out. */
  placementSpread?: number;
  /** Fraction of a pulse during which line A is high, above 0.25 and below 0.75. */
  duty: number;
  /** Longest time for which line A chatters after a change, 0 for a clean sensor. */
  bounceSeconds: number;
  /** Line B, a quarter of a pulse behind A when the wheel turns forwards; without it B stays low. */
  directionSensor: boolean;
}

export interface Drive {
  turnsPerMinute: number;
  /** Time constant of the motor's run-up. */
  spinUpSeconds: number;
  /** Turns that the wheel coasts from rated speed once the motor is off, and their spread from run to run. */
  coastTurns: number;
  coastTurnsSpread: number;
  /** Relative spread of a slow wander of the motor's speed, and its time constant. */
  wander: number;
  wanderSeconds: number;
  hand: HandDrive | null;
}

/** Someone turning the wheel, watching the lamp. */
export interface HandDrive {
  turnsPerMinute: number;
  /** Relative change of speed within each turn. */
  unevenness: number;
  /** When they begin, in seconds from power-up; null waits for `turnByHand()`. */
  startSeconds: number | null;
  /** From the lamp's steady light until they let the wheel slow. */
  reactionSeconds: number;
}

/** Mean mass of one seed of the mix as drawn from the hopper, grams (by number, not by mass). */
export function meanSeedGrams(mix: readonly Species[]): number {
  let seedsPerGram = 0;
  for (const species of mix) seedsPerGram += (1000 * species.massShare) / species.thousandSeedGrams;
  return 1 / seedsPerGram;
}

/**
 * Variance of a catch per gram caught when seeds arrive independently, in grams: sum of w mu (1 + cv²), which is E[mu²]/E[mu]
 * over the seeds by number. Compound Poisson process, any textbook of probability (from memory).
 */
export function lumpGrams(mix: readonly Species[]): number {
  let sum = 0;
  for (const s of mix) sum += (s.massShare * s.thousandSeedGrams * (1 + s.massCv ** 2)) / 1000;
  return sum;
}

/** Expected grams per turn and row where the lever stands at `setting`, at the reference speed. */
export function settingCurve(meter: Meter, setting: number): number {
  const grams = meter.offsetGrams + setting * (meter.gramsPerMark + setting * meter.bendGramsPerMarkSquared);
  return Math.max(0, grams);
}

/**
 * A drill as it might really be, given what its user states: true spacing, circumference, slip and scale slope are drawn about
 * the stated ones with the stated doubts. Everything else is the scenario's own (`meter.repeatability` is drawn for each run).
 * Same scenario and seed, same drill.
 */
export function drawScenario(scenario: Scenario, seed: number | string): Scenario {
  const random = randomStreams(seed)('scenario');
  const { stated } = scenario;
  const about = (value: number, doubt: number) => value + doubt * random.normal();
  const rowSpacingMetres = about(stated.rowSpacingMetres, stated.rowSpacingDoubtMetres);
  const circumferenceMetres = about(stated.circumferenceMetres, stated.circumferenceDoubtMetres);
  const slip = about(stated.slip, stated.slipDoubt);
  const gramsPerCount = stated.gramsPerCount * about(1, stated.gramsPerCountDoubt);
  return {
    ...scenario,
    geometry: { rowSpacingMetres, circumferenceMetres, slip },
    converter: { ...scenario.converter, countsPerGram: 1 / gramsPerCount },
  };
}
