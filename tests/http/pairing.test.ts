import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { accessFile } from '../../server/access/file.ts';
import {
  AuditAnswer,
  CodeAnswer,
  HereAnswer,
  MeAnswer,
  PersonView,
  SessionsAnswer,
} from '../../server/http/access-messages.ts';
import { askedOnce } from '../../server/http/before-run-messages.ts';
import { Problem } from '../../server/http/messages.ts';
import { temporaryFolders } from '../records/folders.ts';
import { complaintsOf } from '../session/schema.ts';
import * as invented from '../web/invented.ts';
import { cookieIn, ShopNetwork } from './shop-network.ts';

/** Others on the shop network: how they come in, who is there, who holds the wheel. */

const newFolder = temporaryFolders();
let shop: ShopNetwork;
beforeEach(async () => {
  shop = await ShopNetwork.open(newFolder());
});
afterEach(async () => {
  expect(shop.faults).toEqual([]);
  await shop.close();
});

const pairWith = (code: string, name = 'Tablet', more: Partial<Parameters<ShopNetwork['ask']>[0]> = {}) =>
  shop.ask({ method: 'POST', url: '/api/access/pair', body: { code, name }, ...more });
const codeFor = async (role: string) => (await shop.host('POST', '/api/access/codes', { role })).body.code;
const terminalCode = () => /[2-9A-Z]{4}-[2-9A-Z]{4}/.exec(shop.said.at(-1)!)![0];

describe('a device on the shop network', () => {
  it('gets the page, is told that it must pair, and nothing else', async () => {
    expect((await shop.ask({ url: '/' })).status).toBe(200);
    const me = await shop.ask({ url: '/api/access' });
    expect(me.body).toEqual({ shared: true, you: null });
    expect(complaintsOf(MeAnswer, me.body)).toEqual([]);
    const state = await shop.ask({ url: '/api/state' });
    expect([state.status, state.body.code]).toEqual([401, 'not-paired']);
    expect(complaintsOf(Problem, state.body)).toEqual([]);
  });

  it('asks to come in: a code is shown at the terminal, and lets it operate', async () => {
    expect((await shop.ask({ method: 'POST', url: '/api/access/knock' })).status).toBe(200);
    expect(shop.said.at(-1)).toMatch(/^Someone at 192\.168\.1\.20 asks to come in\. Pairing code .* operate/);
    const said = shop.said.length;
    // A second knock shows no second code while the first can be typed in.
    await shop.ask({ method: 'POST', url: '/api/access/knock' });
    expect(shop.said).toHaveLength(said);
    const { status, body, headers } = await pairWith(terminalCode().toLowerCase().replace('-', ' '));
    expect(status).toBe(200);
    expect(body).toMatchObject({ name: 'Tablet', role: 'operate' });
    expect(complaintsOf(PersonView, body)).toEqual([]);
    const state = await shop.ask({ url: '/api/state', cookie: cookieIn(headers) });
    expect(state.status).toBe(200);
  });

  it.each(['watch', 'operate', 'manage'] as const)('gets the role that the host chose: %s', async (role) => {
    const offered = await shop.host('POST', '/api/access/codes', { role });
    expect(complaintsOf(CodeAnswer, offered.body)).toEqual([]);
    const { body, headers } = await pairWith(offered.body.code);
    expect(body.role).toBe(role);
    expect((await shop.ask({ url: '/api/access', cookie: cookieIn(headers) })).body.you).toEqual(body);
  });

  it('keeps its secret in a cookie that scripts cannot read and other sites cannot send', async () => {
    const { headers, body } = await pairWith(await codeFor('operate'));
    const cookie = String(headers['set-cookie']);
    expect(cookie).toMatch(/^catchbench=[\w-]{43}; Max-Age=2592000; Path=\/; HttpOnly; SameSite=Strict$/);
    expect(JSON.stringify(body)).not.toContain(cookie.slice(11, 54));
  });

  it('has to give a name, which is kept on one line', async () => {
    expect((await pairWith(await codeFor('watch'), ' \u0007\u200b ')).body.code).toBe('bad-input');
    const { body } = await pairWith(await codeFor('watch'), 'Ann’s\n\u001b[2J tablet\u202e ');
    expect(body.name).toBe('Ann’s [2J tablet');
  });

  it('leaves: its cookie is worth nothing from then on', async () => {
    const { cookie } = await shop.pair('operate');
    const left = await shop.ask({ method: 'POST', url: '/api/access/leave', cookie });
    expect(String(left.headers['set-cookie'])).toMatch(/^catchbench=; .*Expires=Thu, 01 Jan 1970/);
    expect((await shop.ask({ url: '/api/state', cookie })).status).toBe(401);
  });

  it('is still paired after a restart, and no more thirty days after it came in', async () => {
    await shop.close();
    const file = accessFile(newFolder());
    const folder = newFolder();
    shop = await ShopNetwork.open(folder, { file });
    const { cookie } = await shop.pair('operate');
    await shop.close();
    shop = await ShopNetwork.open(folder, { file });
    const ask = () => shop.ask({ url: '/api/state', cookie });
    expect((await ask()).status).toBe(200);
    shop.later.millis = 29.9 * 86_400_000;
    expect((await ask()).status).toBe(200);
    shop.later.millis = 30 * 86_400_000;
    expect((await ask()).status).toBe(401);
  });
});

