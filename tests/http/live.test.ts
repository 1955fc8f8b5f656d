import { afterEach, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import {
  BeginMessage,
  HealthAnswer,
  HelloMessage,
  LiveMessage,
  PortsAnswer,
  ReadingsAnswer,
  RunDetail,
  RunsAnswer,
  RunView,
  StateAnswer,
} from '../../server/http/messages.ts';
import type { JournalEntry } from '../../server/records/types.ts';
import { replay } from '../../server/run/session-replay.ts';
import { plan } from '../records/samples.ts';
import { complaintsOf } from '../session/schema.ts';
import { pause, TestServer } from './server.ts';

let server: TestServer;
afterEach(() => server.stop());

async function turning(): Promise<void> {
  await server.connected();
  expect((await server.post('/api/run/arm')).status).toBe(200);
  expect((await server.post('/api/run/start')).status).toBe(200);
}

describe('the live socket', () => {
  it('tells a page all from the hello to the end of a run, in the declared shapes', async () => {
    server = await TestServer.start();
    await server.connected();
    const page = await server.page();
    expect(page.first('hello')).toMatchObject({ version: '1.2.3', demo: true, trace: [] });
    expect(page.first('hello')!.run.id).toBeNull();
    // A page is told at most twenty times a second: a state has to last to be seen.
    expect((await server.post('/api/run/arm')).status).toBe(200);
    await page.until(({ messages }) => {
      const last = messages.at(-1)!;
      return last.type === 'live' && last.run.figures.phase === 'ready';
    });
    expect((await server.post('/api/run/start')).status).toBe(200);
    await page.until(({ messages }) => {
      const last = messages.at(-1)!;
      return last.type === 'live' && last.run.figures.phase === 'finished';
    });
    const shapes = { hello: HelloMessage, live: LiveMessage, begin: BeginMessage };
    for (const message of page.messages) {
      expect(complaintsOf(shapes[message.type as keyof typeof shapes], message)).toEqual([]);
    }
    const phases = page.messages.flatMap((message) =>
      message.type === 'live' ? message.run.figures.phase : [],
    );
    const inOrder = phases.filter((phase, index) => phase !== phases[index - 1]);
    expect(inOrder).toEqual(expect.arrayContaining(['taring', 'ready', 'turning', 'settling', 'finished']));
    const heard = page.messages.flatMap((message) => (message.type === 'live' ? message.trace : []));
    expect(heard).toEqual(server.shop.session.trace());
    expect(page.last('live')!.run.figures).toEqual(server.shop.session.view().run.figures);
  });

  it('gives two pages the same, and a plan changed on one to the other', async () => {
    server = await TestServer.start();
    const [one, other] = [await server.page(), await server.page()];
    await turning();
    const changed = { ...plan, turns: 7 };
    expect((await server.put('/api/plan', changed)).status).toBe(200);
    await one.until(({ messages }) => messages.at(-1)!.type === 'live' && messages.length > 20);
    const newest = one.texts.at(-1)!;
    await other.until(({ texts }) => texts.includes(newest));
    const [mine, theirs] = [one.texts, other.texts].map((texts) =>
      texts.slice(texts.findIndex((text) => text.includes('"begin"'))),
    );
    const shared = Math.min(mine!.length, theirs!.length);
    expect(shared).toBeGreaterThan(5);
    expect(theirs!.slice(0, shared)).toEqual(mine!.slice(0, shared));
    expect(one.first('plan')?.plan).toEqual(changed);
    expect(one.last('live')!.run.plan.turns).toBe(2); // the run in hand keeps its own
  });

  it('gives a page reloaded in mid-run everything there is', async () => {
    server = await TestServer.start({ plan: { turns: 20 } });
    await turning();
    const before = await server.page();
    await before.until((page) => (page.last('live')?.run.figures.turnsDone ?? 0) > 1);
    before.close();
    const hello = (await server.page()).first('hello')!;
    expect(hello.run.figures.phase).toBe('turning');
    expect(hello.run.figures.turnsDone).toBeGreaterThan(1);
    expect(hello.trace.length).toBeGreaterThan(50);
    expect(hello.trace).toEqual(server.shop.session.trace().slice(0, hello.trace.length));
    expect(complaintsOf(StateAnswer, (await server.get('/api/state')).body)).toEqual([]);
  });

  it('spares a page that does not read, and gives it the newest state once it does', async () => {
    server = await TestServer.start({ plan: { turns: 20 } });
    const [slow, quick] = [await server.page(), await server.page()];
    (slow.socket as unknown as { _socket: { pause(): void } })._socket.pause();
    await turning();
    await pause(4500);
    const missed = quick.texts.length;
    (slow.socket as unknown as { _socket: { resume(): void } })._socket.resume();
    await slow.until(({ messages }) => messages.filter(({ type }) => type === 'hello').length === 2);
    expect(slow.texts.length).toBeLessThan(missed);
    expect(slow.last('hello')!.trace.length).toBeGreaterThan(50);
    await slow.until(({ messages }) => messages.at(-1)!.type === 'live');
  });

  it('only tells: a page that speaks, or comes from elsewhere, is shown out', async () => {
    server = await TestServer.start();
    const talker = await server.page();
    const closed = new Promise<number>((resolve) => talker.socket.once('close', resolve));
    talker.socket.send('start');
    expect(await closed).toBe(1008);
    const refusals = [
      [{ origin: 'http://evil.example' }, '/api/live', 403],
      [{ headers: { host: 'evil.example' } }, '/api/live', 403],
      [{}, '/api/other', 404],
    ] as const;
    for (const [options, path, status] of refusals) {
      const stranger = new WebSocket(`ws://${server.address}${path}`, options);
      const answer = await new Promise((resolve) => {
        stranger.once('unexpected-response', (_request, response) => resolve(response.statusCode));
        stranger.once('error', () => {});
        stranger.once('open', () => resolve('open'));
      });
      expect(answer).toBe(status);
    }
    expect((await server.get('/api/health')).body.viewers).toBe(0);
  });
});

describe('the routes over a run', () => {
  it('refuse a second arm and a second start, and answer in the declared shapes', async () => {
    server = await TestServer.start();
    await server.connected();
    expect((await server.post('/api/run/start')).status).toBe(409);
    expect((await server.post('/api/run/abort')).status).toBe(409);
    expect((await server.post('/api/run/stop')).status).toBe(200);
    const arms = await Promise.all([server.post('/api/run/arm'), server.post('/api/run/arm')]);
    expect(arms.map(({ status }) => status).sort()).toEqual([200, 409]);
    const starts = await Promise.all([server.post('/api/run/start'), server.post('/api/run/start')]);
    expect(starts.map(({ status }) => status).sort()).toEqual([200, 409]);
    const second = await server.post('/api/run/arm');
    expect([second.status, second.body.code]).toEqual([409, 'run-under-way']);
    const stopped = await server.post('/api/run/stop');
    expect(stopped.status).toBe(200);
    expect(complaintsOf(RunView, stopped.body)).toEqual([]);
    expect(server.shop.stand.board.motor).toBe(false);
  });

  it('give the run back from the records, with its readings as they came', async () => {
    server = await TestServer.start();
    await turning();
    while (server.shop.phase !== 'finished') await pause(10);
    const runs = (await server.get('/api/runs?limit=5')).body;
    expect(complaintsOf(RunsAnswer, runs)).toEqual([]);
    const { id, figures } = server.shop.session.view().run;
    expect(runs).toMatchObject({ runs: [{ id, figures }], next: null });
    const detail = (await server.get(`/api/runs/${id}`)).body;
    expect(complaintsOf(RunDetail, detail)).toEqual([]);
    expect(detail.trace).toEqual(server.shop.session.trace());

    const entries: JournalEntry[] = [];
    for (let from: number | null = 0; from !== null; ) {
      const page: ReadingsAnswer = (await server.get(`/api/runs/${id}/readings?from=${from}&limit=300`)).body;
      expect(complaintsOf(ReadingsAnswer, page)).toEqual([]);
      entries.push(...page.entries);
      from = page.next;
    }
    expect(replay(entries).figures).toEqual(figures);
    expect(entries.filter(({ text }) => text.startsWith('R ')).length).toBeGreaterThan(300);
  });

  it('say how the service is, which ports there are, and describe themselves', async () => {
    server = await TestServer.start();
    await server.connected();
    const health = (await server.get('/api/health')).body;
    expect(complaintsOf(HealthAnswer, health)).toEqual([]);
    expect(health).toMatchObject({ status: 'ok', reasons: [], version: '1.2.3' });
    const ports = (await server.get('/api/ports')).body;
    expect(complaintsOf(PortsAnswer, ports)).toEqual([]);
    expect(ports.ports[0].path).toBe('emulated');
    const described = (await server.get('/api/openapi.json')).body;
    expect(described.openapi).toMatch(/^3\./);
    const listed = [
      '/api/health',
      '/api/link',
      '/api/plan',
      '/api/ports',
      '/api/run/abort',
      '/api/run/arm',
      '/api/run/start',
      '/api/run/stop',
      '/api/runs',
      '/api/runs/{id}',
      '/api/runs/{id}/readings',
      '/api/state',
    ];
    expect(Object.keys(described.paths)).toEqual(expect.arrayContaining(listed));
  });
});
