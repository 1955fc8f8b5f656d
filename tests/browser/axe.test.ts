import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { recordOf } from '../web/fake-server.ts';
import { figuresOf, foretold, found, plan, scaledPlan, traceTo } from '../web/invented.ts';
import { withPage } from './with-page.ts';

/** What axe-core (4.14) finds against WCAG 2.2 A and AA and its own best practices: nothing, on any place, at any width, by light or dark. */

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Every width by light and by dark with CATCHBENCH_WHOLE=1; else the two that differ most. */
const looks = (['light', 'dark'] as const)
  .flatMap((scheme) => [390, 820, 1440].map((width) => [width, scheme] as const))
  .filter((_, index) => process.env.CATCHBENCH_WHOLE === '1' || index === 2 || index === 3);

async function violations(page: Page): Promise<string[]> {
  const { violations: found } = await page.evaluate<axe.AxeResults>('axe.run(document)');
  return found.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`);
}

describe.runIf(needs('chromium'))('axe', () => {
  const around = withPage();

  async function nothingFound(
    hash: string,
    ready: string,
    open?: (page: Page) => Promise<void>,
  ): Promise<void> {
    const { page } = await around.open(hash);
    await page.locator(ready).first().waitFor();
    await open?.(page);
    await page.evaluate(source);
    for (const [width, colorScheme] of looks) {
      await page.setViewportSize({ width, height: 900 });
      await page.emulateMedia({ colorScheme });
      expect(await violations(page), `${hash} ${width} ${colorScheme}`).toEqual([]);
    }
  }
  const calibrated = async (...settings: number[]) => {
    around.server.session.plan = scaledPlan;
    for (const setting of settings) await around.server.standRun(setting);
  };

  it('finds nothing before a run', () => nothingFound('#/run', '.cautions'));

  it('finds nothing while the wheel turns', async () => {
    await calibrated(24, 28);
    const { session } = around.server;
    session.begin('run-1');
    const more = { ...foretold(plan, 12, 0.8), findings: found };
    session.show(figuresOf(scaledPlan, 'turning', 12, 0.8, more), traceTo(plan, 12, 0.8));
    await nothingFound('#/run', '.finding');
  });

  it('finds nothing after a run', async () => {
    await calibrated(24, 28);
    around.server.session.begin('run-1');
    around.server.session.show(figuresOf(scaledPlan, 'finished', 25.1), traceTo(plan, 25));
    await nothingFound('#/run', '.next-card');
  });

  it('finds nothing on the setting, everything unfolded', async () => {
    await calibrated(24, 28, 32);
    await nothingFound('#/setting', '.next-card', async (page) => {
      await page.getByRole('button', { name: 'Set aside: Run 2' }).click();
      await page.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
      });
    });
  });

  it('finds nothing on the setting without a scale', () => nothingFound('#/setting', '.next-card'));

  it('finds nothing on the plan, faults and all', async () => {
    await nothingFound('#/plan', '.plan', async (page) => {
      await page.fill('#circumference', 'about two');
      await page.fill('#scaleLow', '0');
    });
  });

  it('finds nothing on the sheet', async () => {
    await calibrated(24, 40, 32, 32);
    await nothingFound('#/sheet', '.sheet');
  });

  it('finds nothing on stand and records', async () => {
    around.server.runs.push(recordOf('run-b', '28', 0.99, { findings: found }));
    await nothingFound('#/stand', '.ports');
    await nothingFound('#/runs', '.records');
    await nothingFound('#/runs/run-b', '.finding');
  });
});
