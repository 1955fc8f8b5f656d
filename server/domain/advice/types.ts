import type { Doubt } from '../statistics.ts';
import type { GramsPerSquareMetre, Turns } from '../units.ts';

/**
 * What goes into advice about the next setting and what comes out. All plain data. A setting is a number on the drill's own metering
 * scale ('mark'); rates are grams per square metre; relative figures are fractions of the rate; doubts are standard uncertainties.
 */

/** Where a rate comes from: weighed on the stand, weighed by hand, read off the drill's printed chart, or an earlier calibration. */
export type RateSource = 'stand' | 'hand' | 'printed chart' | 'past';

/** Who took a run out of the computation, and why. The run stays on record. */
export interface SetAside {
  /** 'you', a person's name, or 'the trace'. */
  by: string;
  /** In words that complete 'set aside because ...'. */
  why: string;
}

/** One catch test as the model sees it. */
export interface CalibrationRun {
  /** How the run is called in sentences: 'run 3'. Unique within a calibration. */
  name: string;
  /** Setting that was read off the scale. */
  setting: number;
  /** Gear, gate or notch that the drill stood in; runs made in another one than the scale's leave the model. */
  configuration: string;
  /** 0 when nothing was caught. */
  rate: GramsPerSquareMetre;
  /**
   * Relative doubt of this run alone: weighing, turns, seed sampling. Without repeatability, which the model finds itself, and without
   * what is the same in all runs (`AdviceRequest.common`).
   */
  doubt: Doubt;
  source: 'stand' | 'hand';
  turns: Turns;
  /**
   * False when the lever stood untouched since the run before, at the same setting: then both share where it really stands. True for the
   * first run and wherever in doubt.
   */
  leverMoved: boolean;
  /** Chance that the turns were counted one too many or one too few, 0 to 0.5; 0 on the stand. */
  miscountChance: number;
  setAside: SetAside | null;
}

/** The drill's metering scale. */
export interface SettingScale {
  /** Lowest and highest mark that can be set, low below high. */
  low: number;
  high: number;
  /** Distance between the marks that can be set, more than 0. */
  step: number;
  /** Mark at which the meter should be closed, below `high`; usually 0. */
  closedAt: number;
  /** Standard spread of where the lever really stands when set to a mark, in marks, 0 or more. */
  leverPlay: number;
  /** Gear, gate or notch that this scale is read in. */
  configuration: string;
  /** Names of the other gears, gates or notches that the drill has; empty when there is none. */
  otherConfigurations: readonly string[];
}

/** What is wanted. */
export interface AdviceTarget {
  /** More than 0. */
  rate: GramsPerSquareMetre;
  /** Half-width of what counts as right, as a fraction of the target, above 0 and below 1: 0.02. */
  tolerance: number;
  /** Wanted probability that the true rate is right, above 0.5 and below 1: 0.9. */
  confidence: number;
}

/** The seed in the hopper, as far as the metering feels it. */
export interface SeedCharacter {
  /** Kilograms per cubic metre, or null when unknown. */
  bulkDensity: number | null;
  /** Mass-weighted mean mass of one seed, grams, or null when unknown. */
  seedGrams: number | null;
}

/** An earlier calibration of the same drill. */
export interface PastCalibration {
  /** How it is called in sentences: 'the calibration of 3 April'. */
  name: string;
  configuration: string;
  seed: SeedCharacter;
  /** Setting, rate (more than 0) and relative doubt of its runs, those set aside left out. */
  runs: readonly { setting: number; rate: GramsPerSquareMetre; doubt: Doubt }[];
}

/** Two or three rows of the chart on the drill's own lid. */
export interface PrintedChart {
  seed: SeedCharacter;
  configuration: string;
  rows: readonly { setting: number; rate: GramsPerSquareMetre }[];
}

/** What is known before the first run. Everything may be missing. */
export interface AdvicePrior {
  past: readonly PastCalibration[];
  chart: PrintedChart | null;
  /** Relative spread from run to run beyond weighing and seed sampling to start from, above 0; the runs correct it. */
  repeatability: number;
}

/** Everything that advice rests on. */
export interface AdviceRequest {
  runs: readonly CalibrationRun[];
  scale: SettingScale;
  target: AdviceTarget;
  seed: SeedCharacter;
  prior: AdvicePrior;
  /** Relative doubt that all runs on this drill share: wheel, row spacing, slip, slope of the scale. */
  common: Doubt;
  /**
   * Relative doubt from the rows caught standing for all rows, c / sqrt(k) x sqrt(1 - k / K) with the rows' measured spread c; null when
   * the rows were never compared.
   */
  rows: number | null;
  /** Turns of a run to plan with, more than 0. */
  plannedTurns: Turns;
}

