import type { Clock } from '../clock.ts';
import type { ChartPoint } from '../records/types.ts';
import type { SessionFace } from '../run/session-types.ts';
import type { SocketMessage } from './messages.ts';
import { type Socket, Viewer } from './viewer.ts';

/** At most 20 frames a second while something changes; one a second otherwise. */
const frameMillis = 50;
const idleMillis = 1000;

/** Pages that look on at once; far more than a shop has. Some places are kept for those who operate. */
const greatestViewers = 256;
const keptForOperators = 16;

const bytesOf = (message: SocketMessage): Buffer => Buffer.from(JSON.stringify(message));

/**
 * Tells every open page what happens. A message is put into bytes once, however many look on. A page that cannot follow misses frames and gets
 * a new hello once it can: the newest state, never a growing queue.
 */
export class Hub {
  readonly #session: SessionFace;
  readonly #clock: Clock;
  readonly #version: string;
  /** Those who operate hear everything before those who look on. */
  readonly #operators = new Set<Viewer>();
  readonly #watchers = new Set<Viewer>();
  readonly #unlisten: () => void;
  #points: ChartPoint[] = [];
  #lastFrameAt = Number.NEGATIVE_INFINITY;
  #frameDue = false;
  #cancelFrame: () => void = () => {};
  #cancelBeat: () => void = () => {};

  constructor(session: SessionFace, clock: Clock, version: string) {
    this.#session = session;
    this.#clock = clock;
    this.#version = version;
    this.#unlisten = session.listen({
      changed: (point) => this.#changed(point),
      began: () => this.#began(),
      planned: () => this.#tell(bytesOf({ type: 'plan', plan: session.view().plan })),
    });
    this.#beat();
  }

  get viewers(): number {
    return this.#operators.size + this.#watchers.size;
  }

  /** Takes a newly opened socket and says hello; returns false when there are too many already. */
  admit(socket: Socket, operates = true): boolean {
    const places = operates ? greatestViewers : greatestViewers - keptForOperators;
    if (this.viewers >= places) return false;
    const viewer = new Viewer(socket, this.#clock, () => this.#hello());
    const among = operates ? this.#operators : this.#watchers;
    among.add(viewer);
    socket.once('close', () => {
      viewer.stop();
      among.delete(viewer);
    });
    return true;
  }

  /** The calibration in hand has changed: pages ask for it anew. */
  calibrated(): void {
    this.#tell(bytesOf({ type: 'calibration' }));
  }

  /** Who is here or who holds the wheel has changed: pages ask for it anew. */
  peopleChanged(): void {
    this.#tell(bytesOf({ type: 'people' }));
  }

  /** All that was on record has been replaced: pages begin anew with what is now. */
  restored(): void {
    const hello = this.#hello();
    this.#tell(hello);
    this.#tell(bytesOf({ type: 'restored' }));
  }

  stop(): void {
    this.#unlisten();
    this.#cancelFrame();
    this.#cancelBeat();
    this.#each((viewer) => viewer.dismiss());
  }

  #hello(): Buffer {
    // What the others have yet to hear is in the trace of this hello already.
    if (this.#points.length > 0) this.#frame();
    const { startId, demo } = this.#session;
    const trace = this.#session.trace();
    const sentAt = this.#clock.now();
    return bytesOf({
      type: 'hello',
      startId,
      version: this.#version,
      demo,
      ...this.#session.view(),
      trace,
      sentAt,
    });
  }

  #changed(point: ChartPoint | null): void {
    if (point !== null && this.viewers > 0) this.#points.push(point);
    if (this.#frameDue) return;
    const wait = this.#lastFrameAt + frameMillis - this.#clock.now();
    if (wait <= 0) {
      this.#frame();
    } else {
      this.#frameDue = true;
      this.#cancelFrame = this.#clock.after(wait, () => this.#frame());
    }
  }

  #began(): void {
    this.#points = [];
    this.#tell(bytesOf({ type: 'begin', run: this.#session.view().run }));
  }

  #frame(): void {
    this.#cancelFrame();
    this.#frameDue = false;
    this.#lastFrameAt = this.#clock.now();
    const trace = this.#points;
    this.#points = [];
    if (this.viewers === 0) return;
    const { link, run } = this.#session.view();
    this.#tell(bytesOf({ type: 'live', link, run, trace, sentAt: this.#lastFrameAt }));
  }

  #tell(message: Buffer): void {
    this.#each((viewer) => viewer.tell(message));
  }

  #each(act: (viewer: Viewer) => void): void {
    for (const viewer of this.#operators) act(viewer);
    for (const viewer of this.#watchers) act(viewer);
  }

  /** Once a second: a frame where there was none, and a look at who still follows. */
  #beat(): void {
    this.#cancelBeat = this.#clock.after(idleMillis, () => {
      if (this.#clock.now() - this.#lastFrameAt >= idleMillis - frameMillis) this.#frame();
      this.#each((viewer) => viewer.look());
      this.#beat();
    });
  }
}
