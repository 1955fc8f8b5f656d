import { afterEach, describe, expect, it } from 'vitest';
import { scaleSlopeDoubt } from '../../server/run/limits.ts';
import type { Outcome } from '../../server/run/session-types.ts';
import { ChecksServer } from './checks-server.ts';
import { pause } from './server.ts';

/** The scale over the emulated stand: its cell live, a check with masses, what is kept, and what a run makes of it. */

let server: ChecksServer;
afterEach(() => server.stop());

const masses = [
  { grams: 100, class: 'M1', doubtGrams: null },
  { grams: 200, class: 'M1', doubtGrams: null },
  { grams: 200, class: 'M1', doubtGrams: null },
];

/** The weighings that the check suggests, one after the other, all or the first so many. */
async function weighAll(most = Number.POSITIVE_INFINITY) {
  let view = (await server.ask('POST', '/api/scale/check', { cell: 0, masses, sharedDoubt: 0 })).body;
  while (view.check.next !== null && view.check.steps.length < most) {
    const weighing = { masses: view.check.next, place: 'middle' };
    view = (await server.ask('POST', '/api/scale/check/weigh', weighing)).body;
  }
  return view;
}

describe('the scale of the stand', () => {
  it('shows its cells live, and takes a zero', async () => {
    server = await ChecksServer.start();
    let { body } = await server.ask('GET', '/api/scale');
    while (body.cells[0].health === null) ({ body } = await server.ask('GET', '/api/scale'));
    expect(body.stand).toBe(server.shop.session.standFacts()!.name);
    expect(body.cells).toHaveLength(1);
    expect(body.cells[0].health.readingsPerSecond).toBeGreaterThan(75);
    expect(body.slopeDoubt).toEqual({ relative: scaleSlopeDoubt, from: 'usual' });
    const zeroed = (await server.ask('POST', '/api/scale/zero', { cell: 0 })).body.cells[0];
    expect(zeroed.zeroed).toBe(true);
    expect(Math.abs(zeroed.grams)).toBeLessThan(0.2);
    server.shop.drill.putOn(0, 250);
    await pause(200);
    let loaded = (await server.ask('GET', '/api/scale')).body.cells[0];
    while (!loaded.steady) {
      loaded = (await server.ask('GET', '/api/scale')).body.cells[0];
    }
    expect(loaded.grams).toBeGreaterThan(249);
    expect(loaded.grams).toBeLessThan(251);
  });

  it('finds the line by check masses, keeps it, and a run reckons with its doubt', async () => {
    server = await ChecksServer.start();
    const { check } = await weighAll();
    expect(check.why).toBeNull();
    expect(check.masses.map(({ name }: { name: string }) => name)).toEqual(['100 g', '200 g', '200 g (2)']);
    expect(check.steps).toHaveLength(check.suggested);
    const { result } = check;
    // The imagined cell's own figures: what is found must lie within what is claimed of it.
    expect(Math.abs(result.slopeError)).toBeLessThan(0.002);
    expect(result.slopeDoubt).toBeGreaterThan(0);
    expect(result.slopeDoubt).toBeLessThan(0.001);
    expect(result.classAsLeft.interval).toBeLessThanOrEqual(1);
    const keep = () => server.ask('POST', '/api/scale/check/keep', { note: '' });
    // Pressed twice, as gloved hands do.
    const [kept, again] = await Promise.all([keep(), keep()]);
    expect([kept.status, again.status]).toEqual([200, 200]);
    expect(kept.body.check).toBeNull();
    expect(kept.body.slopeDoubt.from).toBe('checks');
    expect(kept.body.slopeDoubt.relative).toBeCloseTo(kept.body.kept[0].doubt, 12);
    const { items } = await server.store.scaleChecks.list();
    expect(items).toHaveLength(1);
    expect(items[0]!.fields).toMatchObject({ cell: 0, purpose: 'check', passed: result.passed });
    await server.ask('POST', '/api/run/arm', { list: 'passed-over' });
    const { stand } = (await server.store.find(server.shop.session.view().run.id!))!;
    expect(stand.scaleSlopeDoubt).toBeCloseTo(kept.body.slopeDoubt.relative, 12);
  });

  it('says which mass is wrong, and keeps nothing of such a check', async () => {
    // The 100 g mass is one of 90 g.
    server = await ChecksServer.start({
      wrong: (load) => ([100, 300, 500].includes(load) ? load - 10 : load),
    });
    const { check } = await weighAll();
    expect(check.result).toBeNull();
    expect(check.why).toMatch(/100 g mass reads 10 g too little/);
    const refused = await server.ask('POST', '/api/scale/check/keep', { note: '' });
    expect(refused.status).toBe(400);
    expect((await server.store.scaleChecks.list()).items).toEqual([]);
  });

  it('writes the line found where it is wanted, and says why where it cannot', async () => {
    const written: number[][] = [];
    let answer: Outcome<null> = { ok: false, problem: { code: 'refused', message: 'The board said no.' } };
    server = await ChecksServer.start({
      writeLine: async (...line) => {
        written.push(line);
        return answer;
      },
    });
    const { check } = await weighAll(4);
    const refused = await server.ask('POST', '/api/scale/check/write', { note: '' });
    expect(refused).toMatchObject({ status: 409, body: { message: 'The board said no.' } });
    answer = { ok: true, value: null };
    expect((await server.ask('POST', '/api/scale/check/write', { note: '' })).status).toBe(200);
    const { gramsPerCount, zeroCount } = check.result;
    expect(written.at(-1)).toEqual([0, gramsPerCount, zeroCount]);
    expect((await server.store.scaleChecks.list()).items[0]!.fields.purpose).toBe('calibration');
  });

  it('refuses what makes no sense, in words', async () => {
    server = await ChecksServer.start();
    const begin = (more: object) =>
      server.ask('POST', '/api/scale/check', { cell: 0, masses, sharedDoubt: 0, ...more });
    expect(await begin({ cell: 3 })).toMatchObject({ status: 400, body: { field: '/cell' } });
    const odd = [{ grams: 137, class: 'M1', doubtGrams: null }];
    expect(await begin({ masses: odd })).toMatchObject({ status: 400, body: { field: '/masses/0' } });
    expect((await server.ask('POST', '/api/scale/check/weigh', { masses: [], place: 'middle' })).status).toBe(
      409,
    );
    await begin({});
    const unknown = await server.ask('POST', '/api/scale/check/weigh', { masses: ['5 kg'], place: 'middle' });
    expect(unknown).toMatchObject({ status: 400, body: { field: '/masses' } });
    expect((await server.ask('POST', '/api/scale/check/drop')).body.check).toBeNull();
  });
});