describe('whoever manages', () => {
  it('sees who is paired, and ends a session at once, for good', async () => {
    const { cookie, id } = await shop.pair('operate', 'Tablet');
    const { body } = await shop.host('GET', '/api/access/sessions');
    expect(complaintsOf(SessionsAnswer, body)).toEqual([]);
    expect(body.sessions).toMatchObject([{ id, name: 'Tablet', role: 'operate', from: '10.0.0.1' }]);
    expect((await shop.host('POST', `/api/access/sessions/${id}/revoke`)).status).toBe(200);
    expect((await shop.ask({ url: '/api/state', cookie })).status).toBe(401);
    expect((await shop.host('POST', `/api/access/sessions/${id}/revoke`)).status).toBe(404);
  });

  it('reads who paired, started, stopped and was sent away, without a secret in it', async () => {
    const { cookie, id } = await shop.pair('operate', 'Tablet');
    for (const act of ['arm', 'start', 'stop']) {
      await shop.ask({ method: 'POST', url: `/api/run/${act}`, cookie });
    }
    await pairWith('2222-2222');
    await shop.host('POST', `/api/access/sessions/${id}/revoke`);
    const { body } = await shop.host('GET', '/api/access/audit');
    expect(complaintsOf(AuditAnswer, body)).toEqual([]);
    const told = body.entries.map(
      ({ name, act, outcome }: Record<string, string>) => `${name}: ${act}: ${outcome}`,
    );
    expect(told.toReversed()).toEqual([
      ': offered a code: operate',
      'Tablet: pairing: paired',
      'Tablet: POST /api/run/arm: 200',
      'Tablet: POST /api/run/start: 200',
      'Tablet: POST /api/run/stop: 200',
      ': pairing: no-code',
      ': revoked: Tablet',
    ]);
    expect(JSON.stringify(body)).not.toContain(cookie.split('=')[1]);
  });
});

describe('on this computer alone', () => {
  it('nobody is asked for anything', async () => {
    const { status, body } = await shop.host('GET', '/api/access/here');
    expect(status).toBe(200);
    expect(body.you).toEqual({ id: 'host', name: '', role: 'manage' });
    expect(complaintsOf(HereAnswer, body)).toEqual([]);
  });

  it('but whoever comes through a proxy on it is a stranger', async () => {
    for (const name of ['forwarded', 'x-forwarded-for', 'x-real-ip', 'via']) {
      const headers = { host: 'localhost', [name]: '203.0.113.7' };
      expect((await shop.ask({ url: '/api/state', from: '127.0.0.1', headers })).status, name).toBe(401);
    }
  });
});

