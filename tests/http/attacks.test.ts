import { mkdtempSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { connect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { hashToken } from '../../server/access/token.ts';
import { pause } from './server.ts';
import { cookieIn, ShopNetwork } from './shop-network.ts';

/** What someone on the shop network, or a web site open in a browser there, might try. Each is refused. */

let shop: ShopNetwork;
let port: number;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'catchbench-attacks-'));
  shop = await ShopNetwork.open(folder, {
    patience: { headersMillis: 300, progressMillis: 300, progressBytes: 2000, lookEveryMillis: 50 },
  });
  await shop.app.listen({ port: 0, host: '127.0.0.1' });
  ({ port } = shop.app.server.address() as AddressInfo);
});
afterAll(async () => {
  expect(shop.faults).toEqual([]);
  await shop.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Over the wire, as a stranger: whoever comes through a proxy is none of this computer's own. */
const stranger = { via: '1.1 test' };

/** What becomes of a socket with these headers: `open`, or the status it was refused with. */
function socket(headers: Record<string, string>): Promise<WebSocket | number> {
  return new Promise((resolve) => {
    const opened = new WebSocket(`ws://127.0.0.1:${port}/api/live`, { headers });
    opened.once('open', () => resolve(opened));
    opened.once('unexpected-response', (_request, { statusCode = 0 }) => resolve(statusCode));
    opened.on('error', () => {});
  });
}

/** Sends these bytes as they are; everything that comes back until the server hangs up. */
function raw(bytes: string | Buffer): Promise<string> {
  return new Promise((resolve) => {
    let heard = '';
    const wire = connect(port, '127.0.0.1', () => wire.write(bytes));
    wire.on('data', (data) => (heard += data.toString('latin1')));
    wire.on('error', () => {});
    wire.on('close', () => resolve(heard));
  });
}

const statusOf = (answer: string): number => Number(/^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1] ?? 0);
const pairWith = (code: string, from = '192.168.1.20', headers: Record<string, string> = {}) =>
  shop.ask({ method: 'POST', url: '/api/access/pair', from, headers, body: { code, name: 'Tablet' } });
const newCode = async () =>
  (await shop.host('POST', '/api/access/codes', { role: 'manage' })).body.code as string;

describe('a web site in a browser of the shop', () => {
  it.each([
    ['another origin', { origin: 'http://evil.example' }],
    ['another port of this computer', { origin: 'http://localhost:3000' }],
    ['no origin at all, as from a file', { origin: 'null' }],
    ['https instead of http', { origin: `https://bench.local:8321` }],
    ['cross-site without origin', { 'sec-fetch-site': 'cross-site' }],
    ['same-site without origin', { 'sec-fetch-site': 'same-site' }],
    [
      'a link followed to the records',
      { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'navigate', 'sec-fetch-dest': 'document' },
    ],
  ])('is refused everything, with the cookie of a paired browser too: %s', async (_name, headers) => {
    const { cookie } = await shop.pair('manage');
    for (const [method, url] of [
      ['GET', '/api/state'],
      ['POST', '/api/run/arm'],
      ['POST', '/api/access/pair'],
      ['GET', '/api/export'],
    ]) {
      const { status, body } = await shop.ask({ method: method!, url: url!, cookie, headers });
      expect([status, body.code], `${method} ${url}`).toEqual([403, 'turned-away']);
    }
    const own = { host: `localhost:${port}`, cookie };
    if ('origin' in headers) expect(await socket({ ...own, ...headers })).toBe(403);
  });

  it('may link to the page, which holds nothing', async () => {
    const headers = {
      'sec-fetch-site': 'cross-site',
      'sec-fetch-mode': 'navigate',
      'sec-fetch-dest': 'document',
    };
    expect((await shop.ask({ url: '/', headers })).status).toBe(200);
  });

  it('that points its own name at this computer is refused', async () => {
    for (const host of [
      'evil.example',
      `evil.example:${port}`,
      'bench.local.evil.example',
      'bench.local@evil.example',
      '0.0.0.0',
      '[::ffff:127.0.0.1]',
      'a b',
    ]) {
      for (const from of ['127.0.0.1', '192.168.1.20']) {
        const { status, body } = await shop.ask({ url: '/api/access', from, headers: { host } });
        expect([status, body.code], host).toEqual([403, 'turned-away']);
      }
      expect(await socket({ host }), host).not.toBeInstanceOf(WebSocket);
    }
    expect(statusOf(await raw('GET /api/state HTTP/1.1\r\nHost:\r\nConnection: close\r\n\r\n'))).toBe(403);
    expect(statusOf(await raw('GET /api/state HTTP/1.0\r\n\r\n'))).toBe(403);
    expect(
      statusOf(
        await raw(
          'GET http://evil.example/api/state HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n',
        ),
      ),
    ).toBe(403);
  });

  it('cannot send a form: nothing but JSON is read', async () => {
    for (const type of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x',
      'application/jsonx',
    ]) {
      const { status } = await shop.app
        .inject({
          method: 'POST',
          url: '/api/access/pair',
          headers: { host: 'localhost', 'content-type': type },
          payload: '{"code":"22222222","name":"x"}',
        })
        .then(({ statusCode }) => ({ status: statusCode }));
      expect(status, type).toBe(415);
    }
  });

  it('cannot show the page in a frame, nor have its answers as script, style or picture', async () => {
    const { headers } = await shop.ask({ url: '/' });
    const policy = String(headers['content-security-policy']);
    expect(policy).toMatch(/default-src 'self'/);
    expect(policy).toMatch(/frame-ancestors 'none'/);
    expect(policy).toMatch(/worker-src 'self'/);
    expect(policy).not.toMatch(/unsafe|\*|https?:/);
    expect(headers).toMatchObject({
      'x-frame-options': 'DENY',
      'x-content-type-options': 'nosniff',
      'cross-origin-resource-policy': 'same-origin',
      'cross-origin-opener-policy': 'same-origin',
      'referrer-policy': 'no-referrer',
    });
    expect(headers['access-control-allow-origin']).toBeUndefined();
    expect((await shop.ask({ url: '/api/access' })).headers['cache-control']).toBe('no-store');
  });
});

