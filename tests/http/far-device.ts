import type { Server } from 'node:http';
import { Duplex } from 'node:stream';

/** Connections as they come from a device of the shop, with whatever addresses a test wants, and no network in between. */

/** One end of a wire; what is written to it comes out at the other. */
class WireEnd extends Duplex {
  other: WireEnd | null = null;

  override _read(): void {}

  override _write(chunk: Buffer, _encoding: string, done: () => void): void {
    this.other?.push(chunk);
    done();
  }

  override _final(done: () => void): void {
    this.other?.push(null);
    done();
  }

  override _destroy(error: Error | null, done: (error: Error | null) => void): void {
    if (this.other?.destroyed === false) this.other.push(null);
    done(error);
  }

  /** As a TCP socket does: destroyed once everything has left. */
  destroySoon(): void {
    this.end(() => this.destroy());
  }
}

export interface Ends {
  /** Address of the device. */
  from: string;
  /** Address of this computer that it called. */
  to?: string;
}

let ports = 40_000;

export class FarDevice {
  readonly #wire: WireEnd;
  readonly #ended: Promise<void>;
  #heard = '';

  constructor(server: Server, { from, to = '192.168.1.2' }: Ends) {
    const [here, there] = [new WireEnd(), new WireEnd()];
    here.other = there;
    there.other = here;
    ports += 1;
    Object.assign(there, { remoteAddress: from, remotePort: ports, localAddress: to });
    this.#wire = here;
    this.#ended = new Promise((resolve) => here.once('end', resolve));
    here.on('data', (data) => (this.#heard += data));
    server.emit('connection', there);
  }

  /** Sends this request; what has come back once the server has hung up. */
  async last(request: string): Promise<string> {
    this.send(request);
    await this.#ended;
    return this.#heard;
  }

  send(bytes: string): void {
    this.#wire.write(bytes);
  }

  /** Waits until all of this has been heard. */
  async hears(text: string): Promise<void> {
    while (!this.#heard.includes(text)) await new Promise((resolve) => setTimeout(resolve, 5));
  }

  /** Resolves once the server has hung up. */
  get ended(): Promise<void> {
    return this.#ended;
  }

  close(): void {
    this.#wire.destroy();
  }
}
