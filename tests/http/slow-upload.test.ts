import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { type AddressInfo, connect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as invented from '../web/invented.ts';
import { pause } from './server.ts';
import { ShopNetwork } from './shop-network.ts';

/** A backup that comes over a slow link, in a service whose patience is sixty times shorter than usual. */

const patience = { headersMillis: 300, progressMillis: 500, progressBytes: 1000, lookEveryMillis: 50 };

let shop: ShopNetwork;
let folder: string;
let port: number;
let backup: Buffer;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'catchbench-slow-'));
  shop = await ShopNetwork.open(folder, { patience });
  await shop.app.listen({ port: 0, host: '127.0.0.1' });
  ({ port } = shop.app.server.address() as AddressInfo);
  const { name } = (await shop.host('POST', '/api/backups')).body;
  const kept = await shop.app.inject({ url: `/api/backups/${name}`, headers: { host: 'localhost' } });
  backup = kept.rawPayload;
});
afterAll(async () => {
  expect(shop.faults).toEqual([]);
  await shop.close();
  rmSync(folder, { recursive: true, force: true });
});

interface Upload {
  wire: Socket;
  /** All that came back once the server has hung up. */
  answer: Promise<string>;
}

function upload(length: number): Upload {
  const wire = connect(port, '127.0.0.1');
  const head = [
    'POST /api/backups/upload HTTP/1.1',
    'Host: localhost',
    'Connection: close',
    'Content-Type: application/octet-stream',
    `Content-Length: ${length}`,
  ];
  wire.write(`${head.join('\r\n')}\r\n\r\n`);
  let heard = '';
  wire.on('data', (data) => (heard += data));
  wire.on('error', () => {});
  return { wire, answer: new Promise((resolve) => wire.once('close', () => resolve(heard))) };
}

const statusOf = (answer: string) => Number(answer.slice(9, 12));
const files = () => readdirSync(join(shop.store.folder, 'backups'));
const sizeOf = (name: string) => statSync(join(shop.store.folder, 'backups', name)).size;

describe('a backup over a slow link', () => {
  it('is taken in however long it takes, as long as it comes on', async () => {
    const { wire, answer } = upload(backup.length);
    const began = performance.now();
    const pieces = 30;
    const size = Math.ceil(backup.length / pieces);
    expect(size).toBeGreaterThan(patience.progressBytes);
    for (let piece = 0; piece < pieces; piece++) {
      wire.write(backup.subarray(piece * size, (piece + 1) * size));
      await pause(80);
    }
    expect(performance.now() - began).toBeGreaterThan(4 * patience.progressMillis);
    expect(statusOf(await answer)).toBe(200);
    expect(files()).toHaveLength(2);
  });

  it('that stalls is given up with a sentence, and nothing is kept of it', async () => {
    const before = files();
    const { wire, answer } = upload(backup.length);
    wire.write(backup.subarray(0, backup.length / 2));
    const heard = await answer;
    expect(statusOf(heard)).toBe(408);
    expect(heard).toContain('The request came too slowly and was given up.');
    await expect.poll(files).toEqual(before);
  });

  it('that comes on by less than a trickle is given up too', async () => {
    const before = files();
    const { wire, answer } = upload(backup.length);
    const dripping = setInterval(() => wire.write(backup.subarray(0, 10)), 20);
    expect(statusOf(await answer)).toBe(408);
    clearInterval(dripping);
    await expect.poll(files).toEqual(before);
  });

  it('whose sender goes away leaves nothing, and is no fault of the service', async () => {
    const before = files();
    const { wire, answer } = upload(backup.length);
    wire.write(backup.subarray(0, backup.length / 2));
    await expect.poll(() => files().length).toBe(before.length + 1);
    wire.destroy();
    await answer;
    await expect.poll(files).toEqual(before);
  });

  it('is looked through only when no run is under way', async () => {
    const { examine } = shop.store;
    let looked = 0;
    shop.store.examine = (path) => {
      looked += 1;
      return examine.call(shop.store, path);
    };
    shop.session.begin('a-run', 'turning');
    const before = files();
    const { wire, answer } = upload(backup.length);
    wire.write(backup);
    const arrived = () =>
      files()
        .filter((name) => name.endsWith('.part'))
        .map(sizeOf);
    await expect.poll(arrived).toEqual([backup.length]);
    await pause(250);
    expect([looked, files().length]).toEqual([0, before.length + 1]);
    shop.session.show(invented.figuresOf(shop.session.plan, 'finished', 2, 1));
    expect(statusOf(await answer)).toBe(200);
    expect(looked).toBe(1);
  });

  it('is still bounded in size', async () => {
    const { wire, answer } = upload(9 * 1024 ** 3);
    await expect.poll(() => wire.bytesRead).toBeGreaterThan(0);
    wire.destroy();
    expect(await answer).toMatch(/^HTTP\/1\.1 400 .*too large to be taken in here/s);
  });
});
