/** What the trace of a run can show to be wrong, or worth knowing, with the evidence for it. */

export const findingKinds = [
  'flow-stopped', // the wheel turns and nothing falls into any bag: hopper empty, seed bridged over the meter, the one tube blocked
  'tube-blocked', // one of several bags gets nothing, or much less than the others
  'leak', // seed falls though the wheel stands
  'bag-knocked', // the reading swings about and comes back
  'bag-leaned-on', // the reading steps up or down and stays there
  'bag-touching', // from some catch on the scale shows less than falls: something bears part of the bag
  'flow-drifts', // the catch per turn creeps up or down over the run: hopper head, a mix that separates
  'cell-dead', // a load cell gives no value, or always the same
  'scale-noisy', // the scale shakes too much to judge the run by
  'pulse-per-turn', // the flow swells once a turn of the wheel
  'pulse-per-flute', // and once for each flute or cell of the meter
  'pulses-missed', // the wheel sensor misses pulses
  'pulses-doubled', // or sees some twice
  'wheel-reversed', // the wheel rolled back
  'clock-trouble', // the board's time does not fit its own readings
] as const;
/** The name of one thing that a trace can show. */
export type FindingKind = (typeof findingKinds)[number];

/** When something was: turns of the wheel since the start, and board seconds since the start. */
export interface Instant {
  turns: number;
  seconds: number;
}

/** One line or set of dots of a small picture; same number of x and y, at most 64. */
export interface EvidenceSeries {
  role: 'seen' | 'expected' | 'limit';
  x: number[];
  y: number[];
}

/** Data for a small picture that shows why. */
export interface Evidence {
  x: 'turns' | 'seconds' | 'cycles-per-turn' | 'pulse-in-turn';
  y:
    | 'turns'
    | 'grams'
    | 'grams-per-turn'
    | 'grams-per-second'
    | 'share-of-usual'
    | 'milliseconds'
    | 'strength';
  series: EvidenceSeries[];
}

/** Something that the trace of a run shows, with its evidence. */
export interface Finding {
  kind: FindingKind;
  /** Bag or load cell it concerns, from 0; null where it concerns the whole. */
  cell: number | null;
  from: Instant;
  /** Null while it goes on. */
  until: Instant | null;
  /** Probability that this is no chance, as far as the readings tell: 0.5 to 1. */
  sure: number;
  /** Whether the run's rate is not to be trusted with it. */
  spoils: boolean;
  evidence: Evidence;
  /** What was seen and what to look at, for a mechanic. */
  sentence: string;
}
