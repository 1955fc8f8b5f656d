import { request } from 'node:http';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Problem } from '../../server/http/messages.ts';
import { plan } from '../records/samples.ts';
import { complaintsOf } from '../session/schema.ts';
import { TestServer } from './server.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
  await server.connected();
});
afterAll(() => server.stop());

/** The sample plan with one value changed, by JSON pointer; `undefined` leaves it out. */
function planWith(pointer: string, value: unknown): unknown {
  const changed = structuredClone(plan) as unknown as Record<string, unknown>;
  const steps = pointer.slice(1).split('/');
  const last = steps.pop()!;
  const holder = steps.reduce((at, step) => at[step] as Record<string, unknown>, changed);
  if (value === undefined) delete holder[last];
  else holder[last] = value;
  return changed;
}

type Case = [pointer: string, value: unknown, message: string];

const refused: Case[] = [
  ['/drill/circumferenceMetres', 0, 'The wheel circumference must be between 0.2 and 15 m; you gave 0.'],
  [
    '/drill/circumferenceMetres',
    -2.7,
    'The wheel circumference must be between 0.2 and 15 m; you gave -2.7.',
  ],
  [
    '/drill/circumferenceMetres',
    2700,
    'The wheel circumference must be between 0.2 and 15 m; you gave 2700.',
  ],
  ['/drill/circumferenceMetres', '2.7', 'The wheel circumference must be a number; you gave the text "2.7".'],
  ['/drill/circumferenceMetres', Number.NaN, 'The wheel circumference must be a number; you gave nothing.'],
  ['/drill/circumferenceMetres', undefined, 'The wheel circumference is missing.'],
  ['/drill/circumferenceMetres', true, 'The wheel circumference must be a number; you gave true.'],
  ['/drill/rowSpacingMetres', 0, 'The row spacing must be between 0.02 and 3 m; you gave 0.'],
  ['/drill/slip', 1, 'The slip, as a fraction, must be between 0 and 0.5; you gave 1.'],
  ['/drill/name', '', 'The name of the drill must not be empty.'],
  ['/drill/name', 7, 'The name of the drill must be a text; you gave 7.'],
  ['/drill/setting', 'x'.repeat(41), 'The setting must have at most 40 characters; you gave 41.'],
  ['/turns', 0, 'The number of turns must be between 0.5 and 2000; you gave 0.'],
  ['/turns', 'many', 'The number of turns must be a number; you gave the text "many".'],
  ['/rowsCaught', 1.5, 'The number of rows caught must be a whole number; you gave 1.5.'],
  ['/target/gramsPerSquareMetre', -1, 'The target rate must be between 0.005 and 200 g/m²; you gave -1.'],
  ['/target', [1], 'The part about the target must be a group of values; you gave a list.'],
  ['/mode', 'horse', 'The way of turning must be "motor" or "hand"; you gave the text "horse".'],
  [
    '/plannedSpeedMetresPerSecond',
    99,
    'The planned ground speed must be between 0.1 and 10 m/s; you gave 99.',
  ],
  [
    '/plannedSpeedMetresPerSecond',
    'fast',
    'The planned ground speed must be a number; you gave the text "fast".',
  ],
  ['/colour', 'red', 'There is a field too many: "colour" means nothing here.'],
  ['/drill/colour', 'red', 'There is a field too many: "colour" means nothing here.'],
  ['/seed', undefined, 'The part about the seed is missing.'],
];

async function expectUnharmed(): Promise<void> {
  expect((await server.get('/api/plan')).body).toEqual(server.shop.session.view().plan);
  expect((await server.get('/api/health')).body.status).toBe('ok');
  expect(server.faults).toEqual([]);
}

describe('a plan with a bad value', () => {
  it.each(refused)('is refused in a sentence: %s = %o', async (pointer, value, message) => {
    const before = (await server.get('/api/plan')).body;
    const { status, body } = await server.put('/api/plan', planWith(pointer, value));
    expect({ status, ...body }).toEqual({ status: 400, code: 'bad-input', message, field: pointer });
    expect((await server.get('/api/plan')).body).toEqual(before);
    await expectUnharmed();
  });

  it.each([[null], [[]], ['plan'], [7]])('is refused when it is no plan at all: %o', async (value) => {
    const { status, body } = await server.put('/api/plan', value);
    expect(status).toBe(400);
    expect(body.message).toMatch(/^The request must be a group of values; you gave/);
  });

  it('is taken when it is good, whatever was refused before', async () => {
    expect(await server.put('/api/plan', plan)).toEqual({ status: 200, body: plan });
    expect(await server.shop.records.setting('plan')).toEqual(plan);
    const noSpeed = { ...plan, plannedSpeedMetresPerSecond: null };
    expect((await server.put('/api/plan', noSpeed)).status).toBe(200);
  });
});

const json = { 'content-type': 'application/json' };

