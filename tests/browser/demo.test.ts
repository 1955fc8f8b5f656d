import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { visits } from '../../server/demo/scenario.ts';
import type { RunDetail, RunsAnswer } from '../../server/http/messages.ts';
import { needs } from '../needs.ts';
import { openBrowser, openPage, picture } from './chromium.ts';
import { soon } from './soon.ts';

/** The demo as a user meets it: the built program with the real firmware in emulation, and the real page in a real browser. */

const program = fileURLToPath(new URL('../../server/dist/main.js', import.meta.url));

/** Starts the program and resolves to its address once it has said where it is. */
async function startDemo(folder: string): Promise<{ child: ChildProcess; address: string }> {
  const env = { ...process.env, PORT: '0', CATCHBENCH_DATA: folder, CATCHBENCH_NO_OPEN: '1' };
  const child = spawn(process.execPath, [program, 'demo', '--seed', '7', '--speed', '8'], {
    env,
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let said = '';
  // The stream stays open: a program whose words nobody takes any more would end.
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout!.on('data', (chunk) => {
      said += String(chunk);
      const found = /http:\/\/\S+/.exec(said)?.[0];
      if (found !== undefined) resolve(found);
    });
    child.once('exit', () => reject(new Error(`The demo ended without an address: ${said}`)));
  });
  return { child, address };
}

const button = (page: Page, name: string) => page.locator('#acts').getByRole('button', { name });
const figure = (page: Page, name: string) => page.locator(`[data-figure="${name}"]`).textContent();
const numbers = (text: string | null) => (text?.match(/\d+(\.\d+)?/g) ?? []).map(Number);