/** A value with the interval that holds it with 95 % probability. */
export interface Interval {
  value: number;
  low: number;
  high: number;
}

/** The line (or bend) through the runs. */
export interface CurveSummary {
  /** Rate at `closedAt`, g/m²: what the line says, not what the drill does there. */
  offset: Interval;
  /** Change of rate per mark about the setting sought, g/m². */
  perMark: Interval;
  /** Probability that the rate against the setting is bent rather than straight, 0 to 1. Without three settings: what was assumed. */
  bendProbability: number;
  /** True when three settings or more demand a bend (probability at least 0.9). */
  bent: boolean;
  /** Relative spread from run to run beyond weighing and seed sampling. */
  repeatability: Interval;
  /** Runs in the model. */
  runs: number;
  /** Different settings among them. */
  settings: number;
}

/** What is to be done next. */
export interface NextSetting {
  /** A mark of the scale. */
  setting: number;
  /** Leave the lever where it is, or move it. */
  leverStays: boolean;
  /** Interval of the setting for the target; ends cut to the scale (`openLow`, `openHigh`). */
  interval: Interval;
  /** The interval would reach below or above the scale. */
  openLow: boolean;
  openHigh: boolean;
  /** Rate expected there with its interval, g/m². */
  expected: Interval;
  /** Names of the runs and other rates it rests on. */
  restsOn: readonly string[];
  /** What to do, why, and from which side to set the lever. */
  sentence: string;
  reason: string;
}

/** What stands in the way of the wanted confidence, however many runs are made. */
export type StopLimit = 'noise' | 'step' | 'lever-play' | 'rows' | 'common';

/** Whether testing can end. */
export interface StopVerdict {
  done: boolean;
  /** Setting judged: where the lever stands, or, when done without another run, where to put it. Null before the first run. */
  setting: number | null;
  /** Probability that the true rate at that setting lies within tolerance. */
  probability: number;
  /** How many more runs it will probably take, 0 when done; null when no number up to `mostRuns` will do. */
  moreRuns: number | null;
  moreTurns: number | null;
  limit: StopLimit | null;
  /** Not done, but more runs would hardly raise the probability: end here, and change what `limit` names. */
  asGoodAsItGets: boolean;
  sentence: string;
  /** Why a run on the target is not yet enough; null unless the newest run hit and testing must go on. */
  luckyHit: string | null;
}

/** How the rate at a mark is known. */
export type MarkKnowledge = 'measured' | 'inferred' | 'out of range';

/** A line of the setting chart. */
export interface ChartRow {
  setting: number;
  /** Rate with its 95 % interval, the lever set anew, g/m². */
  rate: Interval;
  known: MarkKnowledge;
  /** The same in words. */
  words: string;
}

/** A line of the chart read the other way: the setting for a round rate. Setting null where the scale does not reach. */
export interface RoundRateRow {
  rate: GramsPerSquareMetre;
  setting: number | null;
  interval: Interval | null;
  known: MarkKnowledge;
  words: string;
}

/** A run that is on record but not in the model. */
export interface LeftOut {
  name: string;
  why: string;
}

/** What is odd about the runs, or stands in the way. */
export type FindingCode =
  | 'no-runs'
  | 'all-set-aside'
  | 'one-run'
  | 'nothing-caught'
  | 'contradictory'
  | 'decreasing'
  | 'too-high'
  | 'too-low'
  | 'other-configuration'
  | 'rows-not-compared'
  | 'bent'
  | 'miscounted';

/** Something odd about the runs that the advice rests on. */
export interface Finding {
  code: FindingCode;
  /** Runs it is about. */
  runs: readonly string[];
  /** What happened, what it means, what to do. */
  sentence: string;
}

/** A figure and what it was computed from. */
export interface Explained {
  /** A sentence or a noun phrase, without the figure's unit. */
  what: string;
  value: number | null;
  unit: 'g/m²' | 'mark' | 'g/m² per mark' | 'fraction' | 'runs' | 'turns' | null;
  interval: { low: number; high: number } | null;
  from: readonly Explained[];
}

/** The whole advice. */
export interface Advice {
  /** `start`: nothing to go by yet; `out-of-reach`: the scale does not hold the target. */
  state: 'start' | 'go-on' | 'done' | 'out-of-reach';
  curve: CurveSummary | null;
  next: NextSetting | null;
  stop: StopVerdict;
  chart: readonly ChartRow[];
  leftOut: readonly LeftOut[];
  findings: readonly Finding[];
  explanation: Explained;
}
