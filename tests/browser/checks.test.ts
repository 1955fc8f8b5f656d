import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { type FakeServer, startFake } from '../web/fake-server.ts';
import { scaledPlan } from '../web/invented.ts';
import { LastingPage, openBrowser, painted, picture, type Watched } from './chromium.ts';
import { soon } from './soon.ts';

/** What is checked around the runs, as a person goes through it: the list before a run, the scale, the field, the seed needed. */

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Every width by light and by dark with CATCHBENCH_WHOLE=1; else the two that differ most. */
const looks = ([390, 820, 1440] as const)
  .flatMap((width) => (['light', 'dark'] as const).map((scheme) => [width, scheme] as const))
  .filter((_, index) => process.env.CATCHBENCH_WHOLE === '1' || index === 0 || index === 5);

/** Nothing reaches out sideways, everything to press is large enough for gloves, and axe (4.14) finds nothing. */
async function sound(page: Page, name: string): Promise<void> {
  await page.evaluate(source);
  for (const [width, colorScheme] of looks) {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme });
    await painted(page);
    await picture(page, `${name}-${width}-${colorScheme}`, { fullPage: true });
    const { violations } = await page.evaluate<axe.AxeResults>('axe.run(document)');
    const told = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
    expect(told, `${name} ${width} ${colorScheme}`).toEqual([]);
    const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(sideways, `${name} ${width}`).toBeLessThanOrEqual(0);
    expect(await tooSmall(page), `${name} ${width}`).toEqual([]);
  }
}

/** What a hand in a glove would miss: lower than 44 px. */
const tooSmall = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('main button, main summary, main select, main .choices label')]
      .filter((element) => element instanceof HTMLElement && element.checkVisibility())
      .filter((element) => element.getBoundingClientRect().height < 43.5)
      .map((element) => element.outerHTML.slice(0, 80)),
  );

