import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { mayDo, type Needed, type Role, roles, usualNeed } from '../../server/access/roles.ts';
import { ShopNetwork } from './shop-network.ts';

/**
 * Who may call what, written down once more, apart from the routes: a route that is new, gone, or asks something else than is written here is found.
 * `wheel`: only for the one who holds the wheel; `wheel free`: not while somebody else does.
 */
const needs: Record<string, Needed | 'wheel' | 'wheel, manage' | 'wheel free'> = {
  'GET /api/access': 'open',
  'POST /api/access/knock': 'open',
  'POST /api/access/pair': 'open',
  'POST /api/access/leave': 'watch',
  'GET /api/access/here': 'watch',
  'POST /api/access/codes': 'manage',
  'GET /api/access/sessions': 'manage',
  'POST /api/access/sessions/:id/revoke': 'manage',
  'GET /api/access/audit': 'manage',
  'POST /api/wheel/ask': 'operate',
  'POST /api/wheel/take': 'operate',
  'POST /api/wheel/keep': 'operate',
  'POST /api/wheel/leave': 'operate',
  'POST /api/wheel/give': 'operate',
  'GET /api/state': 'watch',
  'GET /api/plan': 'watch',
  'PUT /api/plan': 'wheel free',
  'GET /api/ports': 'watch',
  'POST /api/link': 'manage',
  'POST /api/run/arm': 'wheel',
  'POST /api/run/start': 'wheel',
  'POST /api/run/stop': 'watch',
  'POST /api/run/abort': 'wheel',
  'GET /api/runs': 'watch',
  'GET /api/runs/:id': 'watch',
  'GET /api/runs/:id/readings': 'watch',
  'GET /api/calibration': 'watch',
  'GET /api/calibration/early': 'watch',
  'GET /api/calibrations/:id': 'watch',
  'POST /api/calibration/anew': 'operate',
  'POST /api/calibration/hand-runs': 'operate',
  'POST /api/calibration/rows': 'operate',
  'PUT /api/calibration/printed-chart': 'operate',
  'POST /api/runs/:id/set-aside': 'operate',
  'POST /api/runs/:id/bring-back': 'operate',
  'GET /api/setup/past': 'watch',
  'GET /api/setup/species': 'watch',
  'POST /api/setup/keep': 'operate',
  'GET /api/scale': 'watch',
  'POST /api/scale/zero': 'operate',
  'POST /api/scale/check': 'operate',
  'POST /api/scale/check/weigh': 'operate',
  'POST /api/scale/check/undo': 'operate',
  'POST /api/scale/check/drop': 'operate',
  'POST /api/scale/check/keep': 'operate',
  'POST /api/scale/check/write': 'manage',
  'GET /api/stand/check': 'watch',
  'POST /api/stand/check': 'wheel, manage',
  'POST /api/stand/check/act': 'wheel, manage',
  'POST /api/stand/check/drop': 'operate',
  'GET /api/stand/checks/:id/text': 'watch',
  'GET /api/before-run': 'watch',
  'POST /api/before-run': 'wheel',
  'GET /api/field': 'watch',
  'POST /api/field/look': 'operate',
  'POST /api/field/checks': 'operate',
  'POST /api/field/checks/:id/remove': 'operate',
  'GET /api/records/:kind': 'watch',
  'GET /api/records/:kind/:id': 'watch',
  'GET /api/records/:kind/:id/history': 'watch',
  'POST /api/records/:kind/:id/remove': 'operate',
  'POST /api/records/:kind/:id/bring-back': 'operate',
  'GET /api/paper/facts': 'watch',
  'GET /api/paper/sheet.pdf': 'watch',
  'GET /api/paper/lid.pdf': 'watch',
  'GET /api/export': 'watch',
  'GET /api/export/schema': 'watch',
  'GET /api/export/unsaved': 'watch',
  'GET /api/backups': 'watch',
  'POST /api/backups': 'operate',
  'GET /api/backups/:name': 'watch',
  'POST /api/backups/:name/restore': 'manage',
  'POST /api/backups/:name/remove': 'manage',
  'POST /api/backups/upload': 'manage',
  'GET /api/health': 'watch',
  'GET /metrics': 'watch',
  'GET /api/openapi.json': 'watch',
  'POST /api/import': 'manage',
  'GET /*': 'open',
};

