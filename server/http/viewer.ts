import type { WebSocket } from 'ws';
import type { Clock } from '../clock.ts';

/** The part of a `ws` socket that a viewer uses. */
export type Socket = Pick<
  WebSocket,
  'send' | 'ping' | 'close' | 'terminate' | 'on' | 'once' | 'bufferedAmount'
>;

/** Bytes that may wait in the process for one viewer. */
const greatestBacklog = 256 * 1024;
/** A viewer whose answer to a ping is this late is spared further frames until it comes. */
const slowMillis = 1500;
/** A viewer that has not answered for this long is gone. */
const goneMillis = 15_000;

/**
 * One open page. Small frames to a stalled page vanish into the system's buffers without a trace, so it is asked to answer a ping each
 * second: late answers, or bytes piling up here, put it behind; when it has caught up it gets the whole state anew.
 */
export class Viewer {
  readonly #socket: Socket;
  readonly #clock: Clock;
  readonly #hello: () => Buffer;
  #pingedAt: number | null = null;
  #behind = false;
  #stopped = false;

  constructor(socket: Socket, clock: Clock, hello: () => Buffer) {
    this.#socket = socket;
    this.#clock = clock;
    this.#hello = hello;
    socket.on('pong', () => this.#answered());
    // A broken socket closes by itself; without a listener its error would end the process.
    socket.on('error', () => {});
    // Viewers have nothing to say on the socket: commands go by the routes.
    socket.on('message', () => socket.close(1008, 'This socket only tells.'));
    this.#send(hello());
  }

  /** Sends one message, unless this viewer is behind. */
  tell(message: Buffer): void {
    if (this.#socket.bufferedAmount > greatestBacklog) this.#behind = true;
    if (!this.#behind) this.#send(message);
  }

  /** Once a second: pings, and notices who is late or gone. */
  look(): void {
    const late = this.#pingedAt === null ? 0 : this.#clock.now() - this.#pingedAt;
    if (late > goneMillis) {
      this.#socket.terminate();
      return;
    }
    if (late > slowMillis) this.#behind = true;
    if (this.#pingedAt !== null || this.#stopped) return;
    this.#pingedAt = this.#clock.now();
    this.#socket.ping();
  }

  dismiss(): void {
    this.#socket.close(1001, 'Catchbench is closing.');
  }

  stop(): void {
    this.#stopped = true;
  }

  #answered(): void {
    this.#pingedAt = null;
    if (!this.#behind) return;
    this.#behind = false;
    this.#send(this.#hello());
  }

  #send(message: Buffer): void {
    if (!this.#stopped) this.#socket.send(message, { binary: false });
  }
}
