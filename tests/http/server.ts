import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { WebSocket } from 'ws';
import { type Pace, pace } from '../../firmware-sim/stand.ts';
import { createApp } from '../../server/http/app.ts';
import type { SocketMessage } from '../../server/http/messages.ts';
import { Shop, type ShopOptions } from '../session/shop.ts';

/** The real routes and socket over a real session on the emulated stand, whose time passes some times faster than ours. */
export class TestServer {
  readonly shop: Shop;
  readonly app: FastifyInstance;
  readonly address: string;
  /** Faults that the server reported as its own. */
  readonly faults: Error[];
  readonly #pacing: Pace;
  readonly #pages: TestPage[] = [];

  private constructor(shop: Shop, app: FastifyInstance, faults: Error[], pacing: Pace) {
    this.shop = shop;
    this.app = app;
    this.faults = faults;
    this.#pacing = pacing;
    this.address = `127.0.0.1:${(app.server.address() as AddressInfo).port}`;
  }

  /** `speed`: times real time. */
  static async start({ speed = 6, ...options }: ShopOptions & { speed?: number } = {}): Promise<TestServer> {
    const shop = new Shop({ plan: { turns: 2 }, ...options });
    const faults: Error[] = [];
    const app = await createApp({
      session: shop.session,
      records: shop.records,
      pageFolder: '/nowhere',
      version: '1.2.3',
      report: (error) => faults.push(error),
    });
    await app.listen({ port: 0, host: '127.0.0.1' });
    return new TestServer(shop, app, faults, pace(shop.stand, speed));
  }

  async request(method: string, path: string, options: RequestInit = {}) {
    const response = await fetch(`http://${this.address}${path}`, { method, ...options });
    return { status: response.status, body: await response.json() };
  }

  put(path: string, value: unknown) {
    const headers = { 'content-type': 'application/json' };
    return this.request('PUT', path, { headers, body: JSON.stringify(value) });
  }

  post(path: string) {
    return this.request('POST', path);
  }

  get(path: string) {
    return this.request('GET', path);
  }

  async page(): Promise<TestPage> {
    const page = new TestPage(this.address);
    this.#pages.push(page);
    await page.until(({ messages }) => messages.length > 0);
    return page;
  }

  async connected(): Promise<void> {
    while (this.shop.session.view().link.condition !== 'connected') await pause(5);
    await pause(100);
  }

  async stop(): Promise<void> {
    for (const page of this.#pages) page.close();
    await this.shop.session.shut();
    await this.app.close();
    await this.#pacing.stop();
  }
}

export const pause = (milliseconds: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, milliseconds));

/** What a browser page hears on the socket. */
export class TestPage {
  readonly messages: SocketMessage[] = [];
  readonly texts: string[] = [];
  readonly socket: WebSocket;

  constructor(address: string) {
    this.socket = new WebSocket(`ws://${address}/api/live`, { origin: `http://${address}` });
    this.socket.on('message', (data) => {
      this.texts.push(String(data));
      this.messages.push(JSON.parse(String(data)));
    });
    this.socket.on('error', () => {});
  }

  async until(done: (page: TestPage) => boolean): Promise<void> {
    while (!done(this)) await pause(5);
  }

  /** The first message of this type. */
  first<T extends SocketMessage['type']>(type: T) {
    return this.messages.find((message) => message.type === type) as
      | Extract<SocketMessage, { type: T }>
      | undefined;
  }

  last<T extends SocketMessage['type']>(type: T) {
    return this.messages.findLast((message) => message.type === type) as
      | Extract<SocketMessage, { type: T }>
      | undefined;
  }

  close(): void {
    this.socket.terminate();
  }
}
