import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import Value from 'typebox/value';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { Desk } from '../../server/calibration/desk.ts';
import { statedPlan } from '../../server/demo.ts';
import { createApp } from '../../server/http/app.ts';
import { CalibrationView } from '../../server/http/calibration-messages.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { temporaryFolders } from '../records/folders.ts';
import { FakeSession } from '../web/fake-session.ts';

/** The routes of the calibration, over the real store; the stand is of no account here. */

const newFolder = temporaryFolders();
let store: Store;
let app: FastifyInstance;
const faults: Error[] = [];

beforeEach(async () => {
  store = await openRecords(newFolder());
  const session = new FakeSession();
  session.plan = statedPlan(oneRow);
  faults.splice(0);
  const report = (error: Error) => faults.push(error);
  const desk = new Desk(store, true);
  const around = { pageFolder: '/nowhere', version: '1.2.3', report };
  app = await createApp({ session, records: store, store, desk, ...around });
});
afterEach(async () => {
  await app.close();
  await store.shut();
});

type Method = 'GET' | 'POST' | 'PUT';
async function ask(method: Method, url: string, payload?: object) {
  const headers = { host: 'localhost' };
  const response = await app.inject({ method, url, headers, ...(payload === undefined ? {} : { payload }) });
  return { status: response.statusCode, body: response.json() };
}

const handRun = { setting: 24, turns: 25, grams: 67, scaleStepGrams: 1, countedByEye: true };

describe('the calibration on the routes', () => {
  it('answers in the shape that is declared, from nothing to a next setting', async () => {
    const empty = await ask('GET', '/api/calibration');
    expect(empty.status).toBe(200);
    await ask('POST', '/api/calibration/hand-runs', handRun);
    const { status, body } = await ask('POST', '/api/calibration/hand-runs', {
      ...handRun,
      setting: 40,
      grams: 105,
    });
    expect(status).toBe(200);
    for (const view of [empty.body, body]) expect([...Value.Errors(CalibrationView, view)]).toEqual([]);
    expect(body.advice.next.setting).toBeGreaterThan(24);
    expect((await ask('GET', `/api/calibrations/${body.id}`)).body.runs).toHaveLength(2);
  });

  it('takes a catch that is sent again, its answer having been lost, for the one it is', async () => {
    const sent = { ...handRun, id: '0199a000-0000-7000-8000-00000000000a' };
    await ask('POST', '/api/calibration/hand-runs', sent);
    const again = await ask('POST', '/api/calibration/hand-runs', sent);
    expect([again.status, again.body.runs.length]).toEqual([200, 1]);
    const another = await ask('POST', '/api/calibration/hand-runs', handRun);
    expect(another.body.runs).toHaveLength(2);
    expect((await ask('POST', '/api/calibration/hand-runs', { ...handRun, id: 'mine' })).status).toBe(400);
  });

  it('sets a run aside and brings it back', async () => {
    const { body } = await ask('POST', '/api/calibration/hand-runs', handRun);
    const [run] = body.runs;
    const aside = await ask('POST', `/api/runs/${run.id}/set-aside`, { why: 'bag touched the frame' });
    expect(aside.body.runs[0]).toMatchObject({
      counts: false,
      whyNot: 'Set aside by you: bag touched the frame',
    });
    const back = await ask('POST', `/api/runs/${run.id}/bring-back`);
    expect(back.body.runs[0]).toMatchObject({ counts: true, whyNot: null });
    expect((await ask('POST', '/api/calibration/anew')).body.id).toBe(null);
  });

  it('refuses nonsense in a sentence, and keeps what there is', async () => {
    await ask('POST', '/api/calibration/hand-runs', handRun);
    const refusals = await Promise.all([
      ask('POST', '/api/calibration/hand-runs', { ...handRun, grams: -1 }),
      ask('POST', '/api/calibration/hand-runs', { ...handRun, turns: 0 }),
      ask('POST', '/api/calibration/hand-runs', { ...handRun, setting: 'thirty' }),
      ask('POST', '/api/calibration/hand-runs', { ...handRun, setting: 99 }),
      ask('POST', '/api/calibration/hand-runs', { ...handRun, more: 1 }),
      ask('POST', '/api/calibration/hand-runs'),
      ask('POST', '/api/runs/none/set-aside', { why: 'because' }),
      ask('POST', '/api/runs/none/set-aside', { why: '  ' }),
      ask('GET', '/api/calibrations/none'),
      ask('POST', '/api/calibration/rows', { turns: 25, grams: [80], scaleStepGrams: 1, together: true }),
      ask('POST', '/api/calibration/rows', { turns: 25, grams: [0, 0], scaleStepGrams: 1, together: true }),
      ask('PUT', '/api/calibration/printed-chart', { rows: [{ setting: 1, gramsPerSquareMetre: 0 }] }),
    ]);
    expect(refusals.map(({ status }) => status)).toEqual([
      400, 400, 400, 400, 400, 400, 404, 400, 404, 400, 400, 400,
    ]);
    for (const { body } of refusals) expect(body.message).toMatch(/^[A-Z].{10,}\.$/);
    expect((await ask('GET', '/api/calibration')).body.runs).toHaveLength(1);
    expect(faults).toEqual([]);
  });

  it('tells every open page that there is something new', async () => {
    await app.listen({ port: 0, host: '127.0.0.1' });
    const socket = new WebSocket(`ws://127.0.0.1:${(app.server.address() as AddressInfo).port}/api/live`);
    const heard: string[] = [];
    socket.on('message', (data) => heard.push(JSON.parse(String(data)).type));
    await new Promise((resolve) => socket.once('message', resolve));
    await ask('POST', '/api/calibration/hand-runs', handRun);
    await expect.poll(() => heard).toContain('calibration');
    const { body } = await ask('GET', '/api/calibration');
    for (const act of ['remove', 'bring-back']) {
      heard.splice(0);
      await ask('POST', `/api/records/run/${body.runs[0].id}/${act}`);
      await expect.poll(() => heard).toContain('calibration');
    }
    socket.terminate();
  });
});
