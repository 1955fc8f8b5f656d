/**
 * The stand as a binding for `new SerialPortStream({ binding, path: 'emulated', baudRate: 115200 })`, inside one process. Its
 * time passes only when the stand is advanced.
 */
import type { SerialPortStream } from '@serialport/stream';
import type { Stand } from './stand.ts';

// The package that declares these has types that only CommonJS code can import; the stream's own speak of them.
type BindingInterface = ConstructorParameters<typeof SerialPortStream>[0]['binding'];
type BindingPortInterface = Awaited<ReturnType<BindingInterface['open']>>;
type OpenOptions = Parameters<BindingInterface['open']>[0];
type PortInfo = Awaited<ReturnType<BindingInterface['list']>>[number];

/** Bytes that a port holds for a host that does not read; what comes on top is lost, as with a driver. */
const receiveBytes = 65_536;

export interface StandBindingOptions {
  /** What the port is called. */
  path?: string;
  /** Opening the port resets the board, as on boards that wire DTR to the reset line. */
  dtrReset?: boolean;
  /** What becomes of the board's bytes on their way to the computer. */
  noise?: (bytes: Uint8Array) => Uint8Array;
}

export class StandBinding implements BindingInterface {
  readonly path: string;
  readonly #stand: Stand;
  readonly #dtrReset: boolean;
  readonly #noise: (bytes: Uint8Array) => Uint8Array;
  #plugged = true;
  #port: StandPort | undefined;

  constructor(stand: Stand, options: StandBindingOptions = {}) {
    const { path = 'emulated', dtrReset = false, noise = (bytes) => bytes } = options;
    this.#stand = stand;
    this.path = path;
    this.#dtrReset = dtrReset;
    this.#noise = noise;
  }

  /** Pulls the cable: the open port is lost, and opening fails until `plug`. */
  unplug(): void {
    this.#plugged = false;
    this.#port?.lose();
  }

  plug(): void {
    this.#plugged = true;
  }

  async list(): Promise<PortInfo[]> {
    if (!this.#plugged) return [];
    const unknown = {
      manufacturer: undefined,
      serialNumber: undefined,
      pnpId: undefined,
      locationId: undefined,
    };
    return [{ path: this.path, ...unknown, productId: undefined, vendorId: undefined }];
  }

  async open(options: OpenOptions): Promise<StandPort> {
    if (!this.#plugged || options.path !== this.path) {
      throw new Error(`Error: No such file or directory, cannot open ${options.path}`);
    }
    if (this.#port?.isOpen) throw new Error(`Error Resource temporarily unavailable Cannot lock port`);
    if (this.#dtrReset) this.#stand.reset();
    this.#port = new StandPort(this.#stand, options, this.#noise);
    return this.#port;
  }
}

interface PendingRead {
  buffer: Buffer;
  offset: number;
  length: number;
  resolve(result: { buffer: Buffer; bytesRead: number }): void;
  reject(error: Error): void;
}

/** One opening of the stand's port. */
export class StandPort implements BindingPortInterface {
  readonly openOptions: Required<OpenOptions>;
  isOpen = true;
  readonly #stand: Stand;
  readonly #received = Buffer.alloc(receiveBytes);
  #held = 0;
  #pending: PendingRead | undefined;
  /** Why nothing flows any more. */
  #ended: Error | undefined;
  readonly #endListening: () => void;
  readonly #waiting = new Set<() => void>();

  constructor(stand: Stand, options: OpenOptions, noise: (bytes: Uint8Array) => Uint8Array) {
    this.#stand = stand;
    this.openOptions = { ...defaults, ...options };
    stand.board.serial.baud = options.baudRate;
    const endBytes = stand.onBytes((bytes) => this.#receive(noise(bytes)));
    const endSteps = stand.onStep(() => this.#wake());
    this.#endListening = () => {
      endBytes();
      endSteps();
    };
  }

  /** The cable is gone: what is under way fails, and so does everything after. */
  lose(): void {
    this.#end(new Error('The stand was unplugged'));
  }

  async close(): Promise<void> {
    if (!this.isOpen) throw new Error('Port is not open');
    this.isOpen = false;
    this.#end(Object.assign(new Error('Canceled'), { canceled: true }));
  }

  read(buffer: Buffer, offset: number, length: number): Promise<{ buffer: Buffer; bytesRead: number }> {
    if (this.#ended) return Promise.reject(this.#ended);
    return new Promise((resolve, reject) => {
      this.#pending = { buffer, offset, length, resolve, reject };
      this.#serveRead();
    });
  }

  async write(bytes: Buffer): Promise<void> {
    let written = 0;
    while (written < bytes.length) {
      if (this.#ended) throw this.#ended;
      written += this.#stand.write(bytes.subarray(written));
      if (written < bytes.length) await this.#nextStep();
    }
  }

  async drain(): Promise<void> {
    while (this.#stand.board.serial.waiting > 0) {
      if (this.#ended) throw this.#ended;
      await this.#nextStep();
    }
  }

  async flush(): Promise<void> {
    this.#held = 0;
    this.#stand.board.serial.discardUnsent();
  }

  async update({ baudRate }: { baudRate: number }): Promise<void> {
    this.openOptions.baudRate = baudRate;
    this.#stand.board.serial.baud = baudRate;
  }

  async getBaudRate(): Promise<{ baudRate: number }> {
    return { baudRate: this.openOptions.baudRate };
  }

  /** The lines of the port go nowhere: a reset by DTR is asked of the binding. */
  async set(): Promise<void> {}

  async get(): Promise<{ cts: boolean; dsr: boolean; dcd: boolean }> {
    return { cts: true, dsr: true, dcd: false };
  }

  #receive(bytes: Uint8Array): void {
    const kept = bytes.subarray(0, receiveBytes - this.#held);
    this.#received.set(kept, this.#held);
    this.#held += kept.length;
    this.#serveRead();
  }

  #serveRead(): void {
    const read = this.#pending;
    if (!read || this.#held === 0) return;
    this.#pending = undefined;
    const bytesRead = Math.min(read.length, this.#held);
    this.#received.copy(read.buffer, read.offset, 0, bytesRead);
    this.#received.copyWithin(0, bytesRead, this.#held);
    this.#held -= bytesRead;
    read.resolve({ buffer: read.buffer, bytesRead });
  }

  #end(error: Error): void {
    this.#ended ??= error;
    this.#endListening();
    this.#pending?.reject(this.#ended);
    this.#pending = undefined;
    this.#wake();
  }

  #nextStep(): Promise<void> {
    return new Promise((resolve) => this.#waiting.add(resolve));
  }

  #wake(): void {
    const waiting = [...this.#waiting];
    this.#waiting.clear();
    for (const resolve of waiting) resolve();
  }
}

const defaults: Omit<Required<OpenOptions>, 'path' | 'baudRate'> = {
  dataBits: 8,
  lock: true,
  stopBits: 1,
  parity: 'none',
  rtscts: false,
  xon: false,
  xoff: false,
  xany: false,
  hupcl: true,
};
