import type { PortObject } from '../../server/link/port.ts';
import { Listener, until } from './contract.ts';
import { FakeBoard, type FakeBoardOptions } from './fake-board.ts';
import { FakeCable } from './fake-cable.ts';
import { TestClock } from './test-clock.ts';

/** A board on a port on paper with a link that listens, and the usual handles. */
export class PaperBench {
  readonly clock = new TestClock();
  readonly board: FakeBoard;
  readonly cable: FakeCable;
  readonly heard: Listener;
  /** Further cables by path; `createPort` finds them. */
  readonly cables = new Map<string, FakeCable>();

  constructor(options: Omit<FakeBoardOptions, 'clock'> & { path?: string | null; ports?: string[] } = {}) {
    const { path = '/dev/ttyA', ports = [], ...board } = options;
    this.board = new FakeBoard({ clock: this.clock, ...board });
    this.cable = this.lay('/dev/ttyA', this.board);
    this.heard = new Listener(this, path, ports);
  }

  /** Another port; without a board nothing answers on it. */
  lay(path: string, board: FakeBoard | null): FakeCable {
    const cable = new FakeCable(path, board);
    this.cables.set(path, cable);
    return cable;
  }

  createPort = (path: string): PortObject => (this.cables.get(path) ?? this.cable).createPort(path);

  get link() {
    return this.heard.link;
  }

  get view() {
    return this.heard.link.view();
  }

  pass(milliseconds: number): Promise<void> {
    return this.clock.pass(milliseconds);
  }

  until(ready: () => boolean, limit?: number): Promise<void> {
    return until(this, ready, limit);
  }

  async connect(): Promise<this> {
    this.link.start();
    await this.until(() => this.link.standFacts() !== null);
    return this;
  }

  /** What the board has taken since the last call, heartbeats left out. */
  taken(): string[] {
    return this.board.taken.splice(0).filter((command) => command !== 'beat');
  }

  /** Ends everything; the number of timers left behind. */
  async end(): Promise<number> {
    this.board.off();
    const stopped = this.link.stop();
    // A driver that hangs is waited for, but not for ever.
    await this.clock.pass(2500);
    await stopped;
    return this.clock.waiting;
  }
}
