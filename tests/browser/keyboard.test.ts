import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { scaledPlan } from '../web/invented.ts';
import { soon } from './soon.ts';
import { withPage } from './with-page.ts';

/** What has the focus: its label, its accessible name or its id. */
const focused = (page: Page) =>
  page.evaluate(() => {
    const element = document.activeElement as HTMLElement & { labels?: NodeListOf<HTMLElement> };
    const { ariaLabel, labels, textContent, id } = element;
    return [ariaLabel ?? labels?.[0]?.textContent ?? textContent, id] as [string, string];
  });

/** Presses Tab until something of this name, or with this id, has the focus. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let presses = 0; presses < 120; presses++) {
    await page.keyboard.press('Tab');
    if ((await focused(page)).some((text) => name.test(text))) return;
  }
  throw new Error(`Nothing called ${name} takes the focus`);
}

describe.runIf(needs('chromium'))('by keyboard alone', () => {
  const around = withPage();

  it('a setting is used, a catch typed in, set aside and brought back, and a run made ready', async () => {
    const { server } = around;
    server.session.plan = scaledPlan;
    for (const setting of [24, 28]) await server.standRun(setting);
    const { page } = await around.open('#/setting');
    await page.locator('.next-card').waitFor();
    await tabTo(page, /^Use setting 3\d$/);
    await page.keyboard.press('Enter');
    await soon(() => server.session.plan.drill.setting).toMatch(/^3\d$/);
    // The form takes the plan's setting as soon as the page has heard of it.
    await soon(() => page.inputValue('#hand-setting')).toBe(server.session.plan.drill.setting);

    await tabTo(page, /^hand-setting$/);
    await page.keyboard.press('ControlOrMeta+A');
    await page.keyboard.type('32');
    await tabTo(page, /^hand-grams$/);
    await page.keyboard.type('88');
    await tabTo(page, /^hand-scaleStep$/);
    await page.keyboard.type('1');
    await page.keyboard.press('Enter');
    await page.getByText('Added.').waitFor();

    await tabTo(page, /^Set aside: Run 3$/);
    await page.keyboard.press('Enter');
    await soon(async () => (await focused(page))[0]).toBe('the bag touched something');
    await page.keyboard.press('ArrowDown');
    await tabTo(page, /^Set aside$/);
    await page.keyboard.press('Enter');
    await soon(async () => (await focused(page))[0]).toBe('Bring back: Run 3');
    expect(await page.locator('.aside').textContent()).toContain('seed was spilled');
    await page.keyboard.press('Enter');
    await soon(() => page.locator('.aside').count()).toBe(0);

    await tabTo(page, /^Get ready$/);
    await page.keyboard.press('Enter');
    await page.locator('h1', { hasText: 'Taring' }).waitFor();
    expect(server.session.asked).toEqual(['keepPlan', 'arm']);
  });
});
