import { afterEach, describe, expect, it } from 'vitest';
import { askedAgain, askedOnce } from '../../server/http/before-run-messages.ts';
import { RecordsError } from '../../server/records/errors.ts';
import { ChecksServer } from './checks-server.ts';
import { pause } from './server.ts';

/** The short check before a run, over the emulated stand. */

let server: ChecksServer;
afterEach(() => server.stop());

const stateOf = (body: { seen: { item: string; state: string }[] }, item: string) =>
  body.seen.find((each) => each.item === item)!.state;

const passedOver = { list: 'passed-over' };
const confirm = () => server.ask('POST', '/api/before-run', { items: [...askedOnce] });

/** The note that the run in hand was given, once it has one. */
async function noteOfRun(): Promise<string> {
  const { id } = server.shop.session.view().run;
  for (;;) {
    const { items } = await server.store.notes.list({ aboutId: id! });
    if (items.length > 0) return items[0]!.fields.text;
    await pause(20);
  }
}

/** Asks until the item is in this state. */
async function until(item: string, state: string): Promise<void> {
  while (stateOf((await server.ask('GET', '/api/before-run')).body, item) !== state) await pause(20);
}

describe('before a run', () => {
  it('sees what the stand can see of itself', async () => {
    server = await ChecksServer.start();
    const { body } = await server.ask('GET', '/api/before-run');
    expect(stateOf(body, 'link')).toBe('good');
    expect(stateOf(body, 'scale')).toBe('open');
    expect(stateOf(body, 'wheel')).toBe('open');
    expect(stateOf(body, 'stop-button')).toBe('open');
    await until('zero', 'good');
    server.shop.drill.pressStop();
    await until('stop-button', 'wrong');
    server.shop.drill.releaseStop();
    await until('stop-button', 'good');
  });

  it('takes the wheel sensor for good once it was seen over a turn', async () => {
    server = await ChecksServer.start();
    await server.ask('POST', '/api/run/arm', passedOver);
    await server.ask('POST', '/api/run/start');
    await until('wheel', 'good');
  });

  it('asks for the whole list once, then for little, and keeps all of it with the run', async () => {
    server = await ChecksServer.start();
    const first = (await server.ask('GET', '/api/before-run')).body;
    expect(first).toMatchObject({ toConfirm: true, asked: [...askedOnce], confirmedAt: null });
    const part = await server.ask('POST', '/api/before-run', { items: ['on-stands', 'chocked'] });
    expect(part).toMatchObject({ status: 409, body: { code: 'not-all' } });
    const all = await server.ask('POST', '/api/before-run', { items: [...askedOnce] });
    expect(all.body).toMatchObject({ toConfirm: false, asked: [...askedAgain] });
    expect(all.body.confirmedAt).not.toBeNull();
    await server.ask('POST', '/api/run/arm');
    const text = await noteOfRun();
    expect(text).toContain(
      `Confirmed ${all.body.confirmedAt}: drill on stands; wheels chocked; people clear`,
    );
    expect(text).toContain('By getting ready: bag emptied and back on; people clear.');
    expect(text).toContain('stop button tried today: not seen');
  });

  it('asks for the whole list again for another calibration', async () => {
    server = await ChecksServer.start();
    await confirm();
    const { plan } = server.shop.session.view();
    await server.ask('PUT', '/api/plan', { ...plan, seed: { ...plan.seed, name: 'another mix' } });
    expect((await server.ask('GET', '/api/before-run')).body.toConfirm).toBe(true);
    await server.ask('PUT', '/api/plan', { ...plan, drill: { ...plan.drill, setting: '33' } });
    expect((await server.ask('GET', '/api/before-run')).body.toConfirm).toBe(false);
  });

  it('arms nothing until the list is confirmed, and says so', async () => {
    server = await ChecksServer.start();
    const refused = await server.ask('POST', '/api/run/arm');
    expect(refused).toMatchObject({ status: 409, body: { code: 'list-first' } });
    expect(refused.body.message).toMatch(/^Nothing was armed\./);
    expect(server.shop.session.view().run.id).toBeNull();
    await confirm();
    expect((await server.ask('POST', '/api/run/arm')).status).toBe(200);
  });

  it('arms nothing by a list that was confirmed for another calibration', async () => {
    server = await ChecksServer.start();
    await confirm();
    const { plan } = server.shop.session.view();
    await server.ask('PUT', '/api/plan', { ...plan, seed: { ...plan.seed, name: 'another mix' } });
    expect((await server.ask('POST', '/api/run/arm')).body.code).toBe('list-first');
  });

  it('arms without it for whoever passes it over on purpose, and keeps that with the run', async () => {
    server = await ChecksServer.start();
    for (const body of [{ list: 'confirmed' }, { list: '' }, {}, { passedOver: true }])
      expect((await server.ask('POST', '/api/run/arm', body)).status).toBe(400);
    expect((await server.ask('POST', '/api/run/arm', passedOver)).status).toBe(200);
    expect(await noteOfRun()).toContain('The list was passed over: whoever got the stand ready said so.');
  });

  it('says of a run that was passed over nothing of the sort where the list was confirmed all the same', async () => {
    server = await ChecksServer.start();
    await confirm();
    await server.ask('POST', '/api/run/arm', passedOver);
    expect(await noteOfRun()).toMatch(/Confirmed .*: drill on stands/);
  });

  it('goes on when the disk takes nothing, and shows that', async () => {
    server = await ChecksServer.start();
    const { keepSetting } = server.store;
    const full = () => Promise.reject(new RecordsError('full', 'The disk is full.'));
    server.store.keepSetting = full;
    const { status, body } = await confirm();
    expect([status, body.toConfirm]).toEqual([200, false]);
    expect(body.trouble).toMatch(/list was confirmed will be forgotten.*The disk is full\./);
    server.shop.drill.pressStop();
    await until('stop-button', 'wrong');
    const trouble = async () => (await server.ask('GET', '/api/before-run')).body.trouble;
    expect(await trouble()).toMatch(/stop button was tried is not on record/);
    server.store.keepSetting = keepSetting.bind(server.store);
    await confirm();
    expect(await trouble()).not.toMatch(/list was confirmed/);
  });
});
