import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { ShopNetwork } from '../http/shop-network.ts';
import { needs } from '../needs.ts';
import { figuresOf } from '../web/invented.ts';
import { openBrowser, openPage, picture, type Watched } from './chromium.ts';

/** Two devices and the computer at the stand: coming in, who holds the wheel, letting in and sending away. */

const builtPage = fileURLToPath(new URL('../../web/dist', import.meta.url));
const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Every width by light and by dark with CATCHBENCH_WHOLE=1; else the two that differ most. */
const looks = (['light', 'dark'] as const)
  .flatMap((scheme) => [390, 820, 1440].map((width) => [width, scheme] as const))
  .filter((_, index) => process.env.CATCHBENCH_WHOLE === '1' || index === 2 || index === 3);

describe.runIf(needs('chromium'))('the page on the shop network', () => {
  let browser: Browser;
  let shop: ShopNetwork;
  let folder: string;
  let address: string;
  const opened: Watched[] = [];

  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'catchbench-access-'));
    shop = await ShopNetwork.open(folder, { pageFolder: builtPage });
    await shop.app.listen({ port: 0, host: '127.0.0.1' });
    address = `http://127.0.0.1:${(shop.app.server.address() as AddressInfo).port}`;
  });
  afterEach(async () => {
    for (const { close } of opened.splice(0)) await close();
    await shop.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** A device of the shop: what comes through a proxy is not taken for this computer itself. */
  async function device(hash = '', locale = 'en-GB'): Promise<Page> {
    const watched = await openPage(browser, `${address}/${hash}`, {
      extraHTTPHeaders: { via: '1.1 test' },
      locale,
    });
    opened.push(watched);
    return watched.page;
  }
  async function host(hash = ''): Promise<Watched> {
    const watched = await openPage(browser, `${address}/${hash}`, { locale: 'en-GB' });
    opened.push(watched);
    return watched;
  }
  const shownCode = () => /[2-9A-Z]{4}-[2-9A-Z]{4}/.exec(shop.said.at(-1)!)![0];

  async function comeIn(page: Page, name: string, code: string): Promise<void> {
    await page.getByLabel('Code').fill(code);
    await page.getByLabel('Name of this device').fill(name);
    await page.getByRole('button', { name: 'Come in' }).click();
    await page.locator('.acts').waitFor();
  }

  async function nothingToFind(page: Page, name: string): Promise<void> {
    await page.evaluate(axeSource);
    for (const [width, colorScheme] of looks) {
      await page.setViewportSize({ width, height: 900 });
      await page.emulateMedia({ colorScheme });
      const { violations } = await page.evaluate<axe.AxeResults>('axe.run(document)');
      const found = violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 160)}`);
      expect(found, `${name} ${width} ${colorScheme}`).toEqual([]);
      const wide = await page.evaluate('document.documentElement.scrollWidth');
      expect(wide, `${name} ${width}`).toBeLessThanOrEqual(width);
      await page.evaluate('scrollTo(0, 0)');
      await picture(page, `${name}-${width}-${colorScheme}`);
    }
  }

  it('shows a device how to come in, and no more; a wrong code stays as it was typed', async () => {
    const page = await device();
    await page.getByRole('heading', { name: 'Come in' }).waitFor();
    expect(await page.locator('.acts').count()).toBe(0);
    await page.getByRole('button', { name: 'Ask for a code' }).click();
    await page.getByText('A code is waiting at the computer').waitFor();
    await page.getByLabel('Code').fill('2222-2222');
    await page.getByLabel('Name of this device').fill('Tablet');
    await page.getByRole('button', { name: 'Come in' }).click();
    await page.getByText('This is not the code').waitFor();
    expect(await page.getByLabel('Code').inputValue()).toBe('2222-2222');
    await nothingToFind(page, 'pairing');
    await comeIn(page, 'Tablet', shownCode());
    expect(await page.evaluate('document.cookie')).toBe('');
  });

  it('tells everyone who holds the wheel, passes it on when asked, and leaves Stop to all', async () => {
    const [one, other] = [await device(), await device()];
    await one.getByRole('button', { name: 'Ask for a code' }).click();
    await expect.poll(() => shop.said.length).toBe(1);
    await comeIn(one, 'Bench tablet', shownCode());
    await other.getByRole('button', { name: 'Ask for a code' }).click();
    await expect.poll(() => shop.said.length).toBe(2);
    await comeIn(other, 'Phone', shownCode());
    await one.getByRole('button', { name: 'All of this is so: get ready' }).click();
    await one.getByText('This device holds the wheel.').waitFor();
    await other.getByText('The wheel is held by Bench tablet.').waitFor();
    expect(await other.getByRole('button', { name: 'Start', exact: true }).isDisabled()).toBe(true);
    await other.locator('.stop').click();
    expect(shop.session.asked).toEqual(['arm', 'stop']);
    shop.session.show(figuresOf(shop.session.plan, 'finished', 2, 1));
    await other.getByRole('button', { name: 'Ask for the wheel' }).click();
    await one.getByText('Phone asks for the wheel.').waitFor();
    await nothingToFind(one, 'wheel-asked');
    await one.getByRole('button', { name: 'Give it' }).click();
    await other.getByText('This device holds the wheel.').waitFor();
    await one.getByText('The wheel is held by Phone.').waitFor();
  });

  it('lets the computer at the stand let in and send away, and see who did what', async () => {
    const { page, complaints } = await host('#/preferences');
    await page.getByLabel('look on and press Stop').check();
    await page.getByRole('button', { name: 'Show a code' }).click();
    const code = (await page.locator('.access-code strong').textContent())!;
    const guest = await device();
    await comeIn(guest, 'Office', code);
    await guest.getByText('This device looks on.').waitFor();
    await page.getByRole('button', { name: 'Send away: Office' }).waitFor();
    await page.getByRole('button', { name: 'Show who did what' }).click();
    await page.locator('.access-table tbody tr').first().waitFor();
    await nothingToFind(page, 'people');
    await page.getByRole('button', { name: 'Send away: Office' }).click();
    await page.getByText('No device is paired.').waitFor();
    await guest.reload();
    await guest.getByRole('heading', { name: 'Come in' }).waitFor();
    expect(complaints).toEqual([]);
  });

  it.each([
    ['fr-FR', 'Entrer'],
    ['es-ES', 'Entrar'],
    ['de-DE', 'Hereinkommen'],
  ])('speaks the language of the device before anyone has come in: %s', async (locale, title) => {
    await (await device('', locale)).getByRole('heading', { name: title }).waitFor();
  });
});
