import { afterEach, describe, expect, it } from 'vitest';
import { askedAgain, askedOnce } from '../../server/http/before-run-messages.ts';
import { ChecksServer } from './checks-server.ts';
import { pause } from './server.ts';

/** The short check before a run, over the emulated stand. */

let server: ChecksServer;
afterEach(() => server.stop());

const stateOf = (body: { seen: { item: string; state: string }[] }, item: string) =>
  body.seen.find((each) => each.item === item)!.state;

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
    await server.ask('POST', '/api/run/arm');
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
    const { id } = server.shop.session.view().run;
    const notes = async () => (await server.store.notes.list({ aboutId: id! })).items;
    while ((await notes()).length === 0) await pause(20);
    const { text } = (await notes())[0]!.fields;
    expect(text).toContain(
      `Confirmed ${all.body.confirmedAt}: drill on stands; wheels chocked; people clear`,
    );
    expect(text).toContain('By getting ready: bag emptied and back on; people clear.');
    expect(text).toContain('stop button tried today: not seen');
  });

  it('asks for the whole list again for another calibration', async () => {
    server = await ChecksServer.start();
    await server.ask('POST', '/api/before-run', { items: [...askedOnce] });
    const { plan } = server.shop.session.view();
    await server.ask('PUT', '/api/plan', { ...plan, seed: { ...plan.seed, name: 'another mix' } });
    expect((await server.ask('GET', '/api/before-run')).body.toConfirm).toBe(true);
    await server.ask('PUT', '/api/plan', { ...plan, drill: { ...plan.drill, setting: '33' } });
    expect((await server.ask('GET', '/api/before-run')).body.toConfirm).toBe(false);
  });

  it('says of a run that was begun without it that nothing was confirmed', async () => {
    server = await ChecksServer.start();
    await server.ask('POST', '/api/run/arm');
    const { id } = server.shop.session.view().run;
    const notes = async () => (await server.store.notes.list({ aboutId: id! })).items;
    while ((await notes()).length === 0) await pause(20);
    expect((await notes())[0]!.fields.text).toContain('The list was not confirmed.');
  });
});
