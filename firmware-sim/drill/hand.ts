import type { BoardOutputs } from '../world.ts';
import type { RandomStream } from './random.ts';
import type { HandDrive } from './scenario.ts';

/** The person at the wheel: begins when told or at a set time, and lets go when the lamp has been steady for a while. */
export class Hand {
  private readonly drive: HandDrive;
  private readonly phase: number;
  private startSeconds: number;
  private lampSince = Number.POSITIVE_INFINITY;
  private turning = false;

  constructor(drive: HandDrive, random: RandomStream) {
    this.drive = drive;
    this.phase = 2 * Math.PI * random.uniform();
    this.startSeconds = drive.startSeconds ?? Number.POSITIVE_INFINITY;
  }

  begin(seconds: number): void {
    this.startSeconds = seconds;
  }

  letGo(): void {
    this.startSeconds = Number.POSITIVE_INFINITY;
    this.turning = false;
  }

  /** Whether the wheel is being turned, at a moment when the board drives `outputs`. */
  turnsUnder(outputs: BoardOutputs, seconds: number): boolean {
    this.lampSince = outputs.lamp ? Math.min(this.lampSince, seconds) : Number.POSITIVE_INFINITY;
    if (!this.turning && seconds >= this.startSeconds) this.turning = true;
    if (this.turning && seconds - this.lampSince >= this.drive.reactionSeconds) this.letGo();
    return this.turning;
  }

  /** Wanted speed, turns a second, with the wheel at `turns`. */
  speedAt(turns: number): number {
    const uneven = this.drive.unevenness * Math.sin(2 * Math.PI * turns + this.phase);
    return (this.drive.turnsPerMinute / 60) * (1 + uneven);
  }
}
