import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { places } from '../../web/src/state/route.ts';
import { needs } from '../needs.ts';
import { recordOf } from '../web/fake-server.ts';
import { figuresOf, foretold, found, plan, scaledPlan, traceTo } from '../web/invented.ts';
import { picture } from './chromium.ts';
import { speakPseudo, unmarked } from './pseudo.ts';
import { withPage } from './with-page.ts';

/** Dates come from the browser, not from the texts. */
function months(length: 'long' | 'short'): string[] {
  const format = new Intl.DateTimeFormat('fr', { month: length });
  return [...Array(12).keys()].map((month) => format.format(new Date(2026, month, 15)));
}

/** Names, symbols and what the invented plan calls things. */
const known = [
  plan.drill.name,
  plan.seed.name,
  scaledPlan.seed.name,
  'coarse gate',
  'shed-1',
  '/dev/ttyUSB0',
  '/dev/ttyACM0',
  'USB serial adapter',
  'Catchbench',
  'kg/ha',
  'lb/ac',
  'km/h',
  'kg/hL',
  'kg',
  'ha',
  'mm',
  'cm',
  'g/m²',
  ...months('long'),
  ...months('short'),
];

/** Texts that reach out of the panel they stand in. */
const outgrown = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('.panel *, .cautions *')]
      .filter((element) => element instanceof HTMLElement && element.checkVisibility())
      .filter((element) => {
        const panel = element.closest('.panel, .cautions')!.getBoundingClientRect();
        const { left, right, width } = element.getBoundingClientRect();
        return width > 0 && (right > panel.right + 0.5 || left < panel.left - 0.5);
      })
      .map((element) => `${element.className}: ${element.textContent?.slice(0, 60)}`),
  );

/** The page in a language that nobody speaks: every word is marked, and a third more of them still have room. */
describe.runIf(needs('chromium'))('the page in a longer language', () => {
  const around = withPage();

  async function holds(hash: string, name: string, open?: (page: Page) => Promise<void>): Promise<void> {
    const { page } = await around.open('#/preferences', { viewport: { width: 390, height: 844 } });
    await speakPseudo(page);
    await page.reload();
    await page.locator('html[lang=fr]').waitFor({ state: 'attached' });
    await page.evaluate((to) => location.assign(to), hash);
    await page.waitForSelector('main .panel, main section, main form');
    await page.waitForTimeout(300);
    await open?.(page);
    await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
    });
    await page.waitForTimeout(100);
    await picture(page, `pseudo-${name}`, { fullPage: true });
    expect.soft(await unmarked(page, known), 'every word comes from the texts').toEqual([]);
    const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect.soft(sideways, 'nothing reaches out sideways').toBeLessThanOrEqual(0);
    expect.soft(await outgrown(page), 'every text stays in its panel').toEqual([]);
  }

  const calibrated = async () => {
    around.server.session.plan = scaledPlan;
    for (const setting of [24, 28]) await around.server.standRun(setting);
    around.server.runs.push(recordOf('run-b', '28', 0.99, { findings: found }));
  };

  /** Every place with CATCHBENCH_WHOLE=1; else the two with the most words. */
  const looked = places.filter((place) =>
    process.env.CATCHBENCH_WHOLE === '1' ? place !== 'run' : place === 'setting' || place === 'plan',
  );

  it.each(looked)('%s', async (place) => {
    await calibrated();
    await holds(`#/${place}`, place);
  });

  it('run, before', () => holds('#/run', 'run-before'));

  it('run, turning, with findings and an offer', async () => {
    await calibrated();
    const { session } = around.server;
    session.begin('run-1');
    const more = { ...foretold(plan, 12, 0.8), findings: found };
    session.show(figuresOf(scaledPlan, 'turning', 12, 0.8, more), traceTo(plan, 12, 0.8));
    await holds('#/run', 'run-turning');
  });

  it('run, after', async () => {
    await calibrated();
    around.server.session.begin('run-1');
    around.server.session.show(figuresOf(scaledPlan, 'finished', 25.1), traceTo(plan, 25));
    await holds('#/run', 'run-after');
  });

  it('plan, with faults', () =>
    holds('#/plan', 'plan-faults', async (page) => {
      await page.fill('#circumference', 'x');
      await page.fill('#turns', '12,500 rods');
    }));
});
