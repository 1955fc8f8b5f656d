import type { WheelEdge } from './world.ts';

/**
 * Counts wheel pulses as the board does: a rise of line A counts when the line had been quiet for the debounce time, and line B
 * tells which way.
 */
export class PulseCounter {
  forward = 0;
  backward = 0;
  /** When the newest counted pulse came; before the first one, long ago. */
  pulseSeconds = Number.NEGATIVE_INFINITY;
  private readonly debounceSeconds: number;
  private readonly direction: 0 | 1 | 2;
  private edgeSeconds = Number.NEGATIVE_INFINITY;
  private a = 0;

  /** `direction` as in hardware-notes/protocol.md: 0 no sensor, 1 fitted, 2 fitted the other way round. */
  constructor(debounceSeconds: number, direction: 0 | 1 | 2) {
    this.debounceSeconds = debounceSeconds;
    this.direction = direction;
  }

  /** Forward less backward. */
  get net(): number {
    return this.forward - this.backward;
  }

  /** Takes a change of the lines; true when it was a pulse that counts. */
  see(edge: WheelEdge): boolean {
    if (edge.a === this.a) return false;
    const quiet = edge.seconds - this.edgeSeconds;
    this.a = edge.a;
    // How the lines stand at power-up is no pulse.
    if (edge.seconds <= 0) return false;
    this.edgeSeconds = edge.seconds;
    if (edge.a === 0 || quiet < this.debounceSeconds) return false;
    this.pulseSeconds = edge.seconds;
    if (this.direction !== 0 && (edge.b === 1) === (this.direction === 1)) this.backward++;
    else this.forward++;
    return true;
  }
}