describe('a request that cannot be read', () => {
  it.each([
    ['no JSON', '{"turns": NaN}', json, 400, /no JSON.*NaN/],
    ['JSON cut short', '{"turns": 2', json, 400, /no JSON/],
    ['empty', '', json, 400, /empty/],
    ['a text', 'turns=2', { 'content-type': 'text/plain' }, 415, /must come as JSON/],
    ['a form', 'turns=2', { 'content-type': 'application/x-www-form-urlencoded' }, 415, /must come as JSON/],
    ['too large', JSON.stringify({ name: 'x'.repeat(20_000) }), json, 413, /larger than anything/],
    ['poisoned', '{"__proto__": {"turns": 1}}', json, 400, /./],
  ])('%s', async (_name, body, headers, status, message) => {
    const answer = await server.request('PUT', '/api/plan', { headers, body });
    expect(answer.status).toBe(status);
    expect(answer.body.message).toMatch(message);
    expect(complaintsOf(Problem, answer.body)).toEqual([]);
    await expectUnharmed();
  });

  it.each([
    ['GET', '/api/nothing'],
    ['DELETE', '/api/plan'],
    ['GET', '/api/runs/nobody'],
    ['GET', '/api/runs/nobody/readings'],
    ['GET', '/../../etc/passwd'],
  ])('%s %s: there is nothing', async (method, path) => {
    const { status, body } = await server.request(method, path);
    expect(status).toBe(404);
    expect(complaintsOf(Problem, body)).toEqual([]);
  });

  it.each([
    ['/api/runs?limit=-1'],
    ['/api/runs?limit=all'],
    ['/api/runs?colour=red'],
    ['/api/runs/x/readings?from=1e3'],
  ])('%s: no such question', async (path) => {
    expect((await server.get(path)).status).toBe(400);
  });

  it.each([
    ['garbage', 'garbage\r\n\r\n'],
    ['no end of headers', `GET / HTTP/1.1\r\nHost: localhost\r\nX: ${'x'.repeat(40_000)}`],
    [
      'a broken upgrade',
      'GET /api/live HTTP/1.1\r\nHost: localhost\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n\r\n',
    ],
  ])('raw bytes: %s', async (_name, bytes) => {
    const [host, port] = server.address.split(':') as [string, string];
    await new Promise<void>((resolve) => {
      const socket = connect(Number(port), host, () => socket.end(bytes));
      socket.on('error', () => {});
      socket.on('close', () => resolve());
      socket.resume();
    });
    await expectUnharmed();
  });
});

describe('the port of the stand', () => {
  it.each([
    [{ path: 7 }, 400],
    [{ path: '' }, 400],
    [{ path: 'x'.repeat(300) }, 400],
    [{ path: '/dev/tty\nUSB0' }, 400],
    [{}, 400],
  ])('%o is refused', async (choice, status) => {
    const answer = await server.request('POST', '/api/link', { headers: json, body: JSON.stringify(choice) });
    expect(answer.status).toBe(status);
    expect(answer.body.field).toBe('/path');
  });

  it('that does not exist is said in a sentence; the right one is found again', async () => {
    const choose = (path: string) =>
      server.request('POST', '/api/link', { headers: json, body: JSON.stringify({ path }) });
    expect((await choose('/dev/no-such-port')).status).toBe(200);
    const condition = async () => (await server.get('/api/state')).body.link;
    while ((await condition()).condition !== 'lost') await new Promise((resolve) => setTimeout(resolve, 10));
    expect((await condition()).sentence).toMatch(/no port \/dev\/no-such-port/);
    const health = (await server.get('/api/health')).body;
    expect(health).toMatchObject({ status: 'attention', reasons: [expect.stringMatching(/no-such-port/)] });
    for (const act of ['arm', 'start']) {
      const refusal = await server.post(`/api/run/${act}`);
      expect([refusal.status, refusal.body.code]).toEqual([409, 'disconnected']);
    }
    expect((await choose('emulated')).status).toBe(200);
    await server.connected();
  });
});

describe('requests from elsewhere', () => {
  const get = (headers: Record<string, string>, path = '/api/state') =>
    new Promise<number>((resolve) => {
      const [host, port] = server.address.split(':') as [string, string];
      request({ host, port, path, headers, method: 'GET' }, (response) => {
        response.resume();
        resolve(response.statusCode!);
      }).end();
    });

  it.each([
    [{ host: 'localhost:8321' }, 200],
    [{ host: '127.0.0.1' }, 200],
    [{ host: '[::1]:8321' }, 200],
    [{ host: 'evil.example' }, 403],
    [{ host: 'localhost.evil.example:8321' }, 403],
    [{ host: '192.168.1.7:8321' }, 403],
    [{ host: 'localhost@evil.example' }, 403],
    [{ host: 'localhost:8321', origin: 'http://localhost:8321' }, 200],
    [{ host: 'localhost:8321', origin: 'http://localhost:3000' }, 403],
    [{ host: 'localhost:8321', origin: 'https://evil.example' }, 403],
    [{ host: 'localhost:8321', origin: 'null' }, 403],
    [{ host: 'localhost:8321', 'sec-fetch-site': 'cross-site' }, 403],
    [{ host: 'localhost:8321', 'sec-fetch-site': 'same-origin' }, 200],
  ])('%o -> %i', async (headers, status) => {
    expect(await get(headers as Record<string, string>)).toBe(status);
  });

  it('cannot start anything', async () => {
    const before = server.shop.session.view().run.id;
    for (const act of ['arm', 'start', 'stop', 'abort']) {
      const answer = await server.request('POST', `/api/run/${act}`, {
        headers: { origin: 'http://evil.example' },
      });
      expect([answer.status, answer.body.code]).toEqual([403, 'turned-away']);
    }
    expect(server.shop.session.view().run.id).toBe(before);
  });
});