let shop: ShopNetwork;
let folder: string;
const cookies = new Map<Role | null, string | undefined>([[null, undefined]]);

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'catchbench-roles-'));
  shop = await ShopNetwork.open(folder);
  for (const role of roles) cookies.set(role, (await shop.pair(role)).cookie);
});
afterAll(async () => {
  await shop.close();
  rmSync(folder, { recursive: true, force: true });
});

const table = () => shop.app.routeTable().filter(({ method }) => method !== 'HEAD' && method !== 'OPTIONS');

/** An address that this route answers to. */
const sample = (url: string): string =>
  url
    .replace(':kind', 'drill')
    .replace(':name', '2026-01-01T00-00-00-000Z.db')
    .replace(/:[a-z]+/gi, '00000000-0000-7000-8000-000000000000');

const turnedBack = new Set(['not-paired', 'not-allowed']);

describe('every route', () => {
  it('asks of its caller what is written here', () => {
    const words = { hold: 'wheel', free: 'wheel free' };
    const withWheel = (role: Needed, wheel: 'hold' | 'free') =>
      role === 'operate' ? words[wheel] : `${words[wheel]}, ${role}`;
    const found = table().map(({ method, url, role, wheel }) => [
      `${method} ${url}`,
      wheel === null ? role : withWheel(role, wheel),
    ]);
    expect(Object.fromEntries(found)).toEqual(needs);
  });

  it.each([null, ...roles])(
    'lets in whom it should and nobody else: %s',
    { timeout: 60_000 },
    async (role) => {
      const wrong: string[] = [];
      for (const { method, url, role: needed } of table()) {
        // Leaving ends the session with which the rest is asked.
        if (url === '/api/access/leave' && role !== null) continue;
        for (const headers of [{}, { 'content-type': 'application/json' }] as Record<string, string>[]) {
          const asked = { method, url: sample(url), cookie: cookies.get(role), headers };
          const { status, body } = await shop.ask(asked);
          const refused = turnedBack.has(body?.code);
          if (refused !== !mayDo(role, needed))
            wrong.push(`${method} ${url} for ${role}: ${status} ${body?.code}`);
          if (refused) expect([401, 403]).toContain(status);
          expect(status, `${method} ${url}`).toBeLessThan(500);
        }
      }
      expect(wrong).toEqual([]);
      expect(shop.faults).toEqual([]);
    },
  );

  it('that says nothing of itself is for looking where it is a GET, for those who operate where it is not', () => {
    for (const { method, role, url } of table()) {
      const stricter = mayDo(role === 'open' ? null : role, usualNeed(method));
      const looser = ['/', '/*', '/api/access', '/api/access/knock', '/api/access/pair'];
      const harmless = [...looser, '/api/access/leave', '/api/run/stop'];
      expect(stricter || harmless.includes(url), `${method} ${url} asks only ${role}`).toBe(true);
    }
  });

  it('is not opened by another method, a capital letter or a slash too many', async () => {
    for (const url of [
      '/API/state',
      '/api//state',
      '/api/state/',
      '//api/state',
      '/api/%73tate',
      '/api/state;x',
      '/./api/state',
    ]) {
      const { status, body } = await shop.ask({ url });
      expect([400, 401, 403, 404], url).toContain(status);
      expect(body?.startId, url).toBeUndefined();
    }
    for (const method of ['HEAD', 'OPTIONS', 'TRACE', 'PROPFIND']) {
      const { status } = await shop.ask({ method, url: '/api/state' }).catch(() => ({ status: 0 }));
      expect(status).not.toBe(200);
    }
    const override = {
      'x-http-method-override': 'GET',
      'x-original-url': '/api/access',
      'x-rewrite-url': '/',
    };
    expect((await shop.ask({ method: 'POST', url: '/api/access/codes', headers: override })).status).toBe(
      401,
    );
  });
});
