import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createApp } from '../../server/http/app.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store, UnsavedRun } from '../../server/records/types.ts';
import { temporaryFolders } from '../records/folders.ts';
import { keep, madeRun } from '../records/made-runs.ts';
import { calibrationOf, drill, mix } from '../records/samples.ts';
import { Shop } from '../session/shop.ts';

const folder = temporaryFolders();
let store: Store;
let app: FastifyInstance;
let shop: Shop;
let unsaved: UnsavedRun[] = [];
const faults: Error[] = [];

beforeEach(async () => {
  store = await openRecords(folder());
  shop = new Shop({ records: store, plan: { turns: 2 } });
  app = await createApp({
    session: shop.session,
    records: store,
    store,
    unsaved: () => unsaved,
    pageFolder: '/nowhere',
    version: '1.2.3',
    report: (error) => faults.push(error),
  });
});
afterEach(async () => {
  unsaved = [];
  await shop.shut();
  await app.close();
  await store.shut();
  expect(faults.splice(0)).toEqual([]);
});

async function ask(method: 'GET' | 'POST', url: string, body?: string) {
  const headers = {
    host: 'localhost',
    ...(body === undefined ? {} : { 'content-type': 'application/json' }),
  };
  const answer = await app.inject({ method, url, headers, ...(body === undefined ? {} : { payload: body }) });
  return {
    status: answer.statusCode,
    text: answer.body,
    type: answer.headers['content-type'],
    json: () => answer.json(),
  };
}

async function filled() {
  const machine = await store.drills.create(drill);
  const blend = await store.mixes.create(mix);
  const calibration = await store.calibrations.create(calibrationOf(machine.id, blend.id));
  const runId = await keep(store, await madeRun(1), { calibrationId: calibration.id });
  return { machine, calibration, runId };
}

describe('finding', () => {
  it('by words, drill and date; with history; deleted and brought back', async () => {
    const { machine, calibration, runId } = await filled();
    const found = (await ask('GET', '/api/records/calibration?text=old+meadow')).json();
    expect(found.items.map(({ id }: { id: string }) => id)).toEqual([calibration.id]);
    const runs = (await ask('GET', `/api/records/run?drill=${machine.id}&from=2026-03-01`)).json();
    expect(runs.items.map(({ id }: { id: string }) => id)).toEqual([runId]);
    await store.drills.update(machine.id, { name: 'New Red' }, 'Ann');
    const { changes } = (await ask('GET', `/api/records/drill/${machine.id}/history`)).json();
    expect(changes).toMatchObject([
      { field: 'name', before: 'Old Red', after: 'New Red', by: 'Ann', counts: true },
    ]);
    expect((await ask('POST', `/api/records/run/${runId}/remove`)).status).toBe(200);
    expect((await ask('GET', '/api/records/run')).json().items).toEqual([]);
    expect((await ask('GET', '/api/records/run?deleted=yes')).json().items).toHaveLength(1);
    expect((await ask('POST', `/api/records/run/${runId}/bring-back`)).status).toBe(200);
    expect((await ask('GET', '/api/records/run')).json().items).toHaveLength(1);
  });

  it.each([
    ['/api/records/tractor', 400],
    ['/api/records/drill?limit=all', 400],
    ['/api/records/drill?from=yesterday', 400],
    ['/api/records/drill?after=x', 400],
    ['/api/records/drill?colour=red', 400],
    ['/api/records/drill/00000000-0000-7000-8000-000000000000/history', 404],
    ["/api/records/run?text='%22*(", 200],
  ])('%s: %i', async (url, status) => {
    expect((await ask('GET', url)).status).toBe(status);
  });
});

