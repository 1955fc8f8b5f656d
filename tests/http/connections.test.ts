import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FarDevice } from './far-device.ts';
import { ShopNetwork } from './shop-network.ts';

/** Who may have a connection at all, and how many. */

let shop: ShopNetwork;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'catchbench-connections-'));
  shop = await ShopNetwork.open(folder);
  await shop.app.ready();
});
afterAll(async () => {
  expect(shop.faults).toEqual([]);
  await shop.close();
  rmSync(folder, { recursive: true, force: true });
});

/** As many as a page in eight tabs can have open, and some. */
const most = 48;
const told = 8;

const request = (method: string, path: string, more = '') =>
  `${method} ${path} HTTP/1.1\r\nHost: bench.local\r\n${more}Content-Length: 0\r\n\r\n`;
const device = (from: string, to?: string) =>
  new FarDevice(shop.app.server, to === undefined ? { from } : { from, to });
const statusOf = (answer: string) => Number(answer.slice(9, 12));
const ask = (from: string, to?: string, host = 'bench.local') =>
  device(from, to).last(`GET /api/access HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`);

describe('connections of one device', () => {
  it('beyond a number are told so in a sentence, far beyond it hung up on; others are served', async () => {
    const open = Array.from({ length: most }, () => device('192.168.1.30'));
    open.at(-1)!.send(request('GET', '/api/access'));
    await open.at(-1)!.hears('"shared":true');
    const answer = await device('192.168.1.30').last(request('GET', '/api/access'));
    expect(statusOf(answer)).toBe(429);
    expect(answer).toContain('This device has too many connections open.');
    const socket = 'Connection: Upgrade\r\nUpgrade: websocket\r\n';
    expect(statusOf(await device('192.168.1.30').last(request('GET', '/api/live', socket)))).toBe(429);
    const waiting = Array.from({ length: told }, () => device('192.168.1.30'));
    expect(await device('192.168.1.30').last(request('GET', '/api/access'))).toBe('');
    expect(statusOf(await ask('192.168.1.31'))).toBe(200);
    for (const one of [...open, ...waiting]) one.close();
  });

  it('that was crowded has room again once it has closed some', async () => {
    const open = Array.from({ length: most }, () => device('192.168.1.32'));
    expect(statusOf(await device('192.168.1.32').last(request('GET', '/api/access')))).toBe(429);
    open[0]!.close();
    await expect.poll(async () => statusOf(await ask('192.168.1.32'))).toBe(200);
    for (const one of open) one.close();
  });

  it('does not keep Stop away', async () => {
    const { cookie } = await shop.pair('watch');
    const open = Array.from({ length: most }, () => device('192.168.1.33'));
    const stop = device('192.168.1.33');
    stop.send(request('POST', '/api/run/stop', `Cookie: ${cookie}\r\nConnection: close\r\n`));
    await stop.hears('HTTP/1.1 200');
    for (const one of [...open, stop]) one.close();
  });

  it('is no matter for this computer itself', async () => {
    const open = Array.from({ length: most + told + 1 }, () => device('127.0.0.1'));
    expect(statusOf(await ask('127.0.0.1', '127.0.0.1', 'localhost'))).toBe(200);
    expect(statusOf(await ask('::1', '::1', '[::1]:8321'))).toBe(200);
    for (const one of open) one.close();
  });
});

describe('a device', () => {
  // 192.0.2.0/24 and 2001:db8::/32 stand for the internet: RFC 5737, RFC 3849.
  it.each([
    ['of the internet', '192.0.2.7', '192.168.1.2'],
    ['of the internet, as an IPv6 socket tells it', '::ffff:192.0.2.7', '::ffff:192.168.1.2'],
    ['of the internet, by IPv6', '2001:db8:0:2::7', '2001:db8:0:1::2'],
    ['of the internet that called a private address', '2001:db8:0:2::7', 'fd00::2'],
  ])('%s is hung up on', async (_name, from, to) => {
    expect(await device(from, to).last(request('GET', '/api/access'))).toBe('');
  });

  it.each([
    ['by IPv4', '192.168.1.34', '192.168.1.2', '192.168.1.2:8321'],
    ['by IPv4 on an IPv6 socket', '::ffff:192.168.1.34', '::ffff:192.168.1.2', '192.168.1.2:8321'],
    ['by a unique local address', 'fd00::7', 'fd00::2', '[fd00::2]:8321'],
    ['by a unique local address, written otherwise', 'fd00::7', 'fd00::2', '[FD00:0:0::0:2]'],
    ['by a link-local address with its zone', 'fe80::7%eth0', 'fe80::2%eth0', '[fe80::2]:8321'],
    ['by an address of the internet on the same link', '2001:db8:0:1::7', '2001:db8:0:1::2', 'bench.local'],
    ['the same, by number', '2001:db8:0:1::7', '2001:db8:0:1::2', '[2001:db8:0:1::2]:8321'],
  ])('of the shop comes in %s, as a stranger', async (_name, from, to, host) => {
    const answer = await ask(from, to, host);
    expect(statusOf(answer)).toBe(200);
    expect(answer).toContain('"you":null');
  });

  it.each([
    ['another address of the same link', 'fd00::7', 'fd00::2', '[fd00::3]:8321'],
    ['this computer by IPv6, from elsewhere', 'fd00::7', 'fd00::2', '[::ffff:127.0.0.1]'],
    ['an address with a zone', 'fe80::7%eth0', 'fe80::2%eth0', '[fe80::2%25eth0]:8321'],
    ['a name', 'fd00::7', 'fd00::2', 'evil.example'],
  ])('that calls for %s is turned away', async (_name, from, to, host) => {
    const answer = await ask(from, to, host);
    expect(statusOf(answer)).toBe(403);
  });

  it('on this computer needs no pairing by IPv6 either, unless a proxy passes it on', async () => {
    expect(await ask('::1', '::1', '[::1]:8321')).toContain('"role":"manage"');
    const proxied = device('::1', '::1').last(
      'GET /api/state HTTP/1.1\r\nHost: [::1]:8321\r\nX-Forwarded-For: fd00::7\r\nConnection: close\r\n\r\n',
    );
    expect(statusOf(await proxied)).toBe(401);
  });
});