describe.runIf(needs('chromium'))('the demo in a browser', () => {
  const folder = mkdtempSync(join(tmpdir(), 'catchbench-demo-'));
  let child: ChildProcess;
  let address: string;
  let browser: Browser;

  beforeAll(async () => {
    ({ child, address } = await startDemo(folder));
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser.close();
    if (child.exitCode === null) {
      const ended = once(child, 'exit');
      child.kill('SIGTERM');
      await ended;
    }
    rmSync(folder, { recursive: true, force: true });
  });

  const records = async <T>(path: string): Promise<T> =>
    (await fetch(`${address}/api/${path}`)).json() as Promise<T>;
  /** Runs made here, without those of the invented week; newest first. */
  const ownRuns = async () => {
    const { runs } = await records<RunsAnswer>('runs?limit=200');
    return runs.filter(({ plan }) => plan.drill.name === 'Yard drill, 12 rows');
  };

  it('has the invented week on record soon, made beside it', { timeout: 120_000 }, async () => {
    const week = async () => (await records<{ items: unknown[] }>('records/calibration')).items.length;
    // The runs below are not to wait for a processor that is busy with it.
    await expect.poll(week, { timeout: 100_000, interval: 300 }).toBe(visits.length);
  });

  it('goes from the page to a finished run of 25 turns, and the page says what the records say', async () => {
    const { page, complaints, outside } = await openPage(browser, address, {
      viewport: { width: 1366, height: 768 },
    });
    await page.locator('.demo-note').waitFor();
    await button(page, 'Get ready').click();
    await page.getByRole('button', { name: 'All of this is so: get ready' }).click();
    await page.locator('h1', { hasText: 'Ready' }).waitFor({ timeout: 20_000 });
    await button(page, 'Start').click();
    await page.locator('h1', { hasText: 'Turning' }).waitFor();
    await soon(async () => Number(await figure(page, 'turns'))).toBeGreaterThan(3);
    await page.reload();
    await soon(async () =>
      numbers(await page.locator('canvas').getAttribute('aria-label')).at(-1),
    ).toBeGreaterThan(3);
    await picture(page, 'demo-turning');
    await page.locator('.result').waitFor({ timeout: 60_000 });
    await picture(page, 'demo-finished', { fullPage: true });

    const runs = await ownRuns();
    expect(runs).toHaveLength(1);
    const run = await records<RunDetail>(`runs/${runs[0]!.id}`);
    expect(run).toMatchObject({
      demo: true,
      plan: { turns: 25 },
      figures: { phase: 'finished', outcome: 'complete' },
    });
    const { grams, turnsDone, rate, budget, sentence } = run.figures!;
    expect(turnsDone).toBeGreaterThanOrEqual(25);
    expect(run.trace.length).toBeGreaterThan(50);

    expect(Number(await figure(page, 'grams'))).toBeCloseTo(grams!, 1);
    expect(Number(await figure(page, 'turns'))).toBeCloseTo(turnsDone, 1);
    // 1 kg/ha is 0.1 g/m² (exact).
    expect(Number(await figure(page, 'rate'))).toBeCloseTo(rate!.gramsPerSquareMetre * 10, 1);
    const [, low, high] = numbers(await figure(page, 'interval'));
    expect(low).toBeCloseTo(rate!.low * 10, 1);
    expect(high).toBeCloseTo(rate!.high * 10, 1);
    expect(await page.locator('.banner').textContent()).toContain(sentence);
    expect(await page.locator('.budget tbody tr').count()).toBe(budget.length);

    await page.getByText('lb/ac', { exact: true }).click();
    // 1 lb/ac is 1.120851156194456 kg/ha (exact definitions of pound and acre).
    await soon(async () => Number(await figure(page, 'rate'))).toBeCloseTo(
      (rate!.gramsPerSquareMetre * 10) / 1.120851156194456,
      1,
    );

    await page.locator('.runs a').first().click();
    await page.locator('h2', { hasText: 'Run of' }).waitFor();
    await soon(async () => Number(await figure(page, 'grams'))).toBeCloseTo(grams!, 1);
    expect(complaints).toEqual([]);
    expect(outside).toEqual([]);
  });

  it('stops in mid-run by key, keeps what was caught, and can go again', async () => {
    const { page } = await openPage(browser, address);
    await button(page, 'Get ready').click();
    await page.locator('h1', { hasText: 'Ready' }).waitFor({ timeout: 20_000 });
    await button(page, 'Start').click();
    await soon(async () => Number(await figure(page, 'turns'))).toBeGreaterThan(2);
    await page.keyboard.press('Escape');
    await page.locator('h1', { hasText: 'Stopped' }).waitFor({ timeout: 30_000 });
    const runs = await ownRuns();
    expect(runs).toHaveLength(2);
    const { turnsDone, grams, outcome } = runs[0]!.figures!;
    expect(outcome).toBe('stopped');
    expect(turnsDone).toBeGreaterThan(2);
    expect(turnsDone).toBeLessThan(25);
    expect(Number(await figure(page, 'grams'))).toBeCloseTo(grams!, 1);
    expect(await button(page, 'Get ready').isEnabled()).toBe(true);
  });

  it('leads from the first run to a setting that is used for the next, and takes a catch weighed by hand', async () => {
    const { page, complaints } = await openPage(browser, `${address}/#/setting`);
    const told = async () => Number(await page.locator('[data-figure="nextSetting"]').textContent());
    await page.locator('[data-figure="nextSetting"]').waitFor();
    const found = await told();
    expect(found).toBeGreaterThan(24);
    await page.getByRole('button', { name: `Use setting ${found}` }).click();
    await page.getByText(`The plan says ${found}.`).waitFor();
    await page.getByRole('link', { name: 'Run', exact: true }).click();
    await button(page, 'Get ready').click();
    await page.locator('h1', { hasText: 'Ready' }).waitFor({ timeout: 20_000 });
    await button(page, 'Start').click();
    await page.locator('.result').waitFor({ timeout: 60_000 });
    await page.locator('.next-card').waitFor();
    await picture(page, 'demo-taught', { fullPage: true });
    const runs = await ownRuns();
    expect(runs[0]!.plan.drill.setting).toBe(String(found));

    await page.getByRole('link', { name: 'Why, and all runs' }).click();
    const rows = page.locator('.panel .runs tbody tr');
    await page.fill('#hand-grams', '90');
    await page.fill('#hand-scaleStep', '1');
    await page.getByRole('button', { name: 'Add this run' }).click();
    await soon(() => rows.first().textContent()).toContain('by hand');
    await picture(page, 'demo-setting', { fullPage: true });
    await rows
      .first()
      .getByRole('button', { name: /^Set aside: Run \d+$/ })
      .click();
    await page.locator('#why-own').fill('only to see');
    await page.locator('.why').getByRole('button', { name: 'Set aside' }).click();
    await soon(() => rows.first().textContent()).toContain('Set aside by you: only to see');
    expect(complaints).toEqual([]);
  });

  it('takes a plan from the page, and refuses a port that is none with a sentence', async () => {
    const { page } = await openPage(browser, `${address}/#/plan`);
    await page.fill('#turns', '12');
    await page.fill('#rowSpacing', '7 1/2 in');
    await page.locator('.saving').getByRole('button', { name: 'Save the plan' }).click();
    await page.getByText('Saved.').waitFor();
    const { plan } = await records<{ plan: { turns: number; drill: { rowSpacingMetres: number } } }>('state');
    expect(plan).toMatchObject({ turns: 12, drill: { rowSpacingMetres: expect.closeTo(0.1905, 12) } });
    await page.evaluate(() => location.assign('#/stand'));
    await page.fill('#path', '/nowhere');
    await page.getByRole('button', { name: 'Connect' }).click();
    await picture(page, 'demo-stand');
    await soon(
      async () =>
        (await page.locator('#path-problem').textContent()) ||
        (await page.locator('.condition + p').textContent()),
    ).toContain('/nowhere');
  });
});
