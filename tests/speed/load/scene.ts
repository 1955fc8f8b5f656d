import type { BoardReport } from './board.ts';
import { type Program, programOf, type Running, startProgram } from './processes.ts';
import type { ServiceReport } from './service.ts';
import { startService } from './stands.ts';
import { type Dated, type Waits, Watchers, waitsOf } from './watchers.ts';

/** Stands and watchers, and how long they are looked at once all are there. */
export interface Scene {
  stands: number;
  watchersOfEach: number;
  seconds: number;
}

export interface Seen extends Waits {
  messagesASecond: number;
  /** Processors that each part took. */
  processors: { services: number; boards: number; watchers: number };
  /** Seconds that the emulated stands gave up because the computer could not keep up. */
  secondsLost: number;
  bytesResident: number;
}

export interface Programs {
  board: Program;
  service: Program;
  remove(): void;
}

export async function buildPrograms(): Promise<Programs> {
  const board = await programOf(new URL('./board.ts', import.meta.url));
  const service = await programOf(new URL('./service.ts', import.meta.url));
  const remove = () => {
    board.remove();
    service.remove();
  };
  return { board, service, remove };
}

const wait = (millis: number) => new Promise((resolve) => setTimeout(resolve, millis));
const epochNow = () => performance.timeOrigin + performance.now();
const sum = (values: number[]) => values.reduce((total, value) => total + value, 0);

function processorMillis(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** One stand on a pseudo-terminal, its service, and who looks on. */
class Place {
  readonly board: Running<BoardReport>;
  readonly service: Running<ServiceReport>;
  readonly watchers: Watchers;
  readonly #left: BoardReport['left'];

  private constructor(
    board: Running<BoardReport>,
    service: Running<ServiceReport>,
    watchers: Watchers,
    left: BoardReport['left'],
  ) {
    this.board = board;
    this.service = service;
    this.watchers = watchers;
    this.#left = left;
  }

  static async open(programs: Programs, watchers: number): Promise<Place> {
    const left: BoardReport['left'] = [];
    const heard = (report: BoardReport) => void left.push(...report.left);
    const board = await startProgram(programs.board, [], heard);
    const service = await startService(programs.service, { port: board.last().path, turns: 1000 });
    return new Place(board, service, await Watchers.open(service.last().address, watchers), left);
  }

  /** Readings of the run under way whose last byte left between two moments. */
  readingsBetween(from: number, to: number): Dated[] {
    const { startMicros } = this.service.last();
    if (startMicros === null) throw new Error('No wheel turned at the end of the measurement.');
    return this.#left
      .filter(([, left]) => left >= from && left < to)
      .map(([micros, left]) => [(micros - startMicros) / 1e6, left]);
  }

  async close(): Promise<void> {
    this.watchers.close();
    await this.service.stop();
    await this.board.stop();
  }
}

/**
 * Plays one scene in real time: each board and each service is a process of its own, with a pseudo-terminal between them; the watchers live in this one.
 * Counted is every reading that left its board in that time, whether or not it was shown in it.
 */
export async function play(programs: Programs, { stands, watchersOfEach, seconds }: Scene): Promise<Seen> {
  const places: Place[] = [];
  for (let stand = 0; stand < stands; stand += 1) places.push(await Place.open(programs, watchersOfEach));
  await wait(6000); // each weighs its bags and begins to turn
  for (const { watchers } of places) watchers.note();
  await wait(1000);
  const usedBy = () => ({
    services: sum(places.map(({ service }) => service.last().processorMillis)),
    boards: sum(places.map(({ board }) => board.last().processorMillis)),
    watchers: processorMillis(),
  });
  const [from, before] = [epochNow(), usedBy()];
  const messagesBefore = sum(places.map(({ watchers }) => watchers.messages));
  await wait(seconds * 1000);
  const [to, after] = [epochNow(), usedBy()];
  const messages = sum(places.map(({ watchers }) => watchers.messages)) - messagesBefore;
  await wait(1500); // what came last is shown, and reported
  const waits = places.flatMap((place) => place.watchers.waits(place.readingsBetween(from, to)));
  const secondsLost = sum(places.map(({ board }) => board.last().secondsLost));
  const bytesResident = Math.max(...places.map(({ service }) => service.last().bytesResident));
  for (const place of places) await place.close();
  const share = (part: keyof typeof before) => (after[part] - before[part]) / (to - from);
  return {
    ...waitsOf(waits),
    messagesASecond: messages / seconds,
    processors: { services: share('services'), boards: share('boards'), watchers: share('watchers') },
    secondsLost,
    bytesResident,
  };
}