describe('pairing', () => {
  it('cannot be forged: no invented, bent or hashed secret lets anyone in', async () => {
    const { cookie } = await shop.pair('manage');
    const secret = cookie.split('=')[1]!;
    const bent = (secret[0] === 'A' ? 'B' : 'A') + secret.slice(1);
    for (const value of [
      '',
      'x',
      bent,
      secret.slice(0, -1),
      `${secret}A`,
      hashToken(secret),
      'host',
      encodeURIComponent('../host'),
      'A'.repeat(43),
      'null',
      '[object Object]',
    ]) {
      const { status } = await shop.ask({ url: '/api/state', cookie: `catchbench=${value}` });
      expect(status, value).toBe(401);
      expect(await socket({ ...stranger, cookie: `catchbench=${value}` })).toBe(401);
    }
    expect((await shop.ask({ url: '/api/state', cookie: `__Host-catchbench=${secret}` })).status).toBe(401);
    expect((await shop.ask({ url: '/api/state', cookie })).status).toBe(200);
  });

  it('cannot be replayed: a code lets one device in, once', async () => {
    const code = await newCode();
    expect((await pairWith(code)).status).toBe(200);
    const again = await pairWith(code, '192.168.1.66');
    expect([again.status, again.body.code]).toEqual([409, 'no-code']);
    const [first, second] = await newCode().then((one) =>
      Promise.all([pairWith(one), pairWith(one, '192.168.1.67')]),
    );
    expect([first!.status, second!.status].toSorted()).toEqual([200, 409]);
  });

  it('cannot be had late, nor with a code that another has replaced', async () => {
    const late = await newCode();
    shop.later.millis += 5 * 60_000;
    expect((await pairWith(late)).body.code).toBe('no-code');
    const replaced = await newCode();
    await newCode();
    expect((await pairWith(replaced)).body.code).toBe('wrong-code');
  });

  it('cannot be guessed: five wrong tries void the code, ten minutes must pass for who made them', async () => {
    const code = await newCode();
    for (let guess = 0; guess < 5; guess++) {
      expect((await pairWith(`2222-222${guess + 2}`, '192.168.1.70')).body.code).toBe('wrong-code');
    }
    expect((await pairWith(code, '192.168.1.71')).body.code).toBe('no-code');
    const next = await newCode();
    expect((await pairWith(next, '192.168.1.70')).status).toBe(429);
    // The others are not held up by it.
    expect((await pairWith(next, '192.168.1.71')).status).toBe(200);
    shop.later.millis += 10 * 60_000;
    expect((await pairWith(await newCode(), '192.168.1.70')).status).toBe(200);
  });

  it('cannot be guessed by many at once: all together have five tries', async () => {
    await newCode();
    const guesses = Array.from({ length: 40 }, (_, guess) =>
      pairWith(`3333-33${22 + guess}`, `192.168.2.${guess}`),
    );
    const codes = (await Promise.all(guesses)).map(({ body }) => body.code);
    expect(codes.filter((code) => code === 'wrong-code').length).toBeLessThanOrEqual(5);
    expect(codes.every((code) => ['wrong-code', 'no-code', 'wait'].includes(code))).toBe(true);
  });

  it('cannot be hammered: after a dozen requests a minute a device waits', async () => {
    const statuses: number[] = [];
    for (let request = 0; request < 14; request++)
      statuses.push((await pairWith('x', '192.168.1.80')).status);
    expect(statuses.slice(-2)).toEqual([429, 429]);
    const knocks: number[] = [];
    for (let knock = 0; knock < 8; knock++) {
      knocks.push(
        (await shop.ask({ method: 'POST', url: '/api/access/knock', from: '192.168.1.81' })).status,
      );
    }
    expect(knocks.slice(-2)).toEqual([429, 429]);
  });

  it('fixes no session: the secret is always a new one, and what was there before is over', async () => {
    const planted = `catchbench=${'A'.repeat(43)}`;
    const paired = await pairWith(await newCode(), '192.168.1.90', { cookie: planted });
    const mine = cookieIn(paired.headers);
    expect(mine).not.toBe(planted);
    expect((await shop.ask({ url: '/api/state', cookie: planted })).status).toBe(401);
    const anew = await pairWith(await newCode(), '192.168.1.90', { cookie: mine });
    expect(cookieIn(anew.headers)).not.toBe(mine);
    expect((await shop.ask({ url: '/api/state', cookie: mine })).status).toBe(401);
    expect((await shop.ask({ url: '/api/state', cookie: cookieIn(anew.headers) })).status).toBe(200);
  });
});

