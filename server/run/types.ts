import type { TargetUnit } from '../domain/target-units.ts';
import type { Finding } from '../domain/trace/finding.ts';
import type { VerdictKind } from '../domain/verdict.ts';
import type { CellScale, EndReason, Reading } from '../link/readings.ts';

/**
 * A run as data: what it was asked to do, what goes in, what state it is in, what comes out. The reducer in `reduce.ts` is a pure
 * function of these; the journal of inputs is enough to compute any run again.
 */

/** All that a run needs to know, fixed when it is armed. SI units; doubts are standard uncertainties (one sigma). */
export interface RunPlan {
  drill: {
    name: string;
    /** The drill's own setting as the user writes it, for the record. */
    setting: string;
    rowSpacingMetres: number;
    rowSpacingDoubtMetres: number;
    circumferenceMetres: number;
    circumferenceDoubtMetres: number;
    /** Fraction of the ground travel that the wheel does not roll, 0 to below 1. */
    slip: number;
    slipDoubt: number;
    /** Rows of the whole drill, where someone has counted them. */
    rowCount?: number | null;
    /** The setting scale: for the advice; a run by itself has no use for it. */
    scale?: PlannedScale | null;
    /** Turns of the shaft that carries the sensor for one turn of the drive wheel; 1 where it is left out. */
    shaftRatio?: number | null;
    /** What row spacing and circumference came from, for the record. */
    rowSpacingFrom?: { withinRankMetres: number; ranks: number } | null;
    circumferenceFrom?: MeasuredCircumference | null;
  };
  /** Rows whose seed falls into the bag(s), 1 or more. */
  rowsCaught: number;
  seed: {
    name: string;
    /** Mass-weighted mean mass of one seed of the mix, grams: sum of share x thousand-seed weight / 1000. */
    seedMassGrams: number;
    /** Relative standard deviation from run to run at one setting, beyond seed sampling. */
    repeatability: number;
    bulkDensityKilogramsPerCubicMetre?: number | null;
    /** What it is made of, where somebody told, and what the shares are shares of. */
    basis?: 'mass' | 'live-seeds' | 'full-stand';
    parts?: PlannedPart[];
  };
  target: {
    gramsPerSquareMetre: number;
    /** Half-width of the band that counts as right, as a fraction of the target. */
    tolerance: number;
    /** Probability with which the true rate shall be right before testing ends. */
    confidence?: number;
    /** The target as it was stated, where that is not a rate by mass. */
    stated?: { figure: number; unit: TargetUnit; establishment: number } | null;
  };
  /** Drive-wheel turns to make; the preset count is this times the pulses per turn, rounded to a whole pulse. */
  turns: number;
  mode: 'motor' | 'hand';
  /** Ground speed that the wheel's turning should stand for, or null when it does not matter. */
  plannedSpeedMetresPerSecond: number | null;
}

/** The drill's setting scale, as `SettingScale` of server/domain/advice/types.ts says. */
export interface PlannedScale {
  low: number;
  high: number;
  step: number;
  closedAt: number;
  leverPlay: number;
  configuration: string;
  otherConfigurations: string[];
  /** What is written at the marks where that is no number, from the lowest on. */
  marks?: string[];
}

/** Readings of a tape around the wheel, ways rolled over `turns`, or turns counted over `distanceMetres`. */
export interface MeasuredCircumference {
  way: 'tape' | 'roll-out' | 'field';
  readings: number[];
  turns: number | null;
  distanceMetres: number | null;
}

/** One species of what is sown. Shares are fractions. */
export interface PlannedPart {
  name: string;
  /** Its key in the table of species; empty where it stands in none. */
  species: string;
  share: number;
  fullRateGramsPerSquareMetre: number | null;
  thousandSeedWeightGrams: number;
  counted: { weightsGrams: number[]; seedsEach: number } | null;
  purity: number;
  germination: number;
  hard: number;
  dormant: number;
  bulkDensityKilogramsPerCubicMetre: number | null;
}

/** What the stand was at arming. */
export interface StandFacts {
  name: string;
  firmware: string;
  boot: number;
  pulsesPerTurn: number;
  cells: CellScale[];
  /** Relative standard doubt of the scale's slope by the stand's own scale check; where it is left out, the usual one. */
  scaleSlopeDoubt?: number;
}

export type RunInput =
  | { type: 'begin'; plan: RunPlan; stand: StandFacts }
  | { type: 'reading'; reading: Reading }
  /** The board took `arm`; `key` is what `go` must carry. */
  | { type: 'armed'; key: string }
  /** The board refused `command`. */
  | { type: 'refused'; command: 'arm' | 'go' | 'stop'; word: string }
  | { type: 'command'; command: 'start' | 'stop' | 'abort' }
  | { type: 'link-lost' }
  /** The link is back and talks to the same board in the same boot; `armings`: how often it was armed in it, modulo 256, where it tells. */
  | { type: 'link-back'; armings?: number }
  /**
   * This program ended in mid-run and has found the run again, host seconds after its last record. Seconds of `clock` count anew from here.
   */
  | { type: 'resumed'; awaySeconds: number; clockSeconds: number }
  | { type: 'board-reset'; reset: string }
  /** The link saw from the sequence numbers that so many of the board's lines went missing. */
  | { type: 'gap'; lines: number }
  /**
   * Host time, in seconds from any fixed point, handed in about once a second while a run is under way. Only by it can a run whose
   * board has fallen silent come to an end. Recorded like every other input.
   */
  | { type: 'clock'; seconds: number }
  /** The server ends in mid-run; or, with a reason, one that had ended was started again and cannot go on with the run. */
  | { type: 'interrupted'; why?: InterruptionWhy };

