import type { BoardOutputs } from '../world.ts';
import { Hand } from './hand.ts';
import type { RandomStream, Streams } from './random.ts';
import type { Drive } from './scenario.ts';

/** Stretch of even acceleration that the wheel's motion is made of. */
const STRETCH_SECONDS = 0.01;
/** Time constant with which an arm brings the wheel to speed. */
const ARM_SECONDS = 0.4;
const STANDSTILL = 1e-9;
/** How much harder a jam brakes than the wheel's own friction. */
const JAM = 20;

/** How the wheel moves from `seconds` until `endSeconds`: turns, turns a second, turns a second². Its speed keeps its sign. */
export interface Stretch {
  seconds: number;
  endSeconds: number;
  turns: number;
  speed: number;
  acceleration: number;
}

/**
 * The wheel's motion: run-up under the motor, a slow wander of its speed, coasting under friction, or a hand. It is planned
 * stretch by stretch; a change of what drives the wheel cuts the present stretch short.
 */
export class WheelMotion {
  stretch: Stretch;
  readonly hand: Hand | null;
  readonly ratedSpeed: number;
  /** Turns that the wheel rolls back when it comes to rest. */
  rollBackTurns = 0;
  /** Something holds the wheel, motor or not. */
  jammed = false;
  private readonly drive: Drive;
  private readonly random: RandomStream;
  private readonly friction: number;
  private readonly wanderKept: number;
  private readonly wanderStir: number;
  private wander: number;
  private motorOn = false;
  private handOn = false;

  constructor(drive: Drive, streams: Streams, startTurns: number) {
    this.drive = drive;
    this.hand = drive.hand === null ? null : new Hand(drive.hand, streams('hand'));
    this.random = streams('wander');
    this.ratedSpeed = drive.turnsPerMinute / 60;
    const coastTurns = drive.coastTurns + drive.coastTurnsSpread * streams('coast').normal();
    this.friction = this.ratedSpeed ** 2 / (2 * Math.max(0.02, coastTurns));
    this.wanderKept = Math.exp(-STRETCH_SECONDS / drive.wanderSeconds);
    this.wanderStir = drive.wander * Math.sqrt(1 - this.wanderKept ** 2);
    this.wander = drive.wander * this.random.normal();
    this.stretch = { seconds: 0, endSeconds: Infinity, turns: startTurns, speed: 0, acceleration: 0 };
  }

  /** The wheel's position at a moment in or near the present stretch, turns. */
  turnsAt(seconds: number): number {
    const { turns, speed, acceleration, seconds: from } = this.stretch;
    const step = seconds - from;
    return turns + step * (speed + (step * acceleration) / 2);
  }

  /** Turns a second. */
  speedAt(seconds: number): number {
    return this.stretch.speed + this.stretch.acceleration * (seconds - this.stretch.seconds);
  }

  /** Tells what the board drives from `seconds` on; true when that changes the motion, so that the stretch ends there. */
  driveBy(outputs: BoardOutputs, seconds: number): boolean {
    const handOn = this.hand?.turnsUnder(outputs, seconds) ?? false;
    const changed = outputs.motor !== this.motorOn || handOn !== this.handOn;
    this.motorOn = outputs.motor;
    this.handOn = handOn;
    return changed;
  }

  /** Begins the next stretch at `seconds`, in or at the end of the present one. */
  plan(seconds: number): void {
    const turns = this.turnsAt(seconds);
    const endSpeed = this.speedAt(seconds);
    const speed = Math.abs(endSpeed) > STANDSTILL ? endSpeed : this.speedFromRest();
    const acceleration = this.accelerationFrom(speed, turns);
    const atRest = speed === 0 && acceleration === 0;
    let length = atRest ? Infinity : STRETCH_SECONDS;
    if (speed * acceleration < 0) length = Math.min(length, -speed / acceleration);
    this.stretch = { seconds, endSeconds: seconds + length, turns, speed, acceleration };
  }

  /** At rest the wheel stays at rest, or rolls back once from where it has come to. */
  private speedFromRest(): number {
    const cameForwards = this.stretch.speed > 0;
    if (!cameForwards || this.rollBackTurns <= 0 || this.motorOn || this.handOn) return 0;
    return -Math.sqrt(2 * this.friction * this.rollBackTurns);
  }

  private accelerationFrom(speed: number, turns: number): number {
    if (this.jammed) return -Math.sign(speed) * JAM * this.friction;
    if (!this.motorOn && !this.handOn) return -Math.sign(speed) * this.friction;
    this.wander = this.wanderKept * this.wander + this.wanderStir * this.random.normal();
    const wanted = this.motorOn ? this.ratedSpeed : this.hand!.speedAt(turns);
    const tau = this.motorOn ? this.drive.spinUpSeconds : ARM_SECONDS;
    // Chosen so that each stretch ends on the exponential run-up.
    return ((wanted * (1 + this.wander) - speed) * -Math.expm1(-STRETCH_SECONDS / tau)) / STRETCH_SECONDS;
  }
}
