import type { PortObject } from '../../server/link/port.ts';
import { type Binding, portFactory } from '../../server/link/port-factory.ts';

type BindingPort = Awaited<ReturnType<Binding['open']>>;

/** What hangs on the far end of a cable. */
export interface FarEnd {
  onText: (text: string) => void;
  receive(bytes: Uint8Array): void;
}

/** A serial port on paper, as a binding for `SerialPortStream`: the far end can be plugged in and pulled out at any time. */
export class FakeCable {
  readonly path: string;
  readonly #farEnd: FarEnd | null;
  plugged = true;
  /** The next opening fails with these words of a driver. */
  openFault: string | null = null;
  /** Writes fail, and the port is not told of it in any other way. */
  writeFault: string | null = null;
  /** The wire to the far end is cut: bytes go nowhere. */
  cutOutward = false;
  /** Opening waits for this, as for a driver that takes its time. */
  openGate: Promise<void> = Promise.resolve();
  opened = 0;
  /** Ports open at this moment, and the most there ever were. */
  openNow = 0;
  openMost = 0;
  #port: FakePort | null = null;

  constructor(path: string, farEnd: FarEnd | null) {
    this.path = path;
    this.#farEnd = farEnd;
    if (farEnd) farEnd.onText = (text) => this.deliver(Buffer.from(text, 'latin1'));
  }

  createPort = (path: string): PortObject => portFactory({ list: async () => [], open: this.#open })(path);

  unplug(): void {
    this.plugged = false;
    this.#port?.lose(new Error('Input/output error, cannot read'));
  }

  /** Bytes to the host; lost while nobody has the port open. */
  deliver(bytes: Uint8Array): void {
    this.#port?.receive(bytes);
  }

  #open = async ({ path, baudRate }: { path: string; baudRate: number }): Promise<BindingPort> => {
    await this.openGate;
    if (this.openFault !== null) throw new Error(this.openFault);
    if (!this.plugged || path !== this.path)
      throw new Error(`Error: No such file or directory, cannot open ${path}`);
    if (this.#port !== null) throw new Error('Error Resource temporarily unavailable Cannot lock port');
    this.opened++;
    this.openNow++;
    this.openMost = Math.max(this.openMost, this.openNow);
    const port = new FakePort(
      { path, baudRate },
      (bytes) => this.#toFarEnd(bytes),
      () => {
        this.openNow--;
        this.#port = null;
      },
    );
    this.#port = port;
    return port as unknown as BindingPort;
  };

  #toFarEnd(bytes: Uint8Array): void {
    if (this.writeFault !== null) throw new Error(this.writeFault);
    if (!this.cutOutward) this.#farEnd?.receive(bytes);
  }
}

interface PendingRead {
  buffer: Buffer;
  offset: number;
  length: number;
  resolve: (result: { buffer: Buffer; bytesRead: number }) => void;
  reject: (error: Error) => void;
}

class FakePort {
  readonly openOptions: { path: string; baudRate: number };
  readonly #write: (bytes: Uint8Array) => void;
  readonly #onClose: () => void;
  isOpen = true;
  #held: Buffer = Buffer.alloc(0);
  #pending: PendingRead | null = null;
  #lost: Error | null = null;

  constructor(
    openOptions: { path: string; baudRate: number },
    write: (bytes: Uint8Array) => void,
    onClose: () => void,
  ) {
    this.openOptions = openOptions;
    this.#write = write;
    this.#onClose = onClose;
  }

  receive(bytes: Uint8Array): void {
    this.#held = Buffer.concat([this.#held, bytes]);
    this.#serve();
  }

  lose(error: Error): void {
    this.#lost = error;
    this.#pending?.reject(error);
    this.#pending = null;
  }

  read(buffer: Buffer, offset: number, length: number): Promise<{ buffer: Buffer; bytesRead: number }> {
    if (this.#lost) return Promise.reject(this.#lost);
    return new Promise((resolve, reject) => {
      this.#pending = { buffer, offset, length, resolve, reject };
      this.#serve();
    });
  }

  #serve(): void {
    const read = this.#pending;
    if (!read || this.#held.length === 0) return;
    this.#pending = null;
    const bytesRead = this.#held.copy(read.buffer, read.offset, 0, read.length);
    this.#held = this.#held.subarray(bytesRead);
    read.resolve({ buffer: read.buffer, bytesRead });
  }

  async write(bytes: Buffer): Promise<void> {
    if (this.#lost) throw this.#lost;
    this.#write(bytes);
  }

  async close(): Promise<void> {
    if (!this.isOpen) throw new Error('Port is not open');
    this.isOpen = false;
    this.#onClose();
    this.#pending?.reject(Object.assign(new Error('Canceled'), { canceled: true }));
    this.#pending = null;
  }

  async set(): Promise<void> {}
  async flush(): Promise<void> {}
  async drain(): Promise<void> {}
  async update(): Promise<void> {}
  async get(): Promise<{ cts: boolean; dsr: boolean; dcd: boolean }> {
    return { cts: true, dsr: true, dcd: false };
  }
  async getBaudRate(): Promise<{ baudRate: number }> {
    return { baudRate: this.openOptions.baudRate };
  }
}