describe.runIf(needs('chromium'))('around the runs', () => {
  let browser: Browser;
  let lasting: LastingPage;
  let server: FakeServer;
  let watched: Watched;
  beforeAll(async () => {
    browser = await openBrowser();
    lasting = new LastingPage(browser);
  });
  afterAll(() => browser.close());
  afterEach(async () => {
    expect(watched.complaints).toEqual([]);
    expect(watched.outside).toEqual([]);
    await watched.close();
    await server.close();
  });
  const open = async (hash: string, options: { toConfirm?: boolean } = {}): Promise<Page> => {
    server = await startFake(options);
    server.session.plan = scaledPlan;
    watched = await lasting.open(`${server.address}/${hash}`);
    await watched.page.waitForSelector('#acts');
    return watched.page;
  };
  const armed = () => server.session.asked.filter((act) => act === 'arm').length;

  it('arms nothing before the list is confirmed, and with one press then', async () => {
    const page = await open('#/setting', { toConfirm: true });
    server.scale.start();
    await page.locator('#acts').getByRole('button', { name: 'Get ready' }).click();
    await page.getByRole('heading', { name: 'What only you can see' }).waitFor();
    await soon(() => page.evaluate(() => document.activeElement?.textContent)).toBe('What only you can see');
    expect(armed()).toBe(0);
    expect(await page.locator('.asked-list li').count()).toBe(8);
    await page.locator('.seen', { hasText: 'stands still' }).waitFor();
    await sound(page, 'before-run-list');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await soon(armed).toBe(1);
  });

  it('keeps the button under the list in sight, above the foot, on every screen', async () => {
    const page = await open('', { toConfirm: true });
    const confirm = page.getByRole('button', { name: 'All of this is so' });
    await confirm.waitFor();
    for (const [width, height] of [
      [390, 844],
      [820, 1180],
      [1440, 900],
    ] as const) {
      await page.setViewportSize({ width, height });
      const below = async () => {
        const [button, foot] = await Promise.all(
          [confirm, page.locator('.foot')].map((it) => it.boundingBox()),
        );
        return button!.y > 0 ? foot!.y - button!.y - button!.height : Number.NaN;
      };
      await soon(below).toBeGreaterThanOrEqual(0);
    }
  });

  it('asks no second time in the same calibration', async () => {
    const page = await open('', { toConfirm: true });
    await page.getByRole('button', { name: 'All of this is so' }).click();
    await soon(armed).toBe(1);
    server.session.run = { ...server.session.run, figures: { ...server.session.run.figures, phase: 'idle' } };
    await page.reload();
    await page.getByText('By getting ready you say').waitFor();
    expect(await page.locator('.asked-list li').count()).toBe(2);
    if (process.env.CATCHBENCH_WHOLE === '1') await sound(page, 'before-run-again');
    await page.locator('#acts').getByRole('button', { name: 'Get ready' }).click();
    await soon(armed).toBe(2);
  });

  it('goes through a scale check, by keyboard alone, to the doubt that runs reckon with', async () => {
    const page = await open('#/stand');
    server.scale.slope = 1.004;
    server.scale.start();
    await page.locator('[data-figure="scale"]').waitFor();
    await page.getByText('stands still').waitFor();
    await page.getByRole('button', { name: 'Zero now' }).press('Enter');
    await page.getByText('counted from the zero taken here').waitFor();
    await page.fill('#masses', '100 200 about 300');
    await page.getByRole('button', { name: 'Begin with these masses' }).press('Enter');
    await page.locator('#masses-problem', { hasText: 'about' }).waitFor();
    await page.fill('#masses', '100 200 200 g');
    if (process.env.CATCHBENCH_WHOLE === '1') await sound(page, 'scale-begin');
    await page.getByRole('button', { name: 'Begin with these masses' }).press('Enter');
    await page.locator('[data-figure="next-load"]', { hasText: 'Take everything off' }).waitFor();
    for (let step = 1; step <= 9; step++) {
      const weigh = page.getByRole('button', { name: 'It hangs: weigh' });
      if (!(await page.locator('[data-figure="next-load"]').isVisible())) break;
      await weigh.press('Enter');
      await page.locator(`.scale-steps tbody tr:nth-child(${step})`).waitFor();
    }
    const result = page.locator('.scale-result');
    await result.getByText('shows 0.4 % too much').waitFor();
    await result.getByText('The scale is sound, but its slope is off').waitFor();
    await sound(page, 'scale-result');
    await page.getByRole('button', { name: 'Keep only' }).press('Enter');
    // An error that nobody corrects counts in full: 0.4 %.
    await page.getByText('By its check the slope of this scale is good to 0.4 %').waitFor();
    if (process.env.CATCHBENCH_WHOLE === '1') await sound(page, 'scale-kept');
  });

  it('holds a field against the stand, keeps it and takes it for slip', async () => {
    const page = await open('#/field');
    await page.getByText('No run of this calibration counts yet').waitFor();
    for (const setting of [28, 32]) await server.standRun(setting);
    await page.reload();
    await page.locator('.field-form').waitFor();
    await page.getByRole('button', { name: 'Work it out' }).click();
    await page.locator('#field-name-problem', { hasText: 'Field' }).waitFor();
    const stand = (await (await fetch(`${server.address}/api/field`)).json()).settings[1].rate;
    const used = ((0.9 * stand * 20_000) / 1000).toFixed(2);
    await page.fill('#field-name', 'Long Acre');
    await page.fill('#field-setting', '32');
    await page.fill('#field-filled', `100 ${used} kg`);
    await page.fill('#field-left', '100,0');
    await page.fill('#field-sure', '0.3 kg');
    await page.fill('#field-area', '2 ha');
    await page.getByRole('button', { name: 'Work it out' }).click();
    await page.locator('[data-figure="fieldFactor"]', { hasText: '90.0 %' }).waitFor();
    if (process.env.CATCHBENCH_WHOLE === '1') await sound(page, 'field-worked');
    await page.getByRole('button', { name: 'Keep this check' }).click();
    await page.locator('[data-figure="fieldTogether"]', { hasText: 'One check' }).waitFor();
    await sound(page, 'field-kept');
    const before = server.session.plan.drill.slip;
    await page.getByRole('button', { name: 'Take it for slip' }).click();
    await soon(() => server.session.plan.drill.slip).toBeGreaterThan(before);
    expect(server.session.plan.drill.slip).toBeCloseTo(1 - 0.9 * (1 - before), 3);
    // The stand now says what the field gets.
    await page.locator('[data-figure="fieldTogether"]', { hasText: '100.0 %' }).waitFor();
  });

  it('says how much seed to fetch and how far a hopper reaches, in either system', async () => {
    const page = await open('#/field');
    const need = page.locator('[data-figure="seedNeeded"]');
    await page.fill('#seed-area', '12 ha');
    await page.fill('#seed-rate', '100');
    await page.fill('#seed-bag', '25');
    // 12 ha at 100 kg/ha and 5 % on top.
    await need.filter({ hasText: '1260 kg' }).waitFor();
    await page.getByText('51 bags, with 15.0 kg over').waitFor();
    await page.fill('#seed-hopper', '500 L');
    await page.fill('#seed-density', '75');
    await page.fill('#seed-width', '3');
    // 500 L at 75 kg/hL less a tenth: 337.5 kg, 3.375 ha, 11.25 km at 3 m.
    await page.locator('[data-figure="reach"]', { hasText: '11.3 km' }).waitFor();
    await page.fill('#seed-bag', 'a few');
    await page.locator('#seed-bag-problem', { hasText: 'a few' }).waitFor();
    await page.fill('#seed-bag', '25');
    await sound(page, 'seed-needed');
    await page.getByText('lb/ac', { exact: true }).first().click();
    // 1260 kg are 2777.8 lb.
    await need.filter({ hasText: '2778 lb' }).waitFor();
  });
});
