import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { figuresOf, foretold, found, plan, scaledPlan } from '../web/invented.ts';
import { soon } from './soon.ts';
import { withPage } from './with-page.ts';

/** From a drill without a scale to a setting that is found: real calibrations behind the real routes, over invented runs. */

const nextSetting = (page: Page) => page.locator('[data-figure="nextSetting"]').textContent();
const rows = (page: Page) => page.locator('.panel .runs tbody tr');

async function weighByHand(page: Page, setting: string, grams: string): Promise<void> {
  await page.fill('#hand-setting', setting);
  await page.fill('#hand-grams', grams);
  await page.getByRole('button', { name: 'Add this run' }).click();
}

describe.runIf(needs('chromium'))('the next setting on the page', () => {
  const around = withPage();
  const scaled = () => {
    around.server.session.plan = scaledPlan;
  };

  it('goes from no scale to a setting that is used, with a run by hand, one set aside and brought back', async () => {
    const { server } = around;
    server.session.plan = { ...plan, drill: { ...plan.drill, setting: '24' } };
    const { page, complaints } = await around.open('#/setting');
    await page.getByRole('link', { name: 'Fill in the setting scale' }).click();
    await soon(() => page.evaluate(() => document.activeElement?.id)).toBe('scaleLow');
    await page.fill('#scaleLow', '0');
    await page.fill('#scaleHigh', '80');
    expect(await page.locator('#scaleStep-problem').textContent()).toContain('step together');
    await page.fill('#scaleStep', '1');
    await page.locator('.saving').getByRole('button', { name: 'Save the plan' }).click();
    await page.getByText('Saved.').waitFor();
    expect(server.session.plan.drill.scale).toMatchObject({ low: 0, high: 80, step: 1, leverPlay: 0.2 });

    await page.getByRole('link', { name: 'Setting', exact: true }).click();
    await page.getByRole('heading', { name: 'Make a first run' }).waitFor();
    await server.standRun(24);
    await soon(() => nextSetting(page)).toMatch(/^3\d$/);
    await server.standRun(28);
    await soon(() => rows(page).count()).toBe(2);
    const told = (await nextSetting(page))!;
    await page.getByRole('button', { name: `Use setting ${told}` }).click();
    await page.getByText(`The plan says ${told}.`).waitFor();
    expect(server.session.plan.drill).toMatchObject({ setting: told, scale: { high: 80 } });

    await page.fill('#hand-scaleStep', '1');
    await weighByHand(page, '32', '88,5 g');
    await page.getByText('Added.').waitFor();
    expect(await rows(page).first().textContent()).toMatch(/Run 3.*32.*88\.5 g in 25 turns.*by hand.*yes/);
    expect(await page.inputValue('#hand-grams')).toBe('');

    await page.getByRole('button', { name: 'Set aside: Run 3' }).click();
    await page.getByRole('button', { name: 'Set aside', exact: true }).last().click();
    await page.getByText('Choose a reason, or write one.').waitFor();
    await page.getByText('seed was spilled').click();
    await page.locator('.why').getByRole('button', { name: 'Set aside' }).click();
    await soon(() => rows(page).first().textContent()).toContain('Set aside by you: seed was spilled');
    await page.getByRole('button', { name: 'Bring back: Run 3' }).click();
    await soon(() => rows(page).first().textContent()).toContain('yes');
    expect(complaints).toEqual([]);
  });

  it('says that testing is done, how sure it is and where the figures come from', async () => {
    scaled();
    for (const setting of [24, 40, 32, 32, 32]) await around.server.standRun(setting);
    const { page } = await around.open('#/setting');
    await page.locator('.next-done', { hasText: 'Done: leave it at' }).waitFor();
    expect(await nextSetting(page)).toBe('32');
    expect(await page.locator('[data-figure="chance"]').textContent()).toMatch(/9\d/);
    expect(await page.locator('.nearest').textContent()).toContain('measured: run 3, run 4 and run 5');
    await page.getByText('All 81 marks').click();
    await soon(() => page.locator('.marks-table tbody tr').count()).toBe(11 + 81);
    expect(await page.locator('.beyond', { hasText: 'out of range' }).count()).toBeGreaterThan(20);
    await page.locator('.tree summary').first().click();
    await page.locator('.tree .tree summary', { hasText: 'Target' }).first().click();
    await page.getByText('Tolerance either way: 5.0 %').first().waitFor();
  });

  it('keeps what was typed when it is refused, and over a reload', async () => {
    scaled();
    const { page } = await around.open('#/setting');
    await page.fill('#hand-scaleStep', '1');
    await weighByHand(page, '99', '80');
    expect(await page.locator('#hand-setting-problem').textContent()).toBe('Setting must be from 0 to 80.');
    await page.route('**/hand-runs', (route) =>
      route.fulfill({ status: 400, json: { code: 'cannot-use', message: 'That cannot be.' } }),
    );
    await weighByHand(page, '33', '80');
    await page.getByRole('alert').getByText('That cannot be.').waitFor();
    await page.reload();
    await soon(() => page.inputValue('#hand-grams')).toBe('80');
    await page.getByText('lb/ac', { exact: true }).click();
    // 80 g is 2.8219 oz (an ounce is a sixteenth of 0.45359237 kg, exact).
    await soon(async () => Number(await page.inputValue('#hand-grams'))).toBeCloseTo(2.82192, 4);
  });

  it('puts a catch whose answer was lost on record once, though it is sent again', async () => {
    scaled();
    const { page } = await around.open('#/setting');
    let lost = 0;
    await page.route('**/hand-runs', async (route) => {
      if (lost++ > 0) return route.fallback();
      await route.fetch();
      return route.abort();
    });
    await page.fill('#hand-scaleStep', '1');
    await weighByHand(page, '33', '80');
    await page.getByRole('alert').filter({ hasText: /\w/ }).first().waitFor();
    await page.getByRole('button', { name: 'Add this run' }).click();
    await soon(() => page.inputValue('#hand-grams')).toBe('');
    expect(lost).toBe(2);
    expect(await rows(page).count()).toBe(1);
    await weighByHand(page, '33', '80');
    await soon(() => rows(page).count()).toBe(2);
  });

  it('takes rows of the chart on the lid, and gives a first setting by them', async () => {
    scaled();
    const { page } = await around.open('#/setting');
    await page.getByText('Chart on the drill’s lid').click();
    await page.fill('#lid-setting-0', '20');
    await page.getByRole('button', { name: 'Keep these rows' }).click();
    expect(await page.locator('#lid-rate-0-problem').textContent()).toContain('missing');
    await page.fill('#lid-rate-0', '40');
    await page.fill('#lid-setting-1', '40');
    await page.fill('#lid-rate-1', '85 kg/ha');
    await page.getByRole('button', { name: 'Keep these rows' }).click();
    await soon(() => nextSetting(page)).toMatch(/^3\d$/);
  });

  it('starts anew only when asked twice', async () => {
    scaled();
    await around.server.standRun(24);
    const { page } = await around.open('#/setting');
    await page.getByRole('button', { name: 'Start anew' }).click();
    await page.getByRole('button', { name: 'Go on with this one' }).click();
    expect(await rows(page).count()).toBe(1);
    await page.getByRole('button', { name: 'Start anew' }).click();
    await page.getByRole('button', { name: 'Yes, start anew' }).click();
    await soon(() => rows(page).count()).toBe(0);
  });

  it('offers to end a run early, and does nothing by itself', async () => {
    scaled();
    const { session } = around.server;
    await around.server.standRun(24);
    await around.server.standRun(28);
    session.begin('run-1');
    const more = { ...foretold(scaledPlan, 12, 0.8), findings: found };
    session.show(figuresOf(scaledPlan, 'turning', 12, 0.8, more));
    const { page } = await around.open();
    const offer = page.locator('#acts').getByRole('button', { name: /^Stop now and set 3\d$/ });
    await offer.waitFor();
    await page.locator('.spoilt', { hasText: 'Bag touches something' }).waitFor();
    expect(await page.locator('.finding').first().textContent()).toContain('Spoils this run');
    expect(await page.locator('[data-figure="forecast"]').textContent()).toBe('will end at 70.1 ± 2.1 g');
    expect(session.asked).toEqual([]);
    await offer.click();
    await soon(() => session.asked).toEqual(['stop', 'keepPlan']);
    expect(session.plan.drill.setting).toMatch(/^3\d$/);
  });
});
