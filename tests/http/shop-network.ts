import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { Access } from '../../server/access/access.ts';
import type { AccessFile } from '../../server/access/file.ts';
import type { Role } from '../../server/access/roles.ts';
import { Desk } from '../../server/calibration/desk.ts';
import { type Checks, openChecks } from '../../server/checks.ts';
import { systemClock } from '../../server/clock.ts';
import { type AppOptions, createApp } from '../../server/http/app.ts';
import { type Patience, usualPatience } from '../../server/http/patience.ts';
import { newLinkFigures } from '../../server/link/figures.ts';
import { noLog } from '../../server/observe/log.ts';
import type { Seen } from '../../server/observe/watch.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { StandDesk } from '../../server/stand/desk.ts';
import { FakeSession } from '../web/fake-session.ts';

/** The service on an imagined shop network: every route there is, asked without a network in between, from whatever address a test names. */

export interface Asked {
  method?: string;
  url: string;
  /** Cookie that was given at pairing; none for a stranger. */
  cookie?: string | undefined;
  from?: string;
  headers?: Record<string, string>;
  body?: unknown;
}

export class ShopNetwork {
  readonly app: FastifyInstance;
  readonly access: Access;
  readonly session: FakeSession;
  readonly store: Store;
  readonly #checks: Checks;
  #devices = 0;
  /** What was said at the terminal. */
  readonly said: string[];
  readonly faults: Error[];
  /** Milliseconds added to both clocks. */
  readonly later: { millis: number };

  private constructor(
    parts: Pick<ShopNetwork, 'app' | 'access' | 'session' | 'store' | 'said' | 'faults' | 'later'>,
    checks: Checks,
  ) {
    this.#checks = checks;
    this.app = parts.app;
    this.access = parts.access;
    this.session = parts.session;
    this.store = parts.store;
    this.said = parts.said;
    this.faults = parts.faults;
    this.later = parts.later;
  }

  static async open(
    folder: string,
    {
      file = null,
      pageFolder = pageIn(folder),
      tls,
      patience = usualPatience,
    }: { file?: AccessFile | null; pageFolder?: string; tls?: AppOptions['tls']; patience?: Patience } = {},
  ): Promise<ShopNetwork> {
    const said: string[] = [];
    const faults: Error[] = [];
    const later = { millis: 0 };
    const now = () => performance.now() + later.millis;
    const wallNow = () => Date.now() + later.millis;
    const say = (sentence: string) => void said.push(sentence);
    const access = await Access.open({ shared: true, pairAs: 'operate', file, say, now, wallNow });
    const session = new FakeSession();
    const store = await openRecords(folder);
    const checks = await openChecks({ session, store, clock: systemClock });
    // Every part that an app can have: a route that only comes with one of them must be here too.
    const options: Omit<Required<AppOptions>, 'tls'> = {
      session,
      records: store,
      desk: new Desk(store, false),
      store,
      checks,
      standDesk: new StandDesk({ session, store, clock: systemClock }),
      unsaved: () => [],
      share: async () => null,
      pageFolder,
      version: '1.2.3',
      observe: { log: noLog, seen: nothingSeen, linkFigures: newLinkFigures },
      report: (error) => faults.push(error),
      access,
      names: ['bench.local'],
      patience,
    };
    const app = await createApp(tls === undefined ? options : { ...options, tls });
    return new ShopNetwork({ app, access, session, store, said, faults, later }, checks);
  }

  async ask({ method = 'GET', url, cookie, from = '192.168.1.20', headers = {}, body }: Asked) {
    const response = await this.app.inject({
      method: method as 'GET',
      url,
      remoteAddress: from,
      headers: { host: 'bench.local:8321', ...(cookie === undefined ? {} : { cookie }), ...headers },
      ...(body === undefined ? {} : { payload: body as object }),
    });
    const value = String(response.headers['content-type']).includes('json') ? response.json() : response.body;
    return { status: response.statusCode, body: value, headers: response.headers };
  }

  /** As this computer itself. */
  host(method: string, url: string, body?: unknown) {
    return this.ask({ method, url, body, from: '127.0.0.1', headers: { host: 'localhost:8321' } });
  }

  /** Pairs a device by a code of the host's page: its cookie and session number. */
  async pair(
    role: Role,
    name: string = role,
    from = this.#freshAddress(),
  ): Promise<{ cookie: string; id: string }> {
    const { code } = (await this.host('POST', '/api/access/codes', { role })).body;
    const { status, body, headers } = await this.ask({
      method: 'POST',
      url: '/api/access/pair',
      body: { code, name },
      from,
    });
    if (status !== 200) throw new Error(`${name} was not paired: ${status} ${JSON.stringify(body)}`);
    return { cookie: cookieIn(headers), id: body.id };
  }

  /** Each device has an address of its own: what one may ask in a minute is limited. */
  #freshAddress(): string {
    this.#devices += 1;
    return `10.0.${this.#devices >> 8}.${this.#devices & 255}`;
  }

  async close(): Promise<void> {
    this.#checks.close();
    await this.app.close();
    await this.access.close();
    await this.store.shut();
  }
}

/** A page in small, in a folder of its own below `folder`. */
function pageIn(folder: string): string {
  const page = join(folder, 'page');
  mkdirSync(page, { recursive: true });
  writeFileSync(join(page, 'index.html'), '<!doctype html><title>Page</title>');
  return page;
}

/** What a browser would send back. */
export function cookieIn(headers: Record<string, unknown>): string {
  return String([headers['set-cookie']].flat()[0]).split(';')[0]!;
}

const nothingSeen: Seen = { runsBegun: 0, runsEnded: {} };
