import { SerialPortStream } from '@serialport/stream';
import type { Drill } from '../../firmware-sim/drill/drill.ts';
import { lineNoise, soundLine } from '../../firmware-sim/drill/line.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import { followLine } from '../../firmware-sim/line-faults.ts';
import { StandBinding } from '../../firmware-sim/serial.ts';
import { runAsFastAsItGoes, type Stand } from '../../firmware-sim/stand.ts';
import type { Clock } from '../../server/clock.ts';
import type { Plan } from '../../server/http/messages.ts';
import type { Records } from '../../server/records/types.ts';
import { type RunDesk, Session } from '../../server/run/session.ts';
import { findUnended, type UnendedRun } from '../../server/run/session-recover.ts';
import type { RunPhase } from '../../server/run/types.ts';
import { planFor } from '../run/imagined.ts';
import { MemoryRecords } from './memory-records.ts';

export interface ShopOptions {
  scenario?: Scenario;
  seed?: number | string;
  records?: Records;
  plan?: Partial<Plan>;
  desk?: RunDesk;
  dtrReset?: boolean;
  /** Text of another firmware's Intel HEX file. */
  hex?: string;
}

/** Bytes that a serial driver keeps for a program that does not read. */
const driverBytes = 4096;

/** One life of the service: once it is over, no timer of it fires and nothing it asks of the records is done; asleep, its timers wait. */
class Life {
  over = false;
  /** What is due since it fell asleep; null while it is awake. */
  #due: (() => void)[] | null = null;
  #lost = 0;

  clock(clock: Clock): Clock {
    return {
      now: () => clock.now() - this.#lost,
      after: (milliseconds, task) => {
        let off = false;
        const run = () => this.over || off || task();
        const cancel = clock.after(milliseconds, () => (this.#due === null ? run() : this.#due.push(run)));
        return () => {
          off = true;
          cancel();
        };
      },
    };
  }

  fallAsleep(): void {
    this.#due = [];
  }

  /** All that is due comes at once. `lost`: milliseconds that its clock has missed. */
  wake(lost: number): void {
    const due = this.#due ?? [];
    this.#due = null;
    this.#lost += lost;
    for (const run of due) run();
  }

  records(records: Records): Records {
    const never = () => new Promise(() => {});
    return new Proxy(records, {
      get: (target, name) => {
        const part = Reflect.get(target, name);
        if (typeof part !== 'function') return part;
        return this.over ? never : part.bind(target);
      },
    });
  }
}

/**
 * A session joined to the emulated stand by its serial binding, all on the stand's own time: nothing passes but by `until` and its kin, and it
 * passes as fast as the machine can.
 */
export class Shop {
  readonly stand: Stand;
  readonly drill: Drill;
  readonly binding: StandBinding;
  readonly records: Records;
  session: Session;
  readonly #options: ShopOptions;
  #life = new Life();
  #asleep = false;
  /** What the system has kept for a computer that stands still. */
  #buffered: number[] = [];
  /** Stand milliseconds at which the newest run began. */
  #beganAt = 0;

  constructor(options: ShopOptions = {}) {
    const { scenario = oneRow, seed = 1, records, dtrReset = false, hex } = options;
    this.#options = options;
    ({ stand: this.stand, drill: this.drill } = createEmulatedStand(scenario, seed, hex));
    const noise = lineNoise(scenario.line ?? soundLine, seed);
    this.binding = new StandBinding(this.stand, { dtrReset, noise: (bytes) => this.#arrived(noise(bytes)) });
    followLine(this.stand, this.drill, this.binding);
    this.records = records ?? new MemoryRecords();
    this.session = this.#open(null);
  }

  #open(unended: UnendedRun | null): Session {
    const { scenario = oneRow, plan, desk } = this.#options;
    const { binding } = this;
    const life = this.#life;
    const session = new Session({
      clock: life.clock(this.stand.clock),
      link: {
        createPort: (path) => {
          if (life.over) throw new Error('no such process');
          return new SerialPortStream({ binding, path, baudRate: 115_200, autoOpen: false });
        },
        listPorts: async () => (await binding.list()).map((port) => ({ path: port.path, label: '' })),
        path: binding.path,
        random: () => 0.5,
      },
      records: life.records(this.records),
      demo: true,
      plan: { ...planFor(scenario), ...plan },
      unended,
      ...(desk === undefined ? {} : { desk }),
    });
    const began = () => {
      this.#beganAt = this.stand.clock.now();
    };
    session.listen({ began, changed: () => {}, planned: () => {} });
    session.open();
    return session;
  }

  /** Ends the service as `kill -9` does: nothing of it acts any more, what it had not put on record is gone, its port is let go of. */
  kill(): void {
    this.#life.over = true;
    this.binding.unplug();
    this.binding.plug();
  }

  /**
   * The computer stands still for so long, as when it sleeps: no timer fires, and of what the stand says the system keeps the first bytes alone.
   * `clockStops`: its clock does not count that time either.
   */
  async sleep(seconds: number, clockStops: boolean): Promise<void> {
    this.#life.fallAsleep();
    this.#buffered = [];
    this.#asleep = true;
    await this.pass(seconds);
    this.#asleep = false;
    this.#life.wake(clockStops ? seconds * 1000 : 0);
  }

  #arrived(bytes: Uint8Array): Uint8Array {
    if (this.#asleep) {
      this.#buffered.push(...bytes.subarray(0, driverBytes - this.#buffered.length));
      return new Uint8Array();
    }
    if (this.#buffered.length === 0) return bytes;
    const late = Uint8Array.from([...this.#buffered, ...bytes]);
    this.#buffered = [];
    return late;
  }

  /** Starts the service again on the same records. Returns what it says of runs without an end. */
  async startAgain(hostMillisOff = 0): Promise<string[]> {
    this.#life = new Life();
    const [run] = (await this.records.page(1, null)).runs;
    const startedAt = run === undefined ? 0 : Date.parse(run.startedAt);
    const now = startedAt + this.stand.clock.now() - this.#beganAt + hostMillisOff;
    const { sentences, unended } = await findUnended(this.records, () => now);
    this.session = this.#open(unended);
    return sentences;
  }

  get phase(): RunPhase {
    return this.session.view().run.figures.phase;
  }

  /** Lets the stand's time pass until `done` holds. */
  until(done: () => boolean, mostSeconds = 120): Promise<void> {
    return runAsFastAsItGoes(this.stand, done, mostSeconds);
  }

  pass(seconds: number): Promise<void> {
    const end = this.stand.seconds + seconds;
    return this.until(() => this.stand.seconds >= end, seconds + 1);
  }

  /** Lets time pass until a request to the session is answered. */
  async answer<T>(request: Promise<T>): Promise<T> {
    let settled = false;
    const end = () => {
      settled = true;
    };
    request.then(end, end);
    await this.until(() => settled);
    return request;
  }

  /** Until the stand is connected and its settings are read. */
  async connected(): Promise<void> {
    await this.until(() => this.session.view().link.condition === 'connected');
    await this.pass(0.3);
  }

  async turning(): Promise<void> {
    await this.connected();
    await this.answer(this.session.arm());
    await this.answer(this.session.start());
  }

  /** One whole run, from the connection to the record. */
  async wholeRun(): Promise<void> {
    await this.turning();
    await this.until(() => this.phase === 'finished');
  }

  async shut(): Promise<void> {
    await this.answer(this.session.shut());
  }
}
