import { type Trouble, troubleOf } from './trouble.ts';

/**
 * What the link needs of a port object; `SerialPort` and `SerialPortStream` (made with `autoOpen: false`) are such.
 */
export interface PortObject {
  readonly isOpen: boolean;
  /** Bytes written and not yet taken by the system. */
  readonly writableLength: number;
  open(done: (error: Error | null) => void): void;
  write(data: string, encoding: 'latin1'): boolean;
  close(done: (error: Error | null) => void): void;
  on(event: 'data', listener: (bytes: Uint8Array) => void): unknown;
  on(event: 'close', listener: (error?: Error | null) => void): unknown;
  on(event: 'error', listener: (error: Error) => void): unknown;
}

export interface PortEvents {
  bytes(bytes: Uint8Array): void;
  /** The port is gone or no longer of use; called at most once, and not after `close()`. */
  ended(trouble: Trouble): void;
}

/** More than this many bytes unsent, and the other side has stopped taking any. */
const mostUnsentBytes = 1024;

/**
 * One port object through its one life. The driver queues writes made while closed, and a failed write leaves an object that claims
 * to open and stays dumb; so this writes only while open and is thrown away after its first trouble.
 */
export class OpenedPort {
  readonly #port: PortObject;
  readonly #events: PortEvents;
  #over = false;

  /** Makes the port object and opens it. Rejects with the driver's own error. */
  static async open(
    create: (path: string) => PortObject,
    path: string,
    events: PortEvents,
  ): Promise<OpenedPort> {
    const port = create(path);
    const opened = new OpenedPort(port, events);
    await new Promise<void>((resolve, reject) => {
      port.open((error) => (error ? reject(error) : resolve()));
    });
    return opened;
  }

  private constructor(port: PortObject, events: PortEvents) {
    this.#port = port;
    this.#events = events;
    port.on('data', (bytes) => {
      if (!this.#over) events.bytes(bytes);
    });
    port.on('close', (error) => this.#end(troubleOf(error ?? new Error('the port was closed'))));
    port.on('error', (error) => this.#end(troubleOf(error)));
  }

  #end(trouble: Trouble): void {
    if (this.#over) return;
    this.#over = true;
    this.#events.ended(trouble);
  }

  /** Writes now or not at all. False when the port is closed or takes nothing more; `ended` follows in the second case. */
  write(text: string): boolean {
    if (this.#over || !this.#port.isOpen) return false;
    if (this.#port.writableLength > mostUnsentBytes) {
      this.#end({ kind: 'stuck', detail: `${this.#port.writableLength} bytes unsent` });
      return false;
    }
    this.#port.write(text, 'latin1');
    return true;
  }

  /** Closes the port; resolves when the driver has let go of it, also when it was closed already. */
  close(): Promise<void> {
    this.#over = true;
    if (!this.#port.isOpen) return Promise.resolve();
    return new Promise((resolve) => {
      this.#port.close(() => resolve());
    });
  }
}
