import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SocketMessage } from '../../server/http/messages.ts';
import { freshness, initialLive, type LiveState, parseMessage, reduce } from '../../web/src/state/live.ts';
import { keptPoints, type Point } from '../../web/src/state/trace.ts';
import { figuresOf, link, plan } from './invented.ts';

const run = (id: string | null) => ({ id, plan, figures: figuresOf(plan, 'turning', 3) });
const hello = (more: Partial<Extract<SocketMessage, { type: 'hello' }>> = {}): SocketMessage => ({
  type: 'hello',
  startId: 'a',
  version: '1',
  demo: false,
  link,
  plan,
  run: run('run-1'),
  trace: [
    [0, 0, 0],
    [1, 0.5, 2],
  ],
  ...more,
});
const live = (id: string | null, trace: Point[]): SocketMessage => ({
  type: 'live',
  link,
  run: run(id),
  trace,
});
const hear = (state: LiveState, ...messages: SocketMessage[]): LiveState =>
  messages.reduce((now, message) => reduce(now, { type: 'message', message, at: 1000 }), state);

describe('what the page knows', () => {
  it('is all in the hello, chart included: a reload loses nothing', () => {
    const before = hear(initialLive, hello(), live('run-1', [[2, 1, 4]]));
    const reloaded = hear(initialLive, hello({ trace: [...before.trace] }));
    expect(reloaded).toEqual(before);
  });

  it('is the same on two pages that came at different times', () => {
    const early = hear(initialLive, hello(), live('run-1', [[2, 1, 4]]), live('run-1', [[3, 1.5, 6]]));
    const late = hear(
      initialLive,
      hello({
        trace: [
          [0, 0, 0],
          [1, 0.5, 2],
          [2, 1, 4],
        ],
      }),
      live('run-1', [[3, 1.5, 6]]),
    );
    expect(late).toEqual(early);
  });

  it('is forgotten at a hello of a server that was started anew', () => {
    const before = hear(initialLive, hello());
    const after = hear(before, hello({ startId: 'b', run: run(null), trace: [] }));
    expect(after).toEqual(hear(initialLive, hello({ startId: 'b', run: run(null), trace: [] })));
  });

  it('starts a new chart when a run begins, even when the word of it was missed', () => {
    const before = hear(initialLive, hello());
    expect(hear(before, { type: 'begin', run: run('run-2') }).trace).toEqual([]);
    expect(hear(before, live('run-2', [[0.1, 0, 0]])).trace).toEqual([[0.1, 0, 0]]);
  });

  it('counts the news of the calibration, and forgets the count at a hello', () => {
    const told = hear(initialLive, hello(), { type: 'calibration' }, { type: 'calibration' });
    expect(told.calibrationNews).toBe(2);
    expect(told.run).not.toBeNull();
    expect(hear(told, hello()).calibrationNews).toBe(0);
  });

  it('counts how often everything was replaced, and asks for the calibration anew each time', () => {
    const told = hear(initialLive, hello(), hello(), { type: 'restored' });
    expect([told.recordsNews, told.calibrationNews]).toEqual([1, 1]);
    expect(hear(told, hello(), { type: 'restored' }).recordsNews).toBe(2);
    expect(parseMessage('{"type":"restored"}')).toEqual({ type: 'restored' });
  });

  it('takes no point of the chart twice', () => {
    const again = hear(initialLive, hello(), live('run-1', [[1, 0.5, 2]]));
    expect(again.trace).toHaveLength(2);
  });

  it('keeps the last figures while the connection is gone', () => {
    const gone = reduce(hear(initialLive, hello()), { type: 'closed', retryAt: 1500 });
    expect(gone.run).not.toBeNull();
    expect(gone).toMatchObject({ socket: 'waiting', attempt: 1, retryAt: 1500 });
    expect(reduce(gone, { type: 'connecting' }).socket).toBe('connecting');
    expect(hear(gone, hello())).toMatchObject({ socket: 'open', attempt: 0, retryAt: null });
  });

  it('never holds more chart points than its bound, whatever comes', () => {
    const message = fc.oneof(
      fc.constant(hello()),
      fc.constant<SocketMessage>({ type: 'begin', run: run('run-2') }),
      fc
        .record({ from: fc.nat(1000), count: fc.nat(3000), id: fc.constantFrom('run-1', 'run-2') })
        .map(({ from, count, id }) =>
          live(
            id,
            Array.from({ length: count }, (_, index): Point => [from + index, index, index]),
          ),
        ),
    );
    fc.assert(
      fc.property(fc.array(message, { maxLength: 12 }), (messages) => {
        const { trace } = hear(initialLive, ...messages);
        expect(trace.length).toBeLessThanOrEqual(keptPoints);
        for (let index = 1; index < trace.length; index++) {
          expect(trace[index]![0]).toBeGreaterThan(trace[index - 1]![0]);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('a text from the socket', () => {
  it('is a message, or nothing', () => {
    expect(parseMessage(JSON.stringify(hello()))?.type).toBe('hello');
    for (const text of ['', '{', 'null', '7', '[]', '{"type":"news"}', '{"type":7}'])
      expect(parseMessage(text)).toBeNull();
  });

  it('never throws', () => {
    fc.assert(fc.property(fc.oneof(fc.string(), fc.json()), (text) => void parseMessage(text)));
  });
});

describe('the age of the figures', () => {
  const heard = hear(initialLive, hello({ link: { ...link, ageMillis: 40 } }));

  it('grows with the time since the last word', () => {
    expect(freshness(heard, 1000)).toEqual({ stale: false, ageMillis: 40 });
    expect(freshness(heard, 1500)).toEqual({ stale: false, ageMillis: 540 });
    expect(freshness(heard, 4000)).toEqual({ stale: true, ageMillis: 3040 });
  });

  it('makes them old when the stand is silent or the server is gone', () => {
    expect(freshness(hear(heard, hello({ link: { ...link, condition: 'silent' } })), 1000).stale).toBe(true);
    expect(freshness(reduce(heard, { type: 'closed', retryAt: 0 }), 1000).stale).toBe(true);
    expect(freshness(initialLive, 1000)).toEqual({ stale: true, ageMillis: null });
  });
});
