/** A start that comes late, or from a page that shows another run, turns nothing. */
import { afterEach, describe, expect, it } from 'vitest';
import { whyNotNow } from '../../server/http/late.ts';
import { TestServer } from './server.ts';

describe('a start', () => {
  it.each([
    [null, true],
    [{ run: 'a', sentAt: 9_000 }, true],
    [{ run: 'a', sentAt: 4_900 }, false],
    [{ run: 'b', sentAt: 9_900 }, false],
    // Of a service before this one, whose clock was further on.
    [{ run: 'a', sentAt: 20_000 }, false],
  ])('%j at 10 s of the clock, run a in hand', (start, taken) => {
    expect(whyNotNow(start, 'a', 10_000) === null).toBe(taken);
  });
});

describe('the service', () => {
  let server: TestServer;
  afterEach(() => server.stop());

  const start = (body: object) =>
    server.request('POST', '/api/run/start', {
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });

  it('starts what the page saw moments ago, and nothing else', async () => {
    server = await TestServer.start();
    await server.connected();
    const page = await server.page();
    expect((await server.post('/api/run/arm')).status).toBe(200);
    await page.until(() => page.last('live')?.run.figures.phase === 'ready');
    const { run, sentAt } = page.last('live')!;
    const seen = { run: run.id!, sentAt: sentAt! };
    for (const wrong of [
      { ...seen, run: 'another' },
      { ...seen, sentAt: seen.sentAt - 6000 },
    ]) {
      expect(await start(wrong)).toMatchObject({
        status: 409,
        body: { code: 'not-ready' },
      });
    }
    expect((await start({})).status).toBe(400);
    expect(server.shop.stand.board.motor).toBe(false);
    expect((await start(seen)).status).toBe(200);
    expect(server.shop.stand.board.motor).toBe(true);
  });
});
