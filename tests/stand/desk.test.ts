/** The check of the stand by the service: its routes, its hold on the stand, its place in the records. */
import { SerialPortStream } from '@serialport/stream';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { createHandledStand, type HandledStand } from '../../firmware-sim/emulated.ts';
import { Player } from '../../firmware-sim/player.ts';
import { StandBinding } from '../../firmware-sim/serial.ts';
import { runAsFastAsItGoes } from '../../firmware-sim/stand.ts';
import { addStandRoutes } from '../../server/http/routes-stand.ts';
import type { CheckActBody, StandCheckAnswer } from '../../server/http/stand-messages.ts';
import { openRecords } from '../../server/records/open.ts';
import { Session } from '../../server/run/session.ts';
import { StandDesk } from '../../server/stand/desk.ts';
import { temporaryFolders } from '../records/folders.ts';
import { planFor } from '../run/imagined.ts';

const folder = temporaryFolders();

class Bench {
  readonly handled: HandledStand = createHandledStand(1, 3);
  readonly app: FastifyInstance = Fastify({
    ajv: { customOptions: { coerceTypes: false, removeAdditional: false } },
  });
  readonly store: Awaited<ReturnType<typeof openRecords>>;
  readonly session: Session;
  readonly desk: StandDesk;

  constructor(store: Awaited<ReturnType<typeof openRecords>>) {
    this.store = store;
    const { stand, person } = this.handled;
    const binding = new StandBinding(stand);
    const createPort = (path: string) =>
      new SerialPortStream({ binding, path, baudRate: 115_200, autoOpen: false });
    this.session = new Session({
      clock: stand.clock,
      link: { createPort, listPorts: async () => [], path: binding.path },
      records: store,
      demo: false,
      plan: planFor(oneRow),
    });
    const player = new Player(stand, person);
    this.desk = new StandDesk({
      session: this.session,
      store,
      clock: stand.clock,
      hands: { asked: (ask) => player.useHands(ask), hang: (cell, grams) => person.hang(cell, grams) },
      now: () => '2026-11-25T12:00:00Z',
      forgottenMillis: 30_000,
    });
    this.app.decorateRequest('person', null);
    addStandRoutes(this.app, this.desk, this.session, (id) => store.standChecks.find(id));
  }

  until(done: () => boolean, seconds = 200): Promise<void> {
    return runAsFastAsItGoes(this.handled.stand, done, seconds);
  }

  /** Lets the stand's time pass until a request is answered. */
  async answer<T>(request: Promise<T>): Promise<T> {
    let settled = false;
    const end = () => {
      settled = true;
    };
    request.then(end, end);
    await this.until(() => settled);
    return request;
  }

  async connect(): Promise<void> {
    this.session.open();
    await this.until(() => this.session.standFacts() !== null);
  }

  async ask(
    method: 'GET' | 'POST',
    url: string,
    payload?: object,
  ): Promise<{ status: number; body: StandCheckAnswer & { code?: string } }> {
    const response = await this.answer(
      this.app.inject({ method, url, ...(payload === undefined ? {} : { payload }) }),
    );
    return { status: response.statusCode, body: response.json() };
  }

  /** An act in answer to what is asked now. */
  async act(body: Omit<CheckActBody, 'question'>): Promise<StandCheckAnswer> {
    const { question } = this.desk.view()!;
    const answer = await this.ask('POST', '/api/stand/check/act', { ...body, question });
    expect(answer.status).toBe(200);
    return answer.body;
  }

  /** Goes on to the step, leaving out those before it. */
  async skipTo(step: string): Promise<void> {
    while (this.desk.view()!.step !== step) {
      await this.act({ do: this.desk.view()!.ask.code === 'judged' ? 'next' : 'skip' });
    }
  }
}

