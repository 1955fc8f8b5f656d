import { statSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { CalibrationView } from '../../server/http/calibration-messages.ts';
import { needs } from '../needs.ts';
import type { FakeServer } from '../web/fake-server.ts';
import { openBrowser, openPage, outputPath, picture, type Watched } from './chromium.ts';
import { Newcomer, startQuickStand } from './setup-walk.ts';
import { soon } from './soon.ts';

/** A first calibration by someone new: from empty records to the printed sheet in at most 25 deliberate actions. */

const mostActions = 25;

interface Look {
  units: 'metric' | 'us';
  width: 390 | 820 | 1440;
  scheme: 'light' | 'dark';
}

/** Every look with CATCHBENCH_WHOLE=1; else the narrow one in US units and the wide one in metric. */
const looks: Look[] = (['metric', 'us'] as const)
  .flatMap((units) =>
    ([390, 820, 1440] as const).flatMap((width) =>
      (['light', 'dark'] as const).map((scheme) => ({ units, width, scheme })),
    ),
  )
  .filter(
    ({ units, width, scheme }) =>
      process.env.CATCHBENCH_WHOLE === '1' ||
      (units === 'us' && width === 390 && scheme === 'dark') ||
      (units === 'metric' && width === 1440 && scheme === 'light'),
  );

/** What the newcomer reads off the drill and wants to sow, as each would write it. */
const given = {
  metric: { rowSpacing: '19 cm', circumference: '2,69 m', rate: '67', shown: 'kg/ha' },
  us: { rowSpacing: '7.5 in', circumference: '106 in', rate: '60', shown: 'lb/ac' },
} as const;

describe.runIf(needs('chromium'))('a first calibration by someone new', () => {
  let browser: Browser;
  let server: FakeServer;
  let watched: Watched | null = null;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    server = await startQuickStand();
  });
  afterEach(async () => {
    await watched?.close();
    watched = null;
    await server.close();
  });

  /** Runs of the calibration in hand. */
  const onRecord = async (): Promise<number> => {
    const answer = await fetch(`${server.address}/api/calibration`);
    return ((await answer.json()) as CalibrationView).runs.length;
  };

  /** Sets the calibration up. */
  async function setUp(newcomer: Newcomer, { units }: Look): Promise<void> {
    const { page } = newcomer;
    const { rowSpacing, circumference, rate, shown } = given[units];
    if (units === 'us') await newcomer.press(page.getByText('lb/ac', { exact: true }).first(), 'lb/ac');
    await newcomer.press(page.getByRole('link', { name: 'Change the plan' }), 'Change the plan');
    await page.locator('.steps').waitFor();
    await newcomer.fill('drillName', 'Barn drill');
    await newcomer.fill('rowSpacing', rowSpacing);
    await newcomer.fill('circumference', circumference);
    await newcomer.fill('scaleLow', '0');
    await newcomer.fill('scaleHigh', '80');
    await newcomer.fill('scaleStep', '1');
    await newcomer.fill('setting', '24');
    await newcomer.fill('species-search', 'rye');
    await newcomer.press(page.locator('.choice').first(), 'the species');
    await newcomer.fill('targetRate', rate);
    expect(await page.locator('[data-figure="bulkRate"]').textContent()).toContain(shown);
  }

  /** Makes runs at the settings advised until the page says that it is done. */
  async function calibrate(newcomer: Newcomer, name: string): Promise<void> {
    const { page } = newcomer;
    const acts = page.locator('#acts');
    for (let runs = 1; runs <= 6; runs++) {
      await newcomer.press(acts.getByRole('button', { name: 'Get ready' }), 'Get ready');
      if (runs === 1) {
        // Nothing is readied before the list was looked over.
        expect(server.session.asked).not.toContain('arm');
        await newcomer.press(page.locator('.before-run').getByRole('button'), 'the list is looked over');
      }
      await newcomer.press(acts.getByRole('button', { name: 'Start' }), 'Start');
      await page.locator('.next-card').waitFor({ timeout: 20_000 });
      await soon(onRecord).toBe(runs);
      const done = page.locator('.next-done, .next-settle');
      const use = page.getByRole('button', { name: /^Use setting/ });
      const stays = page.locator('.next-card .note.strong');
      await done.or(use).or(stays).first().waitFor({ timeout: 20_000 });
      if (runs === 1) await picture(page, `${name}-run`, { fullPage: true });
      if ((await done.count()) > 0 && (await use.count()) === 0) return;
      if ((await use.count()) > 0) {
        await newcomer.press(use.first(), 'Use the setting');
        if ((await done.count()) > 0) return;
      }
    }
    throw new Error('Six runs and no end.');
  }

  /** Goes to the sheet and prints it. */
  async function print(newcomer: Newcomer, name: string): Promise<void> {
    const { page } = newcomer;
    await newcomer.press(page.locator('.next-card').getByRole('link', { name: /sheet/ }), 'The sheet');
    await newcomer.press(page.getByRole('button', { name: /^Print/ }).first(), 'Print');
    await soon(() => page.evaluate(() => (globalThis as { printed?: number }).printed)).toBe(1);
    await picture(page, `${name}-sheet`, { fullPage: true });
    const paper = outputPath(`${name}-sheet.pdf`);
    await page.pdf({ path: paper, format: 'A4' });
    expect(statSync(paper).size).toBeGreaterThan(5000);
  }

  it.each(looks)('goes from empty records to a printed sheet: $units, $width px, $scheme', async (look) => {
    const name = `first-${look.units}-${look.width}-${look.scheme}`;
    watched = await openPage(browser, `${server.address}/`, {
      viewport: { width: look.width, height: 900 },
      colorScheme: look.scheme,
    });
    const { page, complaints, outside } = watched;
    await page.addInitScript(() => {
      const counter = globalThis as { printed?: number; print: () => void };
      counter.print = () => {
        counter.printed = (counter.printed ?? 0) + 1;
      };
    });
    await page.reload();
    await page.locator('.acts').waitFor();
    const newcomer = new Newcomer(page);
    await setUp(newcomer, look);
    await picture(page, `${name}-plan`, { fullPage: true });
    await newcomer.press(page.locator('.saving').getByRole('button', { name: 'Save the plan' }), 'Save');
    await page.getByText('Saved.').waitFor();
    expect(server.session.plan).toMatchObject({
      drill: { name: 'Barn drill', scale: { low: 0, high: 80, step: 1 } },
      seed: { parts: [{ species: 'cereal-rye' }] },
    });
    await calibrate(newcomer, name);
    await print(newcomer, name);
    const text = await page.locator('main').textContent();
    for (const told of ['Barn drill', '32']) expect(text).toContain(told);
    console.info(`${name}: ${newcomer.count} actions`);
    expect(newcomer.count, newcomer.done.join('\n')).toBeLessThanOrEqual(mostActions);
    expect(complaints).toEqual([]);
    expect(outside).toEqual([]);
  });
});
