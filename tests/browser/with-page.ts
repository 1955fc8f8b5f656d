import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach } from 'vitest';
import { type FakeServer, startFake } from '../web/fake-server.ts';
import { openBrowser, openPage, type Watched } from './chromium.ts';

/** A browser for the file, and for each test a fresh server; pages opened through it are closed after the test. */
export function withPage() {
  let browser: Browser;
  let opened: Watched[] = [];
  const around = {
    server: undefined as unknown as FakeServer,
    /** A page of its own profile at the server, with the socket's hello behind it. */
    async open(hash = '', options = {}): Promise<Watched> {
      const watched = await openPage(browser, `${around.server.address}/${hash}`, options);
      opened.push(watched);
      await watched.page.waitForSelector('.acts');
      await watched.page.waitForSelector('main *');
      return watched;
    },
  };
  beforeAll(async () => {
    browser = await openBrowser();
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