describe('out and in', () => {
  it('everything as JSON, and back into an empty store', async () => {
    await filled();
    const { text, type } = await ask('GET', '/api/export');
    expect(type).toMatch(/application\/json/);
    const other = await openRecords(folder());
    const otherApp = await createApp({
      session: shop.session,
      records: other,
      store: other,
      pageFolder: '/nowhere',
      version: '1',
      report: (error) => faults.push(error),
    });
    const headers = { host: 'localhost', 'content-type': 'application/json' };
    const answer = await otherApp.inject({ method: 'POST', url: '/api/import', headers, payload: text });
    expect(answer.json()).toMatchObject({ runs: 1, items: 3, conflicts: [] });
    await otherApp.close();
    await other.shut();
  });

  it('tables of runs and of readings', async () => {
    const { runId, calibration } = await filled();
    const runs = await ask('GET', `/api/export?form=csv&units=us&calibration=${calibration.id}`);
    expect(runs.type).toMatch(/text\/csv/);
    expect(runs.text.split('\r\n')[0]).toMatch(/rate \(g\/m2\),rate \(lb\/ac\)/);
    const readings = await ask('GET', `/api/export?form=csv&run=${runId}`);
    expect(readings.text.split('\r\n').length).toBeGreaterThan(300);
    const nobody = '00000000-0000-7000-8000-000000000000';
    expect((await ask('GET', `/api/export?run=${nobody}`)).status).toBe(404);
    expect((await ask('GET', '/api/export/schema')).json().properties.items).toBeDefined();
  });

  it('a table of runs comes in, and one that is none is refused in a sentence', async () => {
    await filled();
    const { text } = await ask('GET', '/api/export?form=csv');
    const headers = { host: 'localhost', 'content-type': 'text/csv; charset=utf-8' };
    const post = (payload: string) => app.inject({ method: 'POST', url: '/api/import', headers, payload });
    expect((await post(text)).json()).toMatchObject({ runs: 0, known: 1, conflicts: [], skipped: [] });
    const refused = await post('name,price\r\nhoe,12\r\n');
    expect([refused.statusCode, refused.json().message]).toEqual([
      400,
      expect.stringMatching(/no table of runs by Catchbench/),
    ]);
  });

  it.each([
    ['', 400],
    ['{"format":', 400],
    ['{"format":"catchbench-records","version":9}', 400],
    ['{"__proto__":{"format":"catchbench-records"}}', 400],
  ])('what is no export is refused: %j', async (body, status) => {
    const answer = await ask('POST', '/api/import', body);
    expect(answer.status).toBe(status);
    expect(answer.json().message.length).toBeGreaterThan(10);
  });

  it('a backup, made while a run is on, put back afterwards; never from outside its folder', async () => {
    const { machine } = await filled();
    const made = (await ask('POST', '/api/backups')).json();
    expect(made.bytes).toBeGreaterThan(1000);
    await store.drills.update(machine.id, { name: 'Later' });
    expect((await ask('GET', '/api/backups')).json().backups).toEqual([made]);
    expect((await ask('GET', `/api/backups/${made.name}`)).text.slice(0, 15)).toBe('SQLite format 3');
    const { before } = (await ask('POST', `/api/backups/${made.name}/restore`)).json();
    expect(before).toMatch(/replaced-.*\.db$/);
    expect((await store.drills.find(machine.id))!.fields.name).toBe('Old Red');
    await store.drills.update(machine.id, { name: 'Goes on' });
    for (const name of ['../catchbench.db', '..%2Fcatchbench.db', '%2Fetc%2Fpasswd', 'catchbench.db']) {
      expect((await ask('GET', `/api/backups/${name}`)).status).toBeGreaterThanOrEqual(400);
      expect((await ask('POST', `/api/backups/${name}/restore`)).status).toBeGreaterThanOrEqual(400);
    }
  });

  it('no backup is put back while a run is under way', async () => {
    const made = (await ask('POST', '/api/backups')).json();
    await shop.turning();
    const answer = await ask('POST', `/api/backups/${made.name}/restore`);
    expect([answer.status, answer.json().code]).toEqual([409, 'run-under-way']);
    expect((await ask('POST', '/api/import', (await ask('GET', '/api/export')).text)).status).toBe(409);
  });

  it('a run that the disk would not take can be kept elsewhere and imported later', async () => {
    expect((await ask('GET', '/api/export/unsaved')).status).toBe(404);
    const { run, journal, end } = await madeRun(3);
    await store.begin(run);
    await store.append(run.id, journal.slice(0, 200));
    unsaved = [{ run, end, pending: journal.slice(200) }];
    const { text } = await ask('GET', '/api/export/unsaved');
    const other = await openRecords(folder());
    const { importJson } = await import('../../server/records/import.ts');
    expect(await importJson(other, text)).toMatchObject({ runs: 1 });
    expect((await importJson(other, text)).known).toBe(1);
    expect(await other.journal(run.id, 0, 1e6)).toEqual(journal);
    expect((await other.runs.find(run.id))!.figures).toEqual(JSON.parse(JSON.stringify(end.figures)));
    await other.shut();
  });
});
