import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { type FakeServer, startFake } from '../web/fake-server.ts';
import { figuresOf, plan, traceTo } from '../web/invented.ts';
import { openBrowser, openPage, type Watched } from './chromium.ts';

/** The page as the device keeps it: without the server, and when a new version comes. */
describe.runIf(needs('chromium'))('the page kept on the device', () => {
  let browser: Browser;
  let server: FakeServer;
  let watched: Watched;
  let page: Page;
  let serving: boolean;
  /** A copy of the built page, for a test that changes it. */
  let folder: string;

  const isKept = async () => {
    await page.evaluate(() => location.assign('#/preferences'));
    await page.locator('[data-kept=kept]').waitFor({ timeout: 20_000 });
  };

  const endServer = async () => {
    if (serving) await server.close();
    serving = false;
  };

  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser.close();
  });
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'catchbench-page-'));
    cpSync(fileURLToPath(new URL('../../web/dist', import.meta.url)), folder, { recursive: true });
    server = await startFake({ pageFolder: folder });
    serving = true;
    watched = await openPage(browser, server.address, { serviceWorkers: 'allow' });
    page = watched.page;
    await page.waitForSelector('#acts');
  });
  afterEach(async () => {
    await watched.close();
    await endServer();
    rmSync(folder, { recursive: true });
  });

  it('opens without the server and says so, in the language chosen, and asks nobody else', async () => {
    await isKept();
    await page.getByLabel('Deutsch').check();
    await page.locator('html[lang=de]').waitFor();
    await endServer();
    await page.evaluate(() => location.assign('#/run'));
    await page.reload();
    await page.getByRole('heading', { name: 'Ohne Catchbench geöffnet' }).waitFor();
    await page.getByRole('heading', { name: 'Keine Verbindung' }).waitFor();
    expect(await page.locator('.stop').isEnabled()).toBe(true);
    await page.evaluate(() => location.assign('#/preferences'));
    await page.getByRole('heading', { name: 'Anpassen', level: 2 }).waitFor();
    expect(watched.outside).toEqual([]);
  });

  it('takes a new version when asked to, and keeps what was being typed', async () => {
    await isKept();
    await page.evaluate(() => location.assign('#/plan'));
    await page.fill('#circumference', '2.345 m');
    publishAnother(folder);
    await page.evaluate(async () => void (await (await navigator.serviceWorker.getRegistration())!.update()));
    const offer = page.getByRole('button', { name: 'Use it now' });
    await offer.waitFor();

    server.session.begin('run-1');
    server.session.show(figuresOf(plan, 'turning', 5), traceTo(plan, 5));
    await offer.waitFor({ state: 'detached' });
    server.session.show(figuresOf(plan, 'finished', 25), traceTo(plan, 25));
    await offer.waitFor();
    expect(await page.locator('meta[name=version]').count()).toBe(0);

    await offer.click();
    await page.locator('meta[name=version]').waitFor({ state: 'attached' });
    await page.locator('#circumference').waitFor();
    expect(await page.inputValue('#circumference')).toBe('2.345 m');
  });
});

/** Another version of the page: another index.html, and a list of files that says so. */
function publishAnother(folder: string): void {
  const change = (name: string, find: RegExp, put: string) => {
    const before = readFileSync(join(folder, name), 'utf8');
    const after = before.replace(find, put);
    expect(after, name).not.toBe(before);
    writeFileSync(join(folder, name), after);
  };
  change('index.html', /<head>/, '<head><meta name="version" content="another" />');
  change(
    'sw.js',
    /(url:"index.html",revision:")[^"]*|(revision:")[^"]*(?=",url:"index.html")/,
    '$1$2another',
  );
}
