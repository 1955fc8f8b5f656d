/**
 * What can go wrong on a stand, as data. Each begins once the wheel has made `afterTurns` turns since power-up (0: from the
 * start) and the stand has been on for `afterSeconds`, and lasts for as long as it says, or for good.
 */
export type Fault = Timing &
  (
    | { kind: 'seed-bridges' }
    | { kind: 'tube-blocked'; cell: number /** Fraction of the flow held back, 0 to 1. */; share: number }
    | {
        kind: 'leak';
        cell: number /** Seed that runs out whether the wheel turns or not. */;
        gramsPerSecond: number;
      }
    | { kind: 'bag-knocked'; cell: number /** How far the first swing of the reading goes. */; grams: number }
    | { kind: 'bag-leaned-on'; cell: number /** Lifted when negative. */; grams: number }
    | {
        kind: 'bag-touches';
        cell: number /** From this catch on. */;
        aboveGrams: number /** What the floor bears of the rest. */;
        share: number;
      }
    | { kind: 'cell-loose'; cell: number }
    | { kind: 'cell-stuck'; cell: number }
    | { kind: 'pulses-missed' /** Chance of each pulse. */; share: number }
    | {
        kind: 'pulses-doubled';
        share: number /** The false pulse's distance; longer than any debounce to be believed. */;
        seconds: number;
      }
    | { kind: 'magnet-missing' /** Its number, from 0. */; magnet: number }
    | {
        kind: 'magnet-doubled';
        magnet: number /** How far behind its own the false pulse comes, in pulses; below the duty. */;
        behind: number;
      }
    | { kind: 'magnet-late'; magnet: number /** In pulses, below 0.25. */; by: number }
    | { kind: 'wheel-rolls-back' /** Turns that it rolls back whenever it comes to rest. */; turns: number }
    | { kind: 'wheel-jams' }
    | { kind: 'bench-shakes' /** RMS, on every cell. */; grams: number }
    | { kind: 'stop-pressed' }
  );

export interface Timing {
  afterTurns: number;
  afterSeconds?: number;
  forTurns?: number;
  forSeconds?: number;
}

/** A fault and whether it is there now. It comes once and goes once. */
export class FaultWatch {
  readonly fault: Fault;
  active = false;
  private over = false;
  private sinceTurns = 0;
  private sinceSeconds = 0;

  constructor(fault: Fault) {
    this.fault = fault;
  }

  /** Takes note of where the wheel is; true when the fault has just come or gone. */
  changes(turns: number, seconds: number): boolean {
    if (this.over) return false;
    const before = this.active;
    const { afterTurns, afterSeconds = 0 } = this.fault;
    if (!this.active && turns >= afterTurns && seconds >= afterSeconds) {
      this.active = true;
      this.sinceTurns = turns;
      this.sinceSeconds = seconds;
    } else if (this.active) {
      const { forTurns = Infinity, forSeconds = Infinity } = this.fault;
      this.over = turns - this.sinceTurns >= forTurns || seconds - this.sinceSeconds >= forSeconds;
      this.active = !this.over;
    }
    return this.active !== before;
  }
}
