import type { Browser, BrowserContextOptions } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach } from 'vitest';
import { type FakeServer, startFake } from '../web/fake-server.ts';
import { LastingPage, openBrowser, openPage, type Watched } from './chromium.ts';

/** A browser for the file, and for each test a fresh server; pages opened through it are closed after the test. */
export function withPage() {
  let browser: Browser;
  let lasting: LastingPage;
  let opened: Watched[] = [];
  const around = {
    server: undefined as unknown as FakeServer,
    /** A page at the server, with the socket's hello behind it. With `options`, be they empty, it has a profile that no other test had. */
    async open(hash = '', options?: BrowserContextOptions): Promise<Watched> {
      const address = `${around.server.address}/${hash}`;
      const watched = await (options ? openPage(browser, address, options) : lasting.open(address));
      opened.push(watched);
      await watched.page.waitForSelector('.acts');
      await watched.page.waitForSelector('main *');
      return watched;
    },
  };
  beforeAll(async () => {
    browser = await openBrowser();
    lasting = new LastingPage(browser);
  });
  afterAll(async () => {
    await browser.close();
  });
  beforeEach(async () => {
    around.server = await startFake();
  });
  afterEach(async () => {
    for (const watched of opened) await watched.close();
    opened = [];
    await around.server.close();
  });
  return around;
}
