import { WebSocket } from 'ws';
import type { ServiceReport } from './service.ts';

/** Milliseconds from the last byte of a reading to the watcher that gets the first message showing it. */
export interface Waits {
  medianMillis: number;
  p99Millis: number;
  count: number;
}

const turning = Buffer.from('"phase":"turning"');
const seconds = Buffer.from('"seconds":');

/** The run's own seconds that a message shows while the wheel turns, or null. Looked up in the bytes: two hundred watchers share one process here. */
function secondsShown(message: Buffer): number | null {
  const from = message.indexOf(turning);
  const at = from < 0 ? -1 : message.indexOf(seconds, from);
  return at < 0
    ? null
    : Number.parseFloat(message.toString('latin1', at + seconds.length, at + seconds.length + 24));
}

/** Pages that look on at one service. Messages are not taken apart but for the one figure that dates them: watchers shall cost little here. */
export class Watchers {
  messages = 0;
  bytes = 0;
  readonly #sockets: WebSocket[] = [];
  readonly #came: [seconds: number, epochMillis: number][] = [];
  /** For each watcher, the messages not yet held against the readings. */
  readonly #seen: [seconds: number, epochMillis: number][][] = [];
  readonly waits: number[] = [];
  #counting = false;

  static async open(address: string, count: number): Promise<Watchers> {
    const watchers = new Watchers();
    for (let watcher = 0; watcher < count; watcher += 1) await watchers.#add(address);
    return watchers;
  }

  async #add(address: string): Promise<void> {
    const socket = new WebSocket(`${address.replace('http', 'ws')}/api/live`, { perMessageDeflate: false });
    const seen: [number, number][] = [];
    this.#seen.push(seen);
    this.#sockets.push(socket);
    socket.on('message', (data: Buffer) => {
      const now = performance.timeOrigin + performance.now();
      this.messages += 1;
      this.bytes += data.length;
      if (!this.#counting) return;
      const shown = secondsShown(data);
      if (shown !== null) seen.push([shown, now]);
    });
    await new Promise<void>((resolve, reject) => {
      socket.once('open', resolve);
      socket.once('error', reject);
    });
  }

  count(): void {
    this.#counting = true;
  }

  /** Takes the service's word on when readings came. */
  heard({ came = [] }: ServiceReport): void {
    if (this.#counting) this.#came.push(...came);
  }

  /** Milliseconds that each reading took to each watcher, for readings of the time counted. */
  settle(): number[] {
    for (const seen of this.#seen) {
      let reading = 0;
      for (const [shown, at] of seen) {
        for (; reading < this.#came.length && this.#came[reading]![0] <= shown; reading += 1) {
          const wait = at - this.#came[reading]![1];
          if (wait >= 0) this.waits.push(wait);
        }
      }
    }
    return this.waits;
  }

  close(): void {
    for (const socket of this.#sockets) socket.terminate();
  }
}

export function waitsOf(values: number[]): Waits {
  const sorted = Float64Array.from(values).toSorted();
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
  return { medianMillis: at(0.5), p99Millis: at(0.99), count: sorted.length };
}
