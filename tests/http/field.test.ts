import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type FakeServer, startFake } from '../web/fake-server.ts';
import { scaledPlan } from '../web/invented.ts';

/** Field checks over the real routes and records, with runs of an invented stand. */

let server: FakeServer;
beforeEach(async () => {
  server = await startFake();
  server.session.plan = scaledPlan;
});
afterEach(() => server.close());

async function ask(method: string, path: string, body?: unknown) {
  const init =
    body === undefined
      ? { method }
      : { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
  const response = await fetch(`${server.address}${path}`, init);
  return { status: response.status, body: await response.json() };
}

const sown = (name: string, usedGrams: number, more: object = {}) => ({
  name,
  setting: 28,
  filledGrams: [usedGrams + 20_000],
  leftGrams: 20_000,
  usedDoubtGrams: 100,
  onStandScale: false,
  area: { kind: 'measured', area: 10_000, doubt: 50 },
  ...more,
});

describe('field checks', () => {
  it('hold the seed used against the stand’s rate at that setting', async () => {
    await server.standRun(28);
    await server.standRun(28);
    const { body: before } = await ask('GET', '/api/field');
    expect(before.settings).toHaveLength(1);
    const [{ rate }] = before.settings;
    // 8 % less than the stand said, on one hectare.
    const used = rate * 10_000 * 0.92;
    const { body: line } = await ask('POST', '/api/field/look', sown('north', used));
    expect(line.factor).toBeCloseTo(0.92, 6);
    expect(line.slip.value).toBeCloseTo(1 - 0.92 * (1 - scaledPlan.drill.slip), 6);
    expect((await ask('GET', '/api/field')).body.checks).toEqual([]);
  });

  it('are kept, combined, and say what to aim for', async () => {
    await server.standRun(28);
    await server.standRun(28);
    const [{ rate }] = (await ask('GET', '/api/field')).body.settings;
    for (const [name, share] of [
      ['north', 0.9],
      ['south', 0.905],
      ['east', 0.895],
    ] as const) {
      const keep = () => ask('POST', '/api/field/checks', sown(name, rate * 10_000 * share));
      // Pressed twice, as gloved hands do: one field is one check.
      for (const { status } of await Promise.all([keep(), keep()])) expect(status).toBe(200);
    }
    const { body: view } = await ask('GET', '/api/field');
    expect(view.checks.map((each: { name: string }) => each.name)).toEqual(['north', 'south', 'east']);
    const { combined, target } = view;
    expect(combined.factor).toBeCloseTo(0.9, 3);
    expect(combined.low).toBeLessThan(0.9);
    expect(combined.high).toBeGreaterThan(0.9);
    expect(combined.aim).toBeCloseTo(target / combined.factor, 9);
    const gone = await ask('POST', `/api/field/checks/${view.checks[1].id}/remove`);
    expect(gone.body.checks.map((each: { name: string }) => each.name)).toEqual(['north', 'east']);
  });

  it('know the area by way and width, or by way and rows', async () => {
    await server.standRun(28);
    const way = { distance: 500, distanceDoubt: 1 };
    const wide = sown('a', 5000, { area: { kind: 'driven', ...way, width: 3, widthDoubt: 0.02 } });
    expect((await ask('POST', '/api/field/look', wide)).body.areaSquareMetres).toBeCloseTo(1500, 9);
    const rows = sown('b', 5000, { area: { kind: 'rows', ...way, rows: 12 } });
    const area = 500 * 12 * scaledPlan.drill.rowSpacingMetres;
    expect((await ask('POST', '/api/field/look', rows)).body.areaSquareMetres).toBeCloseTo(area, 9);
  });

  it('are refused in words, beside the field', async () => {
    await server.standRun(28);
    const left = await ask('POST', '/api/field/look', sown('a', 0, { leftGrams: 30_000 }));
    expect(left).toMatchObject({ status: 400, body: { field: '/leftGrams' } });
    const elsewhere = await ask('POST', '/api/field/look', sown('a', 100, { setting: 40 }));
    expect(elsewhere).toMatchObject({ status: 409, body: { code: 'no-runs', field: '/setting' } });
    const unknown = `/api/field?calibration=${'0'.repeat(8)}-0000-7000-8000-${'0'.repeat(12)}`;
    expect((await ask('GET', unknown)).status).toBe(404);
  });
});
