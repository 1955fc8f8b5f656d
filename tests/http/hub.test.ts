import { EventEmitter } from 'node:events';
import { beforeEach, describe, expect, it } from 'vitest';
import { Hub } from '../../server/http/hub.ts';
import type { SocketMessage } from '../../server/http/messages.ts';
import type { Socket } from '../../server/http/viewer.ts';
import type { RunFigures } from '../../server/run/types.ts';
import { TestClock } from '../link/test-clock.ts';
import { FakeSession } from '../web/fake-session.ts';

class FakeSocket extends EventEmitter {
  bufferedAmount = 0;
  readonly sent: Buffer[] = [];
  pings = 0;
  /** Answers every ping at once, as a page that keeps up does. */
  lively = true;
  ended: string | null = null;

  send(message: Buffer): void {
    this.sent.push(message);
  }
  ping(): void {
    this.pings++;
    if (this.lively) this.emit('pong');
  }
  close(code: number): void {
    this.ended = `closed ${code}`;
    this.emit('close');
  }
  terminate(): void {
    this.ended = 'terminated';
    this.emit('close');
  }
  get messages(): SocketMessage[] {
    return this.sent.map((message) => JSON.parse(String(message)));
  }
  count(type: SocketMessage['type']): number {
    return this.messages.filter((message) => message.type === type).length;
  }
}

let clock: TestClock;
let session: FakeSession;
let hub: Hub;
beforeEach(() => {
  clock = new TestClock();
  session = new FakeSession();
  hub = new Hub(session, clock, '1.0.0');
});

function viewer(operates = true): FakeSocket {
  const socket = new FakeSocket();
  hub.admit(socket as unknown as Socket, operates);
  return socket;
}

/** Something changes, so many times a second, for so long. */
async function changes(perSecond: number, seconds: number, point: [number, number, number] | null = null) {
  for (let step = 0; step < perSecond * seconds; step++) {
    session.show(session.run.figures as RunFigures, point ? [[point[0] + step, point[1], point[2]]] : []);
    await clock.pass(1000 / perSecond);
  }
}

describe('the hub', () => {
  it('says hello, then at most 20 frames a second however much changes', async () => {
    const page = viewer();
    expect(page.messages.map(({ type }) => type)).toEqual(['hello']);
    await changes(80, 2);
    expect(page.count('live')).toBeGreaterThanOrEqual(38);
    expect(page.count('live')).toBeLessThanOrEqual(41);
  });

  it('tells a change that no other follows within 50 ms, whenever it comes', async () => {
    const page = viewer();
    for (const pause of [300, 5, 300, 30, 300, 42, 300, 60]) {
      session.show(session.run.figures as RunFigures, [[pause, 1, 2]]);
      await clock.pass(50);
      const last = page.messages.at(-1)!;
      expect(last.type === 'live' && last.trace, `after ${pause} ms`).toEqual([[pause, 1, 2]]);
      await clock.pass(pause);
    }
  });

  it('says something once a second when nothing changes', async () => {
    const page = viewer();
    await clock.pass(10_000);
    expect(page.count('live')).toBeGreaterThanOrEqual(9);
    expect(page.count('live')).toBeLessThanOrEqual(11);
  });

  it('leaves out no chart point and sends none twice', async () => {
    const page = viewer();
    await changes(80, 1, [0, 1, 2]);
    await clock.pass(100);
    const points = page.messages.flatMap((message) => (message.type === 'live' ? message.trace : []));
    expect(points.map(([seconds]) => seconds)).toEqual([...Array(80).keys()]);
  });

  it('sends all pages the very same bytes', async () => {
    const pages = [viewer(), viewer(), viewer()];
    await changes(80, 0.5);
    const [first, ...others] = pages.map(({ sent }) => sent.slice(1));
    for (const other of others) {
      expect(other.every((message, index) => message === first![index])).toBe(true);
    }
  });

  it('sends nothing more to a page that does not answer, and gives it the newest state once it does', async () => {
    const [slow, quick] = [viewer(), viewer()];
    slow.lively = false;
    await changes(80, 8);
    const before = slow.sent.length;
    expect(before).toBeLessThan(70);
    expect(quick.sent.length).toBeGreaterThan(150);
    slow.emit('pong');
    expect(slow.messages.at(-1)!.type).toBe('hello');
    slow.lively = true;
    await changes(80, 1);
    expect(slow.messages.at(-1)).toEqual(quick.messages.at(-1));
  });

  it('holds back when bytes pile up in the process', async () => {
    const page = viewer();
    page.bufferedAmount = 300_000;
    await changes(80, 0.9);
    expect(page.sent).toHaveLength(1);
  });

  it('shows out a page that is gone', async () => {
    const page = viewer();
    page.lively = false;
    await changes(10, 18);
    expect(page.ended).toBe('terminated');
    expect(hub.viewers).toBe(0);
  });

  it('has room for 256 pages, the last 16 for those who operate, and again for one when one leaves', () => {
    const admit = (operates: boolean) => hub.admit(new FakeSocket() as unknown as Socket, operates);
    const pages = Array.from({ length: 240 }, () => viewer(false));
    expect(admit(false)).toBe(false);
    for (let seat = 0; seat < 16; seat++) expect(admit(true)).toBe(true);
    expect(admit(true)).toBe(false);
    pages[7]!.close(1000);
    expect(hub.viewers).toBe(255);
    expect(admit(true)).toBe(true);
  });

  it('tells those who operate before those who look on, whoever came first', async () => {
    const order: string[] = [];
    for (const [name, operates] of [
      ['watcher', false],
      ['operator', true],
    ] as const) {
      const page = viewer(operates);
      page.send = () => void order.push(name);
    }
    await changes(10, 0.2);
    expect(order.slice(0, 2)).toEqual(['operator', 'watcher']);
  });

  it('does not fall over a socket that breaks', async () => {
    const page = viewer();
    page.emit('error', new Error('broken'));
    await changes(20, 1);
    expect(page.count('live')).toBeGreaterThan(5);
  });

  it('takes leave when it stops, and leaves no timer behind', async () => {
    const page = viewer();
    hub.stop();
    expect(page.ended).toBe('closed 1001');
    await clock.pass(5000);
    expect(clock.waiting).toBe(0);
  });
});
