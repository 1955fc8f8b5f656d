import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '../../server/http/app.ts';
import { FakeSession } from '../web/fake-session.ts';
import { closeShop, type InventedShop, inventedShop, plan, weighed } from './facts.ts';

describe('the routes of what is printed', () => {
  let shop: InventedShop;
  let app: FastifyInstance;
  const get = (url: string) => app.inject({ url, headers: { host: 'localhost' } });

  beforeAll(async () => {
    shop = await inventedShop();
    const session = new FakeSession();
    session.plan = plan;
    const { store, desk } = shop;
    app = await createApp({
      session,
      records: store,
      store,
      desk,
      pageFolder: '/nowhere',
      version: '0.1.0',
      report: () => {},
    });
  });
  afterAll(async () => {
    await app.close();
    await closeShop(shop);
  });

  it('there is nothing to print before the first run, and that is said', async () => {
    const answer = await get('/api/paper/sheet.pdf');
    expect(answer.statusCode).toBe(404);
    expect(answer.json().message).toContain('nothing to print yet');
  });

  it('then the sheet of the calibration in hand, and of any on record, is a PDF', async () => {
    const facts = await weighed(shop, [24, 40, 32]);
    for (const query of ['', `?calibration=${facts.view.id}&paper=Letter&units=us&language=de`]) {
      for (const name of ['sheet', 'lid']) {
        const answer = await get(`/api/paper/${name}.pdf${query}`);
        expect(answer.statusCode).toBe(200);
        expect(answer.headers['content-type']).toBe('application/pdf');
        expect(answer.rawPayload.subarray(0, 5).toString()).toBe('%PDF-');
        expect(answer.rawPayload.subarray(-7).toString()).toContain('%%EOF');
      }
    }
    const told = (await get(`/api/paper/facts?calibration=${facts.view.id}`)).json();
    expect(told.view.drillName).toBe(plan.drill.name);
    expect(told.plan.drill.circumferenceMetres).toBe(plan.drill.circumferenceMetres);
    expect(told.demo).toBe(false);
  });

  it.each(['?paper=A0', '?units=stone', '?language=xx', '?calibration=no-number', '?more=1'])(
    'what no one can print is refused: %s',
    async (query) => {
      expect((await get(`/api/paper/sheet.pdf${query}`)).statusCode).toBe(400);
    },
  );

  it('a calibration that is not on record is not found', async () => {
    const answer = await get('/api/paper/sheet.pdf?calibration=01900000-0000-7000-8000-000000000000');
    expect(answer.statusCode).toBe(404);
  });
});