describe('a session that is over', () => {
  it('loses its open socket at once, and hears nothing more', async () => {
    const { cookie, id } = await shop.pair('watch');
    const [mine, other] = [
      await socket({ ...stranger, cookie }),
      await socket({ ...stranger, cookie: (await shop.pair('watch')).cookie }),
    ];
    if (!(mine instanceof WebSocket && other instanceof WebSocket))
      throw new Error('A paired device may look on.');
    const heard: string[] = [];
    mine.on('message', (data) => heard.push(String(data)));
    const closed = new Promise<number>((resolve) => mine.once('close', resolve));
    await shop.host('POST', `/api/access/sessions/${id}/revoke`);
    expect(await closed).toBe(4401);
    const before = heard.length;
    shop.session.connect({ sentence: 'Something new.' });
    await pause(100);
    expect(heard).toHaveLength(before);
    expect(other.readyState).toBe(WebSocket.OPEN);
    expect(await socket({ ...stranger, cookie })).toBe(401);
    other.terminate();
  });

  it('keeps nothing by having asked before: a page that ignores its leave hears nothing either', async () => {
    const { cookie, id } = await shop.pair('watch');
    const mine = await socket({ ...stranger, cookie });
    if (!(mine instanceof WebSocket)) throw new Error('A paired device may look on.');
    // A client that does not answer the closing.
    mine.close = () => {};
    const heard: string[] = [];
    await pause(50);
    mine.on('message', (data) => heard.push(String(data)));
    await shop.host('POST', `/api/access/sessions/${id}/revoke`);
    heard.length = 0;
    shop.session.connect({ sentence: 'Something newer.' });
    await pause(150);
    expect(heard).toEqual([]);
    mine.terminate();
  });

  it('has no more than eight pages', async () => {
    const { cookie } = await shop.pair('watch');
    const opened = await Promise.all(Array.from({ length: 8 }, () => socket({ ...stranger, cookie })));
    const ninth = await socket({ ...stranger, cookie });
    if (!(ninth instanceof WebSocket)) throw new Error('It is told on the socket.');
    expect(await new Promise((resolve) => ninth.once('close', resolve))).toBe(1013);
    for (const page of opened) if (page instanceof WebSocket) page.terminate();
  });
});

