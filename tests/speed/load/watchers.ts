import { WebSocket } from 'ws';

/** Milliseconds from the last byte of a reading to a watcher getting the first message that shows it. */
export interface Waits {
  medianMillis: number;
  p99Millis: number;
  count: number;
}

/** A reading by the run's own seconds, or such a figure on a page, and when (milliseconds of the computer's clock). */
export type Dated = readonly [seconds: number, epochMillis: number];

/** Readings come some 12 ms apart: figures this close are of the same one. */
const sameSeconds = 0.002;

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
  readonly #sockets: WebSocket[] = [];
  /** For each watcher, what its messages showed. */
  readonly #shown: Dated[][] = [];
  #noting = false;

  static async open(address: string, count: number): Promise<Watchers> {
    const watchers = new Watchers();
    for (let watcher = 0; watcher < count; watcher += 1) await watchers.#add(address);
    return watchers;
  }

  async #add(address: string): Promise<void> {
    const socket = new WebSocket(`${address.replace('http', 'ws')}/api/live`, { perMessageDeflate: false });
    const shown: Dated[] = [];
    this.#shown.push(shown);
    this.#sockets.push(socket);
    socket.on('message', (data: Buffer) => {
      const now = performance.timeOrigin + performance.now();
      this.messages += 1;
      if (!this.#noting) return;
      const figure = secondsShown(data);
      if (figure !== null) shown.push([figure, now]);
    });
    await new Promise<void>((resolve, reject) => {
      socket.once('open', resolve);
      socket.once('error', reject);
    });
  }

  /** From now on notes what is shown. */
  note(): void {
    this.#noting = true;
  }

  /** Milliseconds that each of these readings, in order, took to each watcher; without end for one that was never shown. */
  waits(readings: readonly Dated[]): number[] {
    return this.#shown.flatMap((shown) => waitsFor(readings, shown));
  }

  close(): void {
    for (const socket of this.#sockets) socket.terminate();
  }
}

/** How long each reading waited for the first message that shows it or a later one; both in order. */
export function waitsFor(readings: readonly Dated[], shown: readonly Dated[]): number[] {
  let message = 0;
  return readings.map(([reading, left]) => {
    while (message < shown.length && shown[message]![0] < reading - sameSeconds) message += 1;
    return (shown[message]?.[1] ?? Number.POSITIVE_INFINITY) - left;
  });
}

export function waitsOf(values: number[]): Waits {
  const sorted = Float64Array.from(values).toSorted();
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
  return { medianMillis: at(0.5), p99Millis: at(0.99), count: sorted.length };
}
