import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { figuresOf, plan, traceTo } from '../web/invented.ts';
import { withPage } from './with-page.ts';

const byHand = { ...plan, mode: 'hand' as const };

/** What helps the one at the wheel: tones for the last turns, a screen that stays on. */
describe.runIf(needs('chromium'))('aids at the wheel', () => {
  const around = withPage();

  const turnTo = async (page: Page, turns: number, phase: 'turning' | 'settling' = 'turning') => {
    around.server.session.show(figuresOf(byHand, phase, turns), traceTo(byHand, turns));
    await page.waitForFunction(
      (text) => document.querySelector('[data-figure=turns]')?.textContent === text,
      turns.toFixed(1),
    );
  };
  const listen = (page: Page) =>
    page.evaluate(() => {
      const heard: string[] = [];
      Object.assign(globalThis, { heard });
      addEventListener('catchbench:sound', (event) => heard.push((event as CustomEvent<string>).detail));
    });
  const heard = (page: Page) => page.evaluate(() => (globalThis as unknown as { heard: string[] }).heard);
  const turnAll = async (page: Page) => {
    for (const turns of [21.7, 22.2, 22.6, 23.1, 24.3]) await turnTo(page, turns);
    await turnTo(page, 25.1, 'settling');
  };

  it('sound the last three turns and the end of a wheel turned by hand, once someone has asked for it', async () => {
    const { page } = await around.open('#/preferences');
    await page.getByLabel('A tone at each of the last three turns').check();
    await page.reload();
    expect(await page.getByLabel('A tone at each of the last three turns').isChecked()).toBe(true);
    await page.evaluate(() => location.assign('#/run'));
    around.server.session.plan = byHand;
    around.server.session.begin('run-1');
    // Browsers let a page sound only after a touch.
    await page.locator('h1').click();
    await listen(page);
    await turnAll(page);
    expect(await heard(page)).toEqual(['turn', 'turn', 'turn', 'end']);
  });

  it('are silent unless asked for', async () => {
    const { page } = await around.open('#/run');
    around.server.session.plan = byHand;
    around.server.session.begin('run-1');
    await page.locator('h1').click();
    await listen(page);
    await turnAll(page);
    expect(await heard(page)).toEqual([]);
  });

  it('keep the screen on while the wheel may turn, and no longer', async () => {
    const { page } = await around.open('#/run', {});
    await page.addInitScript(() => {
      const log: string[] = [];
      const request = async () => {
        log.push('held');
        return { addEventListener() {}, release: async () => void log.push('let go') };
      };
      Object.defineProperty(navigator, 'wakeLock', { value: { request } });
      Object.assign(globalThis, { log });
    });
    await page.reload();
    await page.waitForSelector('#acts');
    const log = () => page.evaluate(() => (globalThis as unknown as { log: string[] }).log);
    around.server.session.begin('run-1');
    await turnTo(page, 3);
    expect(await log()).toEqual(['held']);
    await turnTo(page, 25.1, 'settling');
    expect(await log()).toEqual(['held', 'let go']);
    expect(await page.getByText('The screen may go dark').count()).toBe(0);
  });

  it('say so during a run where the browser cannot keep the screen on', async () => {
    const { page } = await around.open('#/run', {});
    await page.addInitScript(() => Object.defineProperty(navigator, 'wakeLock', { value: undefined }));
    await page.reload();
    await page.waitForSelector('#acts');
    expect(await page.getByText('The screen may go dark').count()).toBe(0);
    around.server.session.begin('run-1');
    await turnTo(page, 3);
    await page.getByText('The screen may go dark').waitFor();
  });
});