describe('paths out of the page', () => {
  it.each([
    '/../../../etc/passwd',
    '/..%2f..%2f..%2fetc%2fpasswd',
    '/%2e%2e/%2e%2e/etc/passwd',
    '/..\\..\\etc\\passwd',
    '/..%5c..%5cetc%5cpasswd',
    '/....//....//etc/passwd',
    '/%252e%252e%252fetc/passwd',
    '/%c0%ae%c0%ae/etc/passwd',
    '/index.html%00.js',
    '/.git/config',
    '/../catchbench.db',
    '/%2e%2e/access/paired.json',
    '/api/backups/..%2f..%2faccess%2fpaired.json',
    '/api/backups/%2e%2e%2fpaired.json',
    '/api/backups/2026-01-01T00-00-00-000Z.db%2f..%2f..%2fcatchbench.db',
    '/api/records/__proto__',
    '/api/records/..%2f',
  ])('%s', async (path) => {
    const answer = await raw(`GET ${path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n`);
    expect([400, 403, 404]).toContain(statusOf(answer));
    expect(answer).not.toMatch(/root:|tokenHash|SQLite format/);
  });
});

describe('too much', () => {
  const header = (text: string) =>
    `GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n${text}\r\n\r\n`;

  it.each([
    ['a header line', () => header(`X: ${'x'.repeat(20_000)}`), 431],
    ['headers', () => header(Array.from({ length: 3000 }, (_, n) => `X${n}: x`).join('\r\n')), 431],
    ['cookies', () => header(`Cookie: ${'catchbench=x; '.repeat(2000)}`), 431],
    ['an address', () => `GET /${'a'.repeat(20_000)} HTTP/1.1\r\nHost: localhost\r\n\r\n`, 431],
    [
      'a body by its length',
      () =>
        `PUT /api/plan HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 99999999999\r\nConnection: close\r\n\r\n{`,
      413,
    ],
    [
      'a body in pieces',
      () =>
        `PUT /api/plan HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\nConnection: close\r\n\r\n${`4000\r\n${'x'.repeat(0x4000)}\r\n`.repeat(3)}`,
      413,
    ],
    [
      'two lengths',
      () => `PUT /api/plan HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1\r\nContent-Length: 5\r\n\r\n{}`,
      400,
    ],
    [
      'a length and pieces',
      () =>
        `PUT /api/plan HTTP/1.1\r\nHost: localhost\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /`,
      400,
    ],
    [
      'two hosts',
      () => `GET /api/state HTTP/1.1\r\nHost: localhost\r\nHost: evil.example\r\nConnection: close\r\n\r\n`,
      403,
    ],
  ])('is refused: %s', async (_name, bytes, status) => {
    // Of two Host lines Node keeps the first; whatever it is, it is checked.
    expect([status, 400, 200]).toContain(statusOf(await raw(bytes())));
  });

  it('is refused: JSON nested without end', async () => {
    const body = `{"drill":${'['.repeat(8000)}${']'.repeat(8000)}}`;
    const answer = await raw(
      `PUT /api/plan HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: ${body.length}\r\nConnection: close\r\n\r\n${body}`,
    );
    expect(statusOf(answer)).toBe(400);
  });

  it('on a socket ends it: long messages, and any message at all', async () => {
    const { cookie } = await shop.pair('watch');
    for (const [message, code] of [
      ['x'.repeat(5000), 1009],
      ['hello', 1008],
      [Buffer.alloc(10), 1008],
    ] as const) {
      const page = await socket({ ...stranger, cookie });
      if (!(page instanceof WebSocket)) throw new Error('A paired device may look on.');
      const closed = new Promise((resolve) => page.once('close', resolve));
      page.send(message);
      expect(await closed).toBe(code);
    }
  });

  it('from one device waits its turn, but for Stop; this computer never waits', async () => {
    const { cookie } = await shop.pair('operate', 'Busy', '192.168.1.99');
    const ask = (method: string, url: string) => shop.ask({ method, url, cookie, from: '192.168.1.99' });
    let last = 200;
    for (let request = 0; request < 1300 && last === 200; request++)
      last = (await ask('GET', '/api/plan')).status;
    expect(last).toBe(429);
    expect((await ask('POST', '/api/run/stop')).status).toBe(200);
    for (let request = 0; request < 1300; request++) await shop.host('GET', '/api/access');
    expect((await shop.host('GET', '/api/plan')).status).toBe(200);
  });
});

