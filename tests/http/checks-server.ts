import { mkdtempSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { type Pace, pace } from '../../firmware-sim/stand.ts';
import { Desk } from '../../server/calibration/desk.ts';
import { type Checks, openChecks, withScaleChecks } from '../../server/checks.ts';
import { createApp } from '../../server/http/app.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import type { ScaleSurroundings } from '../../server/scale/desk.ts';
import { Shop, type ShopOptions } from '../session/shop.ts';
import { pause } from './server.ts';

interface Wishes extends Pick<ScaleSurroundings, 'writeLine'> {
  /** What really hangs there where the masses say so many grams. */
  wrong?: (grams: number) => number;
}

/** The real routes with all that is checked around the runs, real records, and a session on the emulated stand. */
export class ChecksServer {
  readonly shop: Shop;
  readonly store: Store;
  readonly checks: Checks;
  readonly #app: FastifyInstance;
  readonly #pacing: Pace;
  readonly #folder: string;

  private constructor(parts: {
    shop: Shop;
    store: Store;
    checks: Checks;
    app: FastifyInstance;
    pacing: Pace;
    folder: string;
  }) {
    ({ shop: this.shop, store: this.store, checks: this.checks } = parts);
    this.#app = parts.app;
    this.#pacing = parts.pacing;
    this.#folder = parts.folder;
  }

  static async start(
    { wrong = (grams) => grams, ...more }: Wishes = {},
    options: ShopOptions = {},
  ): Promise<ChecksServer> {
    const folder = mkdtempSync(join(tmpdir(), 'catchbench-checks-'));
    const store = await openRecords(folder);
    const desk = new Desk(store, true);
    const shop = new Shop({
      plan: { turns: 2 },
      records: store,
      desk: withScaleChecks(desk, store),
      ...options,
    });
    const { session, drill, stand } = shop;
    const checks = await openChecks({
      session,
      store,
      clock: stand.clock,
      putOn: (cell, grams) => drill.putOn(cell, wrong(grams)),
      ...more,
    });
    const app = await createApp({
      session,
      records: store,
      store,
      desk,
      checks,
      pageFolder: '/nowhere',
      version: '1.2.3',
      report: console.error,
    });
    await app.listen({ port: 0, host: '127.0.0.1' });
    const server = new ChecksServer({ shop, store, checks, app, pacing: pace(stand, 20), folder });
    while (session.standFacts() === null) await pause(5);
    await pause(100);
    return server;
  }

  async ask(method: string, path: string, body?: unknown) {
    const { port } = this.#app.server.address() as AddressInfo;
    const init =
      body === undefined
        ? { method }
        : { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
    const response = await fetch(`http://127.0.0.1:${port}${path}`, init);
    return { status: response.status, body: await response.json() };
  }

  async stop(): Promise<void> {
    this.checks.close();
    await this.shop.session.shut();
    await this.#app.close();
    await this.#pacing.stop();
    await this.store.shut();
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
