import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { figuresOf, plan, traceTo } from '../web/invented.ts';
import { soon } from './soon.ts';
import { withPage } from './with-page.ts';

/** A run as a person goes through it on the page, over an invented session behind the real routes. */

const button = (page: Page, name: string) => page.locator('#acts').getByRole('button', { name });
const headline = (page: Page) => page.locator('h1');
const figure = (page: Page, name: string) => page.locator(`[data-figure="${name}"]`);
const shows = async (page: Page, word: string) => {
  await page.locator('h1', { hasText: word }).waitFor();
};

describe.runIf(needs('chromium'))('a run on the page', () => {
  const around = withPage();
  const turning = (turns = 12.4) => {
    around.server.session.begin('run-1');
    around.server.session.show(figuresOf(plan, 'turning', turns), traceTo(plan, turns));
  };

  it('goes from Get ready to the result', async () => {
    const { session } = around.server;
    const { page, complaints } = await around.open();
    await button(page, 'Get ready').click();
    await shows(page, 'Taring');
    expect(await button(page, 'Start').isDisabled()).toBe(true);
    session.show(figuresOf(plan, 'ready', 0));
    await shows(page, 'Ready');
    await button(page, 'Start').click();
    await shows(page, 'Turning');
    session.show(figuresOf(plan, 'turning', 12.4));
    await page.locator('[data-figure="turns"]', { hasText: '12.4' }).waitFor();
    expect(await figure(page, 'turnsToGo').textContent()).toBe('12.6');
    session.show(figuresOf(plan, 'finished', 25.1));
    await shows(page, 'Within tolerance');
    expect(await page.locator('.budget tbody tr').count()).toBe(8);
    expect(await page.locator('.budget tbody tr').first().textContent()).toContain('largest');
    expect(session.asked).toEqual(['arm', 'start']);
    expect(complaints).toEqual([]);
  });

  it('asks one thing at a time, but never keeps Stop waiting', async () => {
    const { session } = around.server;
    session.begin('run-1', 'ready');
    session.delay = 600;
    const { page } = await around.open();
    await button(page, 'Start').click();
    expect(await button(page, 'Start').isDisabled()).toBe(true);
    expect(await button(page, 'Throw away').isDisabled()).toBe(true);
    await button(page, 'Stop').click();
    await button(page, 'Stop').click();
    await soon(() => session.asked).toEqual(['start', 'stop', 'stop']);
  });

  it.each(['Escape', ' '])('stops by key (%s), whatever has the focus', async (key) => {
    turning();
    const { page } = await around.open();
    await shows(page, 'Turning');
    await page.keyboard.press(key);
    await soon(() => around.server.session.asked).toEqual(['stop']);
  });

  it('takes the space bar on the Start button for Stop', async () => {
    around.server.session.begin('run-1', 'ready');
    const { page } = await around.open();
    await shows(page, 'Ready');
    await button(page, 'Start').focus();
    await page.keyboard.press('Space');
    await soon(() => around.server.session.asked).toEqual(['stop']);
    await page.waitForTimeout(150);
    expect(around.server.session.asked).toEqual(['stop']);
  });

  it('starts nothing by key alone, and does not put the focus on Start by itself', async () => {
    const { session } = around.server;
    const { page } = await around.open();
    await button(page, 'Get ready').focus();
    await page.keyboard.press('Enter');
    await shows(page, 'Taring');
    session.show(figuresOf(plan, 'ready', 0));
    await shows(page, 'Ready');
    for (const key of ['Enter', 's', 'F8', 'ArrowRight', 'Enter']) await page.keyboard.press(key);
    await page.waitForTimeout(150);
    expect(session.asked).toEqual(['arm']);
  });

  it('lets one write spaces on the plan while the wheel turns', async () => {
    turning();
    const { page } = await around.open('#/plan');
    await page.fill('#setting', '28,');
    await page.locator('#setting').press('End');
    await page.keyboard.press('Space');
    expect(await page.inputValue('#setting')).toBe('28, ');
    expect(around.server.session.asked).toEqual([]);
    await page.keyboard.press('Escape');
    await soon(() => around.server.session.asked).toEqual(['stop']);
  });

  it('loses nothing at a reload, and two pages agree', async () => {
    turning();
    const { page } = await around.open();
    const other = await around.open();
    const told = async (which: Page) => ({
      headline: await headline(which).textContent(),
      figures: await which.locator('[data-figure]').allTextContents(),
      chart: await which.locator('canvas').getAttribute('aria-label'),
    });
    await page.locator('canvas[aria-label*="12.4 turns"]').waitFor();
    const before = await told(page);
    expect(before.figures).toContain('42.6');
    await page.reload();
    await page.locator('canvas[aria-label*="12.4 turns"]').waitFor();
    expect(await told(page)).toEqual(before);
    expect(await told(other.page)).toEqual(before);
  });

  it('draws the chart', async () => {
    turning();
    const { page } = await around.open();
    const inked = () =>
      page.locator('canvas').evaluate((canvas: HTMLCanvasElement) => {
        const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
        let count = 0;
        // The trace is #4c2a55 in light.
        for (let at = 0; at < data.length; at += 4) {
          if (data[at] === 0x4c && data[at + 1] === 0x2a && data[at + 2] === 0x55) count++;
        }
        return count;
      });
    await soon(inked).toBeGreaterThan(200);
  });

  it('asks before it throws a run away', async () => {
    turning();
    const { page } = await around.open();
    await button(page, 'Throw away').click();
    await button(page, 'Keep').click();
    expect(around.server.session.asked).toEqual([]);
    await button(page, 'Throw away').click();
    await button(page, 'Yes, throw away').click();
    await shows(page, 'Thrown away');
    expect(around.server.session.asked).toEqual(['abort']);
  });

  it('says why something was refused', async () => {
    const message = 'The stop button is pressed, or its wire is broken. Release it.';
    around.server.session.refuse.arm = { code: 'refused', message };
    const { page } = await around.open();
    await button(page, 'Get ready').click();
    expect(await page.getByRole('alert').locator('p').textContent()).toBe(message);
    around.server.session.refuse = {};
    await button(page, 'Get ready').click();
    await shows(page, 'Taring');
    expect(await page.getByRole('alert').count()).toBe(0);
  });

  it('speaks to a screen reader when the state changes, and not with every figure', async () => {
    const { session } = around.server;
    turning(1);
    const { page } = await around.open();
    const announcer = page.locator('[role=status].unseen');
    await soon(() => announcer.textContent()).toContain('Turning');
    await announcer.evaluate((element) => {
      const counted = globalThis as unknown as { changes: number };
      counted.changes = 0;
      new MutationObserver(() => counted.changes++).observe(element, {
        childList: true,
        characterData: true,
        subtree: true,
      });
    });
    for (let turns = 2; turns < 6; turns += 0.5) {
      session.show(figuresOf(plan, 'turning', turns, 0.98, { sentence: `Turn ${turns}.` }));
      await page.waitForTimeout(60);
    }
    expect(await page.evaluate(() => (globalThis as unknown as { changes: number }).changes)).toBe(0);
    session.show(figuresOf(plan, 'settling', 25));
    await soon(() => announcer.textContent()).toContain('Settling');
  });

  it('shows rates in kg/ha or lb/ac, and remembers which', async () => {
    around.server.session.begin('run-1');
    // 6.72510693716674 g/m² is 60 lb/ac and 67.25 kg/ha (exact definitions of pound and acre).
    const rate = { gramsPerSquareMetre: 6.72510693716674, standardDoubt: 0.1, low: 6.6, high: 6.9 };
    around.server.session.show(figuresOf(plan, 'turning', 12, 0.98, { rate }));
    const { page } = await around.open();
    await page.locator('[data-figure="rate"]', { hasText: '67.3' }).waitFor();
    await page.getByText('lb/ac', { exact: true }).click();
    await page.locator('[data-figure="rate"]', { hasText: '60.0' }).waitFor();
    await page.reload();
    await page.locator('[data-figure="rate"]', { hasText: '60.0' }).waitFor();
  });
});