describe('drop by drop', () => {
  /** Opens a connection and sends a piece now and then, until the server has had enough. */
  function dripping(first: string, piece: string): { wire: Socket; ended: Promise<void> } {
    const wire = connect(port, '127.0.0.1', () => wire.write(first));
    const timer = setInterval(() => wire.write(piece), 50);
    wire.on('error', () => {});
    wire.resume();
    const ended = new Promise<void>((resolve) => wire.once('close', () => resolve()));
    return { wire, ended: ended.finally(() => clearInterval(timer)) };
  }

  it('headers, a body or nothing at all: the server hangs up, and serves the others meanwhile', async () => {
    const slow = [
      dripping('GET / HTTP/1.1\r\nHost: localhost\r\n', 'X: y\r\n'),
      dripping(
        'PUT /api/plan HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 9000\r\n\r\n',
        ' ',
      ),
      dripping('', ''),
      ...Array.from({ length: 40 }, () => dripping('GET / HTTP/1.1\r\n', 'A: b\r\n')),
    ];
    const served = await fetch(`http://127.0.0.1:${port}/api/state`);
    expect(served.status).toBe(200);
    await Promise.all(slow.map(({ ended }) => ended));
  });
});

describe('prototype pollution', () => {
  const poisons = [
    '{"__proto__":{"polluted":1}}',
    '{"constructor":{"prototype":{"polluted":1}}}',
    '{"drill":{"__proto__":{"polluted":1}}}',
    '{"\\u005f_proto__":{"polluted":1}}',
    '[{"__proto__":{"polluted":1}}]',
  ];
  const unpolluted = () => expect(({} as Record<string, unknown>).polluted).toBeUndefined();

  it.each(poisons)('in a body: %s', async (poison) => {
    for (const { method, url } of shop.app
      .routeTable()
      .filter((route) => route.method === 'POST' || route.method === 'PUT')) {
      const { statusCode } = await shop.app.inject({
        method: method as 'POST',
        url: url.replace(':kind', 'drill').replace(/:[a-z]+/gi, 'x'),
        headers: { host: 'localhost', 'content-type': 'application/json' },
        payload: poison,
      });
      expect(statusCode, `${method} ${url}`).toBeLessThan(500);
      unpolluted();
    }
  });

  it.each([
    '/api/runs?__proto__[polluted]=1',
    '/api/runs?constructor.prototype.polluted=1',
    '/api/records/__proto__?text=x',
    '/api/records/constructor',
    '/api/runs/__proto__',
  ])('in an address: %s', async (url) => {
    expect([400, 404]).toContain((await shop.host('GET', url)).status);
    unpolluted();
  });

  it('in a cookie', async () => {
    expect(
      (
        await shop.ask({
          url: '/api/access',
          cookie: '__proto__=polluted; constructor=x; catchbench=__proto__',
        })
      ).body.you,
    ).toBeNull();
    unpolluted();
  });
});
