import type { Clock } from '../clock.ts';
import { timing } from './connection.ts';
import { OpenedPort, type PortEvents, type PortObject } from './port.ts';

/** The one port that a link holds, and those that the driver has yet to open or to let go of. */
export class PortHolder {
  readonly #create: (path: string) => PortObject;
  readonly #clock: Clock;
  #port: OpenedPort | null = null;
  /** Paths that the driver is opening. Each may keep one of the process's few threads for as long as it hangs. */
  readonly #opening = new Set<string>();
  readonly #unsettled = new Set<Promise<void>>();

  constructor(create: (path: string) => PortObject, clock: Clock) {
    this.#create = create;
    this.#clock = clock;
  }

  /**
   * Opens the port and holds it if `wanted` still says so when the driver is done, else closes it again. `opened` is called in the same
   * breath in which it is held, so that nothing can come between. Rejects with the driver's error, or where an earlier opening of this
   * path still hangs.
   */
  async open(path: string, events: PortEvents, wanted: () => boolean, opened: () => void): Promise<void> {
    if (this.#opening.has(path)) throw new Error('the port did not finish opening');
    this.#opening.add(path);
    const opening = OpenedPort.open(this.#create, path, events);
    this.#follow(opening.then(() => {}));
    const port = await opening.finally(() => this.#opening.delete(path));
    if (!wanted()) return this.#letGo(port);
    this.#port = port;
    opened();
  }

  /** Writes now or not at all; false when no open port takes it. */
  write(text: string): boolean {
    return this.#port?.write(text) ?? false;
  }

  /** Resolves when the driver has let go of the port. */
  async close(): Promise<void> {
    const port = this.#port;
    this.#port = null;
    if (port !== null) await this.#letGo(port);
  }

  /** Resolves when nothing is being opened or closed, and in any case after two seconds: a driver may hang for good. */
  settled(): Promise<void> {
    return new Promise((resolve) => {
      const cancel = this.#clock.after(timing.closeAtMost, resolve);
      void Promise.all(this.#unsettled).then(() => {
        cancel();
        resolve();
      });
    });
  }

  #letGo(port: OpenedPort): Promise<void> {
    const closing = port.close();
    this.#follow(closing);
    return closing;
  }

  #follow(work: Promise<void>): void {
    const settled: Promise<void> = work.catch(() => {}).finally(() => this.#unsettled.delete(settled));
    this.#unsettled.add(settled);
  }
}