describe('the check by the service', () => {
  let bench: Bench;
  beforeEach(async () => {
    bench = new Bench(await openRecords(folder()));
  });
  afterEach(async () => {
    await bench.answer(bench.desk.drop());
    await bench.answer(bench.session.shut());
    await bench.app.close();
    await bench.store.shut();
  });

  it('is refused without a stand, and there is nothing to act in', async () => {
    expect(await bench.ask('POST', '/api/stand/check')).toMatchObject({
      status: 409,
      body: { code: 'disconnected' },
    });
    expect(await bench.ask('POST', '/api/stand/check/act', { do: 'go', question: '' })).toMatchObject({
      status: 409,
    });
    expect((await bench.ask('GET', '/api/stand/check')).body).toEqual({
      check: null,
      newest: null,
      firmware: null,
    });
  });

  it('holds the stand: no run is armed meanwhile, and one is afterwards', async () => {
    await bench.connect();
    expect((await bench.ask('POST', '/api/stand/check')).body.check).toMatchObject({ step: 'identity' });
    const outcome = await bench.answer(bench.session.arm());
    expect(outcome).toMatchObject({
      ok: false,
      problem: { message: expect.stringContaining('being checked') },
    });
    expect((await bench.ask('POST', '/api/stand/check')).status).toBe(409);
    await bench.ask('POST', '/api/stand/check/drop');
    expect(bench.desk.view()).toBeNull();
    expect(bench.session.holdStand()).toMatchObject({ ok: true });
  });

  it('refuses what is no act, and ignores what is not asked for', async () => {
    await bench.connect();
    await bench.ask('POST', '/api/stand/check');
    for (const wrong of [{ do: 'jump' }, { do: 'settings', values: { ppt: 0 } }, { do: 'go', more: 1 }, {}]) {
      const body = { question: bench.desk.view()!.question, ...wrong };
      expect((await bench.ask('POST', '/api/stand/check/act', body)).status).toBe(400);
    }
    expect((await bench.ask('POST', '/api/stand/check/act', { do: 'go' })).status).toBe(400);
    await bench.act({ do: 'yes' });
    expect(bench.desk.view()!.step).toBe('identity');
  });

  it('takes no answer to what is asked no longer: a yes to the lamp is no yes to the motor', async () => {
    await bench.connect();
    await bench.ask('POST', '/api/stand/check');
    await bench.skipTo('lamp');
    await bench.act({ do: 'go' });
    await bench.until(() => bench.desk.view()!.ask.code === 'lamp-seen', 5);
    const yes = { do: 'yes', question: bench.desk.view()!.question };
    await bench.skipTo('motor');
    const late = await bench.ask('POST', '/api/stand/check/act', yes);
    expect(late).toMatchObject({ status: 409, body: { code: 'refused' } });
    const next = { do: 'skip', question: bench.desk.view()!.question };
    const heldBack = { ...next, do: 'yes', sentAt: performance.now() - 6000 };
    expect((await bench.ask('POST', '/api/stand/check/act', heldBack)).status).toBe(409);
    const { sentAt } = (await bench.ask('GET', '/api/stand/check')).body.check!;
    await bench.act({ do: 'yes', sentAt: sentAt! });
    await bench.until(() => bench.handled.stand.board.motor, 5);
    // What stops the motor is taken at any time.
    expect((await bench.ask('POST', '/api/stand/check/act', next)).status).toBe(200);
    await bench.until(() => !bench.handled.stand.board.motor, 1);
  });

  it('begun anew in the place of one that is over holds the stand as well', async () => {
    await bench.connect();
    await bench.ask('POST', '/api/stand/check');
    await bench.skipTo('motor');
    await bench.act({ do: 'skip' });
    expect(bench.desk.view()!.end).toBe('finished');
    await bench.ask('POST', '/api/stand/check');
    expect(bench.session.holdStand().ok).toBe(false);
  });

  it('writes settings, weighs masses, and keeps all of it with the stand', { timeout: 120_000 }, async () => {
    await bench.connect();
    await bench.ask('POST', '/api/stand/check');
    await bench.act({ do: 'go' });
    await bench.act({ do: 'next' });
    await bench.act({ do: 'settings', values: { name: 'north-bay', warn: 24 } });
    await bench.until(() => bench.desk.view()!.ask.code === 'judged', 10);
    expect(bench.desk.view()!.settings).toMatchObject({ name: 'north-bay', warn: '24' });
    await bench.skipTo('masses');
    for (const on of [[], ['50 g'], ['200 g'], ['500 g'], ['200 g'], []]) {
      await bench.act({ do: 'weigh', on });
      await bench.until(() => bench.desk.view()!.ask.code === 'masses', 60);
    }
    expect(bench.desk.view()!.weighed).toEqual([0, 50, 200, 500, 200, 0]);
    await bench.act({ do: 'go' });
    await bench.act({ do: 'yes' });
    await bench.until(() => bench.desk.view()!.ask.code === 'judged', 10);
    await bench.act({ do: 'next' });
    await bench.skipTo('motor');
    await bench.act({ do: 'skip' });
    await bench.until(() => bench.desk.view()!.kept?.ok === true, 10);

    const { body } = await bench.ask('GET', '/api/stand/check');
    expect(body.newest).toMatchObject({
      stand: 'north-bay',
      passed: false,
      dueAt: '2027-11-25T12:00:00.000Z',
    });
    const text = await bench.app.inject(`/api/stand/checks/${body.newest!.id}/text`);
    expect(text.headers['content-type']).toContain('text/plain');
    expect(text.body).toContain('Check of the stand north-bay, 2026-11-25');
    expect(text.body).toContain('Check masses: ok');
    const { items } = await bench.store.scaleChecks.list();
    expect(items).toHaveLength(1);
    expect(items[0]!.fields).toMatchObject({
      stand: 'north-bay',
      cell: 0,
      passed: true,
      purpose: 'calibration',
    });
    expect(items[0]!.fields.slopeDoubt!.standard).toBeLessThan(0.001);
    expect((await bench.store.stands.list()).items.map(({ fields }) => fields.name)).toEqual(['north-bay']);
    expect(
      (await bench.app.inject('/api/stand/checks/00000000-0000-7000-8000-000000000000/text')).statusCode,
    ).toBe(404);
  });

  it('turns the motor after a yes, and Stop ends it', { timeout: 60_000 }, async () => {
    await bench.connect();
    await bench.ask('POST', '/api/stand/check');
    await bench.skipTo('motor');
    await bench.act({ do: 'yes' });
    await bench.until(() => bench.handled.stand.board.motor, 5);
    void bench.session.stop();
    await bench.until(() => bench.desk.view()!.ask.code === 'judged', 5);
    await bench.until(() => !bench.handled.stand.board.motor, 0.1);
    expect(bench.desk.view()!.results.at(-1)).toMatchObject({ step: 'motor', outcome: 'failed' });
  });

  it('that is forgotten gives the stand free, the motor off', { timeout: 60_000 }, async () => {
    await bench.connect();
    await bench.ask('POST', '/api/stand/check');
    await bench.until(() => bench.desk.view() === null, 40);
    await bench.until(() => bench.session.holdStand().ok, 2);
  });

  it('is broken off when the board starts anew, and what was done is not kept', async () => {
    await bench.connect();
    await bench.ask('POST', '/api/stand/check');
    bench.handled.stand.reset();
    await bench.until(() => bench.desk.view()!.end !== null, 10);
    expect(bench.desk.view()).toMatchObject({ end: 'broken', passed: false, kept: null });
    expect((await bench.store.standChecks.list()).items).toEqual([]);
  });
});
