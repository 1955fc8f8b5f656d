import type { RandomStream, Streams } from './random.ts';
import type { Vibration } from './scenario.ts';

/**
 * What the turning wheel shakes into one cell: broad-band rattle, a swing of the bag near its own frequency which rings on
 * after the wheel stands, and a swing once per turn.
 */
export class Shaking {
  /** Shaking of the bench from elsewhere, grams RMS, whether the wheel turns or not. */
  benchGrams = 0;
  private readonly vibration: Vibration;
  private readonly random: RandomStream;
  private readonly phase: number;
  private seconds = 0;
  /** The swing as a turning pointer; its first part is what the cell feels, grams. */
  private swingX = 0;
  private swingY = 0;

  constructor(vibration: Vibration, streams: Streams, cell: number) {
    this.vibration = vibration;
    this.random = streams(`vibration ${cell}`);
    this.phase = 2 * Math.PI * streams(`rocking ${cell}`).uniform();
  }

  /** Grams felt at `seconds`, with the wheel at `turns` and at `share` of its rated speed (0 to about 1). */
  feltGrams(seconds: number, turns: number, share: number): number {
    const { whiteGrams, swingGrams, oncePerTurnGrams } = this.vibration;
    this.moveSwing(seconds - this.seconds, swingGrams * share);
    this.seconds = seconds;
    const broad = Math.hypot(whiteGrams * share, this.benchGrams);
    if (broad === 0) return this.swingX;
    const rattle = broad * this.random.normal();
    const rocking = oncePerTurnGrams * share * share * Math.sin(2 * Math.PI * turns + this.phase);
    return this.swingX + rattle + rocking;
  }

  /** The swing decays and is stirred, so that it keeps `gramsRms` for as long as the wheel turns evenly. */
  private moveSwing(step: number, gramsRms: number): void {
    const omega = 2 * Math.PI * this.vibration.swingHertz;
    const shrink = Math.exp(-this.vibration.swingDampingRatio * omega * step);
    const cos = shrink * Math.cos(omega * step);
    const sin = shrink * Math.sin(omega * step);
    const x = this.swingX * cos - this.swingY * sin;
    const y = this.swingX * sin + this.swingY * cos;
    const stir = gramsRms > 0 ? gramsRms * Math.sqrt(1 - shrink * shrink) : 0;
    this.swingX = stir > 0 ? x + stir * this.random.normal() : x;
    this.swingY = stir > 0 ? y + stir * this.random.normal() : y;
  }
}
