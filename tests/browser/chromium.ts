import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  type Browser,
  type BrowserContextOptions,
  type ConsoleMessage,
  chromium,
  type Page,
  type Request,
} from 'playwright-core';
import { findProgram } from '../needs.ts';

const flags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: findProgram('chromium')!, args: flags });

export interface Watched {
  page: Page;
  /** Requests to anywhere but the page's own server. */
  outside: string[];
  /** What the browser complained of: exceptions, policy violations, console errors. */
  complaints: string[];
  close(): Promise<void>;
}

/** A blank page of its own profile. */
async function blankPage(browser: Browser, options: BrowserContextOptions = {}): Promise<Page> {
  // Only a test of what the device keeps lets it keep anything: elsewhere it would cost time.
  const context = await browser.newContext({
    reducedMotion: 'reduce',
    serviceWorkers: 'block',
    ...options,
  });
  return context.newPage();
}

/** Goes to `address` and keeps an eye on the page, until it is let go. */
async function visit(page: Page, address: string) {
  const outside: string[] = [];
  const complaints: string[] = [];
  const { host } = new URL(address);
  const onRequest = (request: Request) => {
    const url = new URL(request.url());
    if (url.host !== host && url.protocol !== 'data:') outside.push(request.url());
  };
  const onError = (error: Error) => void complaints.push(error.message);
  const onConsole = (message: ConsoleMessage) => {
    if (message.type() === 'error') complaints.push(message.text());
  };
  page.on('request', onRequest).on('pageerror', onError).on('console', onConsole);
  const letGo = () => void page.off('request', onRequest).off('pageerror', onError).off('console', onConsole);
  await page.goto(address);
  return { page, outside, complaints, letGo };
}

/** Opens a page at `address` in a fresh profile and keeps an eye on it. */
export async function openPage(
  browser: Browser,
  address: string,
  options: BrowserContextOptions = {},
): Promise<Watched> {
  const { letGo: _, ...seen } = await visit(await blankPage(browser, options), address);
  return { ...seen, close: () => seen.page.context().close() };
}

/** As at first: nothing stored, nothing of a test's own in the way, the usual size and colours. */
async function wipe(page: Page): Promise<void> {
  await page.unrouteAll({ behavior: 'ignoreErrors' });
  await page.evaluate(() => {
    localStorage.clear();
    sessionStorage.clear();
  });
  await page.goto('about:blank');
  await page.context().clearCookies();
  await page.emulateMedia({ media: null, colorScheme: null, reducedMotion: 'reduce' });
  await page.setViewportSize({ width: 1280, height: 720 });
  await page.mouse.move(0, 0);
}

/**
 * One page for test after test, each at an address of its own: a fresh profile each time would cost more than most tests. Wiped when it is closed.
 * Scripts put in for good (`addInitScript`) stay: such a test opens a page of its own.
 */
export class LastingPage {
  readonly #browser: Browser;
  #free: Page | null = null;

  constructor(browser: Browser) {
    this.#browser = browser;
  }

  /** A second one, opened before the first is closed, is another page of another profile. */
  async open(address: string): Promise<Watched> {
    const page = this.#free ?? (await blankPage(this.#browser));
    this.#free = null;
    const { letGo, ...seen } = await visit(page, address);
    return { ...seen, close: () => this.#takeBack(page, letGo) };
  }

  async #takeBack(page: Page, letGo: () => void): Promise<void> {
    letGo();
    const wiped = await wipe(page).then(
      () => true,
      () => false,
    );
    if (wiped && this.#free === null) this.#free = page;
    else await page.context().close();
  }
}

const output = fileURLToPath(new URL('../output/', import.meta.url));

/** Where a file for people to look at goes. */
export function outputPath(name: string): string {
  mkdirSync(output, { recursive: true });
  return `${output}${name}`;
}

/** A picture for people to look at, with CATCHBENCH_WHOLE=1: no test reads it, and taking it costs more than all the rest of a test. */
export async function picture(page: Page, name: string, { fullPage = false } = {}): Promise<void> {
  if (process.env.CATCHBENCH_WHOLE !== '1') return;
  await page.screenshot({ path: outputPath(`${name}.png`), fullPage });
}

/** Until what the page was last told is laid out and painted. */
export const painted = (page: Page): Promise<void> =>
  page.evaluate(
    () => new Promise<void>((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => resolve()))),
  );