describe('the wheel', () => {
  const act = (cookie: string | null, url: string, body?: unknown) =>
    cookie === null
      ? shop.host('POST', url, body)
      : shop.ask({ method: 'POST', url, cookie, ...(body === undefined ? {} : { body }) });
  const finish = () => shop.session.show(invented.figuresOf(shop.session.plan, 'finished', 2, 1));
  const here = async (cookie: string) => (await shop.ask({ url: '/api/access/here', cookie })).body;

  it('is taken hold of by whoever arms first; the others are told who has it, and may stop', async () => {
    const [one, other] = [await shop.pair('operate', 'One'), await shop.pair('operate', 'Other')];
    const watcher = await shop.pair('watch', 'Watcher');
    expect((await act(one.cookie, '/api/run/arm')).status).toBe(200);
    for (const { cookie } of [other]) {
      for (const name of ['arm', 'start', 'abort']) {
        const refused = await act(cookie, `/api/run/${name}`);
        expect([refused.status, refused.body.code]).toEqual([409, 'wheel-held']);
      }
    }
    expect((await act(null, '/api/run/start')).body.code).toBe('wheel-held');
    expect((await act(one.cookie, '/api/run/start')).status).toBe(200);
    for (const cookie of [other.cookie, watcher.cookie, null]) {
      expect((await act(cookie, '/api/run/stop')).status).toBe(200);
    }
    expect((await here(other.cookie)).wheel).toEqual({
      holder: one.id,
      asking: [],
      takeInMillis: expect.any(Number),
    });
  });

  it('in somebody else’s hands keeps the plan and the list before a run from being changed; a free one does not', async () => {
    const [one, other] = [await shop.pair('operate', 'One'), await shop.pair('operate', 'Other')];
    const save = (cookie: string) =>
      shop.ask({ method: 'PUT', url: '/api/plan', cookie, body: { ...shop.session.plan, turns: 7 } });
    expect((await save(other.cookie)).status).toBe(200);
    expect((await here(other.cookie)).wheel.holder).toBeNull();
    await act(one.cookie, '/api/run/arm');
    finish();
    const asked = shop.session.asked.length;
    expect((await save(other.cookie)).body.code).toBe('wheel-held');
    expect((await act(other.cookie, '/api/before-run', { items: [...askedOnce] })).body.code).toBe(
      'wheel-held',
    );
    expect(shop.session.asked).toHaveLength(asked);
    expect((await save(one.cookie)).status).toBe(200);
  });

  it('is asked for and given, between runs', async () => {
    const [one, other] = [await shop.pair('operate', 'One'), await shop.pair('operate', 'Other')];
    const watcher = await shop.pair('watch', 'Watcher');
    await act(one.cookie, '/api/run/arm');
    expect((await act(other.cookie, '/api/wheel/ask')).status).toBe(200);
    expect((await here(one.cookie)).wheel.asking).toEqual([other.id]);
    const tooEarly = await act(one.cookie, '/api/wheel/give', { to: other.id });
    expect([tooEarly.status, tooEarly.body.code]).toEqual([409, 'run-under-way']);
    finish();
    expect((await act(one.cookie, '/api/wheel/give', { to: watcher.id })).body.code).toBe('not-operator');
    expect((await act(one.cookie, '/api/wheel/give', { to: 'nobody' })).status).toBe(404);
    expect((await act(other.cookie, '/api/wheel/give', { to: other.id })).body.code).toBe('not-holder');
    expect((await act(one.cookie, '/api/wheel/give', { to: other.id })).status).toBe(200);
    expect((await here(one.cookie)).wheel).toMatchObject({ holder: other.id, asking: [] });
    expect((await act(one.cookie, '/api/run/arm')).body.code).toBe('wheel-held');
  });

  it('is taken from one who does not answer for half a minute, not from one who says no', async () => {
    const [one, other] = [await shop.pair('operate', 'One'), await shop.pair('operate', 'Other')];
    shop.access.wheel.opened(one.id);
    await act(one.cookie, '/api/run/arm');
    finish();
    expect((await act(other.cookie, '/api/wheel/take')).body.code).toBe('wheel-held');
    await act(other.cookie, '/api/wheel/ask');
    shop.later.millis += 29_000;
    expect((await act(other.cookie, '/api/wheel/take')).body.code).toBe('wheel-held');
    await act(one.cookie, '/api/wheel/keep');
    shop.later.millis += 29_000;
    expect((await act(other.cookie, '/api/wheel/take')).body.code).toBe('wheel-held');
    await act(other.cookie, '/api/wheel/ask');
    shop.later.millis += 30_000;
    expect((await act(other.cookie, '/api/wheel/take')).status).toBe(200);
    expect((await here(one.cookie)).wheel.holder).toBe(other.id);
  });

  it('is free when its holder leaves or is revoked, and can be taken from one whose page is gone', async () => {
    const [one, other] = [await shop.pair('operate', 'One'), await shop.pair('operate', 'Other')];
    const closed = shop.access.wheel.opened(one.id);
    await act(one.cookie, '/api/run/arm');
    finish();
    closed();
    shop.later.millis += 9_000;
    expect((await act(other.cookie, '/api/wheel/take')).body.code).toBe('wheel-held');
    shop.later.millis += 1_000;
    expect((await act(other.cookie, '/api/wheel/take')).status).toBe(200);
    await shop.host('POST', `/api/access/sessions/${other.id}/revoke`);
    expect((await here(one.cookie)).wheel.holder).toBeNull();
  });
});
