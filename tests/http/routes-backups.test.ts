import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { createApp } from '../../server/http/app.ts';
import type { HealthAnswer, ShareHealth, SocketMessage } from '../../server/http/messages.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store, UnsavedRun } from '../../server/records/types.ts';
import { temporaryFolders } from '../records/folders.ts';
import { madeRun } from '../records/made-runs.ts';
import { drill } from '../records/samples.ts';
import { Shop } from '../session/shop.ts';

const folder = temporaryFolders();
let store: Store;
let app: FastifyInstance;
let shop: Shop;
let unsaved: UnsavedRun[] = [];
let share: ShareHealth | null = null;

beforeEach(async () => {
  store = await openRecords(folder());
  shop = new Shop({ records: store, plan: { turns: 2 } });
  app = await createApp({
    session: shop.session,
    records: store,
    store,
    unsaved: () => unsaved,
    share: async () => share,
    pageFolder: '/nowhere',
    version: '1.2.3',
    report: () => {},
  });
});
afterEach(async () => {
  unsaved = [];
  share = null;
  await shop.shut();
  await app.close();
  await store.shut();
});

async function ask(method: 'GET' | 'POST', url: string, payload?: Buffer) {
  const type = { 'content-type': 'application/octet-stream' };
  const headers = { host: 'localhost', ...(payload === undefined ? {} : type) };
  const answer = await app.inject({ method, url, headers, ...(payload === undefined ? {} : { payload }) });
  return { status: answer.statusCode, bytes: answer.rawPayload, json: () => answer.json() };
}

/** Everything that an open page is told. */
async function openPage(): Promise<{
  told: SocketMessage[];
  hears: (type: string) => Promise<void>;
  close: () => void;
}> {
  await app.listen({ port: 0, host: '127.0.0.1' });
  const told: SocketMessage[] = [];
  const socket = new WebSocket(`ws://127.0.0.1:${(app.server.address() as AddressInfo).port}/api/live`);
  socket.on('message', (bytes) => told.push(JSON.parse(String(bytes))));
  const hears = async (type: string) => {
    while (!told.some((message) => message.type === type)) await new Promise((done) => setTimeout(done, 5));
  };
  return { told, hears, close: () => socket.close() };
}

describe('a backup', () => {
  it('put in the place of everything is told to pages that are open, with what is now', async () => {
    const { plan } = shop.session.view();
    await shop.session.keepPlan({ ...plan, turns: 7 });
    const { name } = (await ask('POST', '/api/backups')).json();
    await shop.session.keepPlan({ ...plan, turns: 11 });
    const page = await openPage();
    await page.hears('hello');
    const before = page.told.length;
    expect((await ask('POST', `/api/backups/${name}/restore`)).status).toBe(200);
    await page.hears('restored');
    const news = page.told.slice(before).filter(({ type }) => type === 'hello' || type === 'restored');
    expect(news.map(({ type }) => type)).toEqual(['hello', 'restored']);
    expect(news[0]).toMatchObject({ plan: { turns: 7 } });
    page.close();
  });

  it('kept elsewhere comes back on the list and can be restored; thrown away it is gone', async () => {
    const { id } = await store.drills.create(drill);
    const { name, bytes } = (await ask('POST', '/api/backups')).json();
    const kept = (await ask('GET', `/api/backups/${name}`)).bytes;
    expect(kept).toHaveLength(bytes);
    expect((await ask('POST', `/api/backups/${name}/remove`)).json()).toEqual({ done: true });
    expect((await ask('GET', '/api/backups')).json().backups).toEqual([]);
    expect((await ask('POST', `/api/backups/${name}/remove`)).status).toBe(404);
    await store.drills.remove(id);
    const back = (await ask('POST', '/api/backups/upload', kept)).json();
    expect((await ask('GET', '/api/backups')).json().backups).toEqual([back]);
    expect((await ask('POST', `/api/backups/${back.name}/restore`)).status).toBe(200);
    expect((await store.drills.find(id))?.deletedAt).toBeNull();
  });

  it('that is none of ours, or damaged, is not taken in', async () => {
    const { name } = (await ask('POST', '/api/backups')).json();
    const kept = (await ask('GET', `/api/backups/${name}`)).bytes;
    for (const bytes of [Buffer.from('no database'), kept.subarray(0, 9000), Buffer.alloc(0)]) {
      const answer = await ask('POST', '/api/backups/upload', bytes);
      expect(answer.status).toBe(409);
      expect(answer.json().message).toMatch(/no backup of Catchbench, or it is damaged. Nothing was changed/);
    }
    expect((await ask('GET', '/api/backups')).json().backups).toHaveLength(1);
  });
});

describe('health', () => {
  it('tells of runs in memory alone, and of records that are shared', async () => {
    const { run, journal, end } = await madeRun(3);
    unsaved = [{ run, end, pending: journal }];
    const sentence = 'The shared records cannot be reached.';
    share = { condition: 'out of touch', waiting: 3, lastSuccessAt: null, sentence };
    const health: HealthAnswer = (await ask('GET', '/api/health')).json();
    expect(health.store).toEqual({ folder: store.folder, unsavedRuns: 1, trouble: null });
    expect(health.share).toEqual(share);
    expect(health.reasons).toContain(sentence);
  });

  it('is not worried by records that are in touch, or not shared', async () => {
    const reasons = async () => ((await ask('GET', '/api/health')).json() as HealthAnswer).reasons.length;
    const alone = await reasons();
    const lastSuccessAt = '2026-03-02T08:00:00.000Z';
    share = { condition: 'in touch', waiting: 0, lastSuccessAt, sentence: 'All is shared.' };
    expect(await reasons()).toBe(alone);
  });
});
