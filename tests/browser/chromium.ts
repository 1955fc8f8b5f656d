import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
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

/** Opens a page at `address` in a fresh profile and keeps an eye on it. */
export async function openPage(
  browser: Browser,
  address: string,
  options: BrowserContextOptions = {},
): Promise<Watched> {
  // Only a test of what the device keeps lets it keep anything: elsewhere it would cost time.
  const context = await browser.newContext({
    reducedMotion: 'reduce',
    serviceWorkers: 'block',
    ...options,
  });
  const page = await context.newPage();
  const outside: string[] = [];
  const complaints: string[] = [];
  const { host } = new URL(address);
  page.on('request', (request) => {
    const url = new URL(request.url());
    if (url.host !== host && url.protocol !== 'data:') outside.push(request.url());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(address);
  return { page, outside, complaints, close: () => context.close() };
}

const output = fileURLToPath(new URL('../output/', import.meta.url));

/** Where a picture for people to look at goes. */
export function picturePath(name: string): string {
  mkdirSync(output, { recursive: true });
  return `${output}${name}.png`;
}