/** Why a run cannot go on after a time without readings. */
export type InterruptionWhy =
  | 'not-started' // there was nothing yet to go on with
  | 'too-long' // away for so long that the board's counters may have gone round
  | 'newer-run' // another run was made since
  | 'rearmed' // the board was armed for something else meanwhile
  | 'cannot-tell' // the board's firmware does not tell whether it was
  | 'clock' // host and board do not agree on how long it was
  | 'leapt' // its counters cannot have come that far
  | 'emptied'; // less hangs on the scale than before

/** What a time without readings came of. */
export const gapCauses = [
  'cable', // the stand was not connected
  'service', // this program was not running
  'computer', // this computer stood still
  'line', // lines went missing on the way
] as const;
export type GapCause = (typeof gapCauses)[number];

export const runPhases = ['idle', 'taring', 'ready', 'turning', 'settling', 'finished'] as const;
export type RunPhase = (typeof runPhases)[number];

export const runOutcomes = [
  'complete', // the preset count was reached and the catch settled
  'stopped', // Stop was pressed on the page; what was caught until then counts
  'stop-button',
  'host-silent', // the board heard nothing from the server and stopped
  'reversed',
  'stalled',
  'expired', // armed and not started in time
  'refused', // the board would not arm or start
  'link-lost', // and not found again in time
  'board-reset',
  'aborted', // thrown away by the user
  'interrupted', // the server ended in mid-run
] as const;
export type RunOutcome = (typeof runOutcomes)[number];

/** What the shell is to do; the reducer itself does nothing. */
export type RunEffect =
  | { type: 'send'; command: 'arm'; mode: 'motor' | 'hand'; pulses: number }
  | { type: 'send'; command: 'go'; key: string }
  | { type: 'send'; command: 'stop' }
  /** The run is over: put its result on record. */
  | { type: 'close' };

/** A rate with its doubt. Grams per square metre. */
export interface RateFigure {
  gramsPerSquareMetre: number;
  /** Combined standard uncertainty. */
  standardDoubt: number;
  /** 95 % interval. */
  low: number;
  high: number;
}

/** One part of the uncertainty budget. */
export interface BudgetPart {
  part:
    | 'weighing'
    | 'scale'
    | 'turns'
    | 'circumference'
    | 'row-spacing'
    | 'slip'
    | 'seed-sampling'
    | 'repeatability';
  /** Relative standard uncertainty that this part alone would give the rate. */
  relative: number;
  /** True when it is the same in all runs on this drill, so that it cancels where settings are compared. */
  common: boolean;
}

/** What the run will have given at the preset turns, with 95 % intervals from seeds and weighing alone. */
export interface ForecastFigure {
  turns: number;
  grams: number;
  gramsLow: number;
  gramsHigh: number;
  /** The rate that this run will end with. */
  gramsPerSquareMetre: number;
  low: number;
  high: number;
}

/** Whether there is a point in going on. An offer: nothing acts on it by itself. */
export interface VerdictFigure {
  kind: VerdictKind;
  /** Probability that the run will end inside the tolerance. */
  chanceInside: number;
  /** Wanted rate over the forecast one. */
  factor: number;
  /** What it means and what one may do. */
  sentence: string;
}

/** The planned speed and what became of it. */
export interface SpeedFigure {
  lowTurnsPerMinute: number;
  highTurnsPerMinute: number;
  now: 'slow' | 'on-plan' | 'fast' | null;
  /** Share of the turns made so far at a speed inside the band, 0 to 1; null before there are any. */
  shareOnPlan: number | null;
}

/** A time without readings, counted from when the wheel was set going. `to` is null while it lasts. Turns and grams count on through it. */
export interface GapFigure {
  cause: GapCause;
  fromSeconds: number;
  toSeconds: number | null;
  fromTurns: number;
  toTurns: number | null;
}

/** What the page and the records show of a run, at any moment. Figures are null until there is something to base them on. */
export interface RunFigures {
  phase: RunPhase;
  outcome: RunOutcome | null;
  boardWhy: EndReason;
  turnsPreset: number;
  turnsDone: number;
  turnsToGo: number;
  backwardTurns: number;
  seconds: number;
  grams: number | null;
  gramsDoubt: number | null;
  /** What the preset turns should give; once the wheel is to stop, what the turns really done should give. */
  targetCatchGrams: number;
  targetCatchLowGrams: number;
  targetCatchHighGrams: number;
  /** From the slope of grams against turns until the catch has settled, then from the totals. */
  rate: RateFigure | null;
  /** The parts of that rate's doubt; empty while there is no rate. */
  budget: BudgetPart[];
  turnsPerMinute: number | null;
  groundSpeedMetresPerSecond: number | null;
  /** Null where the plan names no speed. */
  speed: SpeedFigure | null;
  /** While the wheel turns, once there is enough to go by. */
  forecast: ForecastFigure | null;
  verdict: VerdictFigure | null;
  /** What the trace shows to be wrong or worth knowing, in order of time. */
  findings: Finding[];
  motorOn: boolean;
  /** Lines of the board that went missing, nearly all of them readings. They cost resolution, never a turn. */
  lostReadings: number;
  /** Times without readings since the wheel was set going, in order. */
  gaps: GapFigure[];
  /** What is going on or went wrong, for a mechanic. */
  sentence: string;
}

/** A point of the chart: turns and grams since the run's start, and board seconds. */
export interface TracePoint {
  seconds: number;
  turns: number;
  grams: number;
}
