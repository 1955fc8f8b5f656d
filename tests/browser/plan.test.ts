import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { plan } from '../web/invented.ts';
import { soon } from './soon.ts';
import { withPage } from './with-page.ts';

const fault = (page: Page, id: string) => page.locator(`#${id}-problem`).textContent();
const save = (page: Page) => page.locator('.saving').getByRole('button', { name: 'Save the plan' });

describe.runIf(needs('chromium'))('the plan on the page', () => {
  const around = withPage();

  it('is saved in SI, whatever unit was pasted, and shown on other pages', async () => {
    const { session } = around.server;
    const { page } = await around.open('#/plan');
    const other = await around.open('#/plan');
    await page.fill('#rowSpacing', '7.5 in');
    await page.fill('#circumference', '2,1');
    await save(page).click();
    await page.getByText('Saved.').waitFor();
    expect(session.plan.drill).toEqual({
      ...plan.drill,
      rowSpacingMetres: expect.closeTo(0.1905, 12),
      circumferenceMetres: 2.1,
    });
    await soon(() => other.page.inputValue('#circumference')).toBe('2.1');
  });

  it('says beside a field what is wrong with it, and saves nothing meanwhile', async () => {
    const { page } = await around.open('#/plan');
    const before = await page.locator('.gives').textContent();
    expect(before).toContain('87.7 g');
    for (const [id, typed, sentence] of [
      ['circumference', '0', 'Wheel circumference must be from 0.2 m to 15 m.'],
      ['rowSpacing', 'wide', '“wide” is no number. Write for example 19 cm.'],
      ['targetRate', '60 lb', '“lb” is no unit for this field. Write for example 80 kg/ha.'],
      ['turns', '1,250', 'This can mean 1.25 or 1250. Write it without the comma.'],
      ['rowsCaught', '2.5', 'Rows caught must be a whole number.'],
      ['drillName', '', 'Drill is missing.'],
    ] as const) {
      await page.fill(`#${id}`, typed);
      expect(await fault(page, id)).toBe(sentence);
      expect(await page.getAttribute(`#${id}`, 'aria-invalid')).toBe('true');
    }
    expect(await save(page).isDisabled()).toBe(true);
    expect(await page.locator('.gives').textContent()).toContain('Fill in the fields');
    await page.keyboard.press('Enter');
    expect(around.server.session.asked).toEqual([]);
  });

  it('shows the refusal of the server beside the field it names, and keeps what was typed', async () => {
    const { page } = await around.open('#/plan');
    const problem = { code: 'bad-input', message: 'The slip cannot be.', field: '/drill/slip' };
    await page.route('**/api/plan', (route) => route.fulfill({ status: 400, json: problem }));
    await page.fill('#slip', '3');
    await save(page).click();
    await soon(() => fault(page, 'slip')).toBe('The slip cannot be.');
    expect(await page.inputValue('#slip')).toBe('3');
    await page.fill('#slip', '4');
    expect(await fault(page, 'slip')).toBe('');
  });

  it('loses nothing typed: not at a reload, not by a change on another page', async () => {
    const { session } = around.server;
    const { page } = await around.open('#/plan');
    await page.fill('#turns', '40');
    await page.fill('#slip', 'some');
    await page.reload();
    await soon(() => page.inputValue('#turns')).toBe('40');
    expect(await page.inputValue('#slip')).toBe('some');
    await session.keepPlan({ ...plan, turns: 30, rowsCaught: 3 });
    await soon(() => page.inputValue('#rowsCaught')).toBe('3');
    expect(await page.inputValue('#turns')).toBe('40');
    await page.getByText('changed on another page').waitFor();
    await page.getByRole('button', { name: 'Drop my changes' }).click();
    expect(await page.inputValue('#turns')).toBe('30');
  });

  it('turns metric into US units and back without changing the plan', async () => {
    const { page } = await around.open('#/plan');
    await page.getByText('lb/ac', { exact: true }).click();
    await soon(() => page.inputValue('#rowSpacing')).toBe('7.5');
    expect(await page.inputValue('#circumference')).toBe('106');
    expect(await save(page).isDisabled()).toBe(true);
    await page.fill('#rowSpacing', '8');
    await page.getByText('kg/ha', { exact: true }).first().click();
    await soon(() => page.inputValue('#rowSpacing')).toBe('20.32');
  });

  it('must be saved before a run', async () => {
    const { page } = await around.open('#/plan');
    await page.fill('#setting', '30');
    await page.getByRole('link', { name: 'Run', exact: true }).click();
    const arm = page.locator('#acts').getByRole('button', { name: 'Get ready' });
    expect(await arm.isDisabled()).toBe(true);
    await page.locator('#acts').getByRole('link', { name: 'Plan' }).click();
    await page.locator('#acts').getByRole('button', { name: 'Save the plan' }).click();
    await soon(() => arm.isEnabled()).toBe(true);
    expect(around.server.session.plan.drill.setting).toBe('30');
  });

  it('opens at the setting from the run page', async () => {
    const { page } = await around.open();
    await page.getByRole('link', { name: 'Change the plan' }).click();
    await soon(() => page.evaluate(() => document.activeElement?.id)).toBe('setting');
  });
});
