import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { figuresOf, foretold, plan, traceTo } from '../web/invented.ts';
import { picture } from './chromium.ts';
import { withPage } from './with-page.ts';

const places = ['#/run', '#/setting', '#/plan', '#/stand', '#/field', '#/runs', '#/sheet', '#/preferences'];

/** That everything can be reached and read: by keyboard, at high zoom, on a small screen. */
describe.runIf(needs('chromium'))('the page within reach', () => {
  const around = withPage();
  const turning = () => {
    around.server.session.begin('run-1');
    around.server.session.show(figuresOf(plan, 'turning', 12.4), traceTo(plan, 12.4));
  };

  it.each(places)('every control of %s takes the focus by Tab and shows it', async (hash) => {
    const { page } = await around.open(hash);
    await page.waitForTimeout(200);
    const wanted = await page.evaluate(
      () =>
        [
          ...document.querySelectorAll<HTMLElement>(
            'a[href], button:not(:disabled), input, select, textarea, summary',
          ),
        ].filter(
          (element) =>
            element.checkVisibility() &&
            !(element instanceof HTMLInputElement && element.type === 'radio' && !element.checked),
        ).length,
    );
    const seen = new Set<string>();
    for (let presses = 0; presses < wanted + 12 && seen.size < wanted; presses++) {
      await page.keyboard.press('Tab');
      const focused = await page.evaluate(() => {
        const element = document.activeElement as HTMLElement;
        if (element === document.body) return null;
        const shown = element.matches('.units input') ? element.nextElementSibling! : element;
        const { outlineStyle, outlineWidth } = getComputedStyle(shown);
        const all = [...document.querySelectorAll('*')];
        return {
          place: String(all.indexOf(element)),
          what: element.outerHTML.slice(0, 200),
          ring: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2,
        };
      });
      if (focused === null) continue;
      expect(focused.ring, focused.what).toBe(true);
      seen.add(focused.place);
    }
    expect(seen.size).toBe(wanted);
  });

  // 200 % zoom of a laptop (1440 x 900), a phone, and the 320 px of WCAG 2.2, success criterion 1.4.10.
  it.each([
    [720, 450],
    [390, 844],
    [320, 568],
  ])('nothing is cut off at %d x %d, and Stop is on the screen', async (width, height) => {
    turning();
    const { page } = await around.open('', { viewport: { width, height } });
    for (const hash of places) {
      await page.evaluate((to) => location.assign(to), hash);
      await page.waitForTimeout(150);
      const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(sideways, hash).toBeLessThanOrEqual(0);
      const box = (await page.locator('.stop').boundingBox())!;
      expect(box.y + box.height).toBeLessThanOrEqual(height);
      expect(box.width).toBeGreaterThanOrEqual(44);
      expect(box.height).toBeGreaterThanOrEqual(44);
      const foot = (await page.locator('.foot').boundingBox())!;
      expect(foot.height, 'the foot leaves room to read').toBeLessThanOrEqual(height * 0.4);
    }
  });

  it.each([
    [1440, 900],
    [1366, 768],
  ])('all live figures, an offer and the whole chart fit on a laptop of %d x %d', async (width, height) => {
    turning();
    around.server.session.demo = true;
    around.server.session.show(
      figuresOf(plan, 'turning', 12.5, 0.8, foretold(plan, 12.5, 0.8)),
      traceTo(plan, 12.5, 0.8),
    );
    const { page } = await around.open('', { viewport: { width, height } });
    await page.locator('canvas').waitFor();
    await page.locator('[data-figure=forecast]').waitFor();
    await picture(page, `laptop-offer-${width}`);
    const foot = (await page.locator('.foot').boundingBox())!;
    for (const panel of await page.locator('.board .panel').all()) {
      const box = (await panel.boundingBox())!;
      expect(box.y + box.height).toBeLessThanOrEqual(foot.y);
    }
  });
});
