import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { figuresOf, foretold, plan, traceTo } from '../web/invented.ts';
import { withPage } from './with-page.ts';

/**
 * The contrast of each live figure, its unit, its heading and the headline on the ground that they stand on, as the browser paints them. Relative
 * luminance and contrast ratio as defined in WCAG 2.2 (W3C Recommendation, 5 October 2023); AAA, 1.4.6: 7 to 1.
 */
const contrasts = (page: Page) =>
  page.evaluate(() => {
    const channels = (colour: string) => (colour.match(/[\d.]+/g) ?? []).map(Number);
    const luminance = ([red = 0, green = 0, blue = 0]: number[]) => {
      const [r, g, b] = [red, green, blue].map((value) => {
        const share = value / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
    };
    const groundOf = (element: Element): number[] => {
      for (let at: Element | null = element; at !== null; at = at.parentElement) {
        const ground = channels(getComputedStyle(at).backgroundColor);
        if (ground.length === 3 || ground[3] === 1) return ground;
      }
      return [255, 255, 255];
    };
    return [...document.querySelectorAll('[data-figure], .board .beside, .board h2, .banner h1, .banner p')]
      .filter((element) => element.checkVisibility())
      .map((element) => {
        const [lower, upper] = [
          luminance(channels(getComputedStyle(element).color)),
          luminance(groundOf(element)),
        ].sort((a, b) => a - b);
        return { what: element.textContent!, ratio: (upper! + 0.05) / (lower! + 0.05) };
      });
  });

describe.runIf(needs('chromium'))('the live figures', () => {
  const around = withPage();

  it.each(['light', 'dark'] as const)('read at 7 to 1 by %s, in every phase', async (colorScheme) => {
    const { page } = await around.open('#/run', { colorScheme });
    const { session } = around.server;
    session.begin('run-1');
    for (const phase of ['taring', 'ready', 'turning', 'settling', 'finished'] as const) {
      const turns = phase === 'turning' ? 12.4 : phase === 'taring' || phase === 'ready' ? 0 : 25.1;
      const more = phase === 'turning' ? foretold(plan, turns, 0.8) : {};
      session.show(figuresOf(plan, phase, turns, 0.8, more), traceTo(plan, turns, 0.8));
      await page.locator('[data-figure=turns]').waitFor();
      await page.waitForTimeout(150);
      const seen = await contrasts(page);
      expect(seen.length, phase).toBeGreaterThan(6);
      for (const { what, ratio } of seen) expect(ratio, `${phase}: ${what}`).toBeGreaterThanOrEqual(7);
    }
  });

  it('turn nothing on the screen for those who want no movement', async () => {
    const { page } = await around.open('#/run');
    around.server.session.begin('run-1');
    around.server.session.show(figuresOf(plan, 'turning', 12.4), traceTo(plan, 12.4));
    await page.locator('[data-figure=turns]').waitFor();
    const moving = () => page.evaluate(() => document.getAnimations().length);
    expect(await moving()).toBe(0);
    await page.emulateMedia({ reducedMotion: 'no-preference' });
    expect(await moving()).toBeGreaterThan(0);
  });
});
