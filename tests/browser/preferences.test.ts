import { describe, expect, it } from 'vitest';
import { places } from '../../web/src/state/route.ts';
import { needs } from '../needs.ts';
import { figuresOf, plan, scaledPlan, traceTo } from '../web/invented.ts';
import { picture } from './chromium.ts';
import { withPage } from './with-page.ts';

describe.runIf(needs('chromium'))('the preferences', () => {
  const around = withPage();

  it('speak the language of the browser until someone chooses, and then that one, on this device', async () => {
    const { page, complaints } = await around.open('#/run', { locale: 'de-AT' });
    await page.getByRole('button', { name: 'Bereit machen' }).waitFor();
    expect(await page.locator('html').getAttribute('lang')).toBe('de');
    await page.evaluate(() => location.assign('#/preferences'));
    await page.getByLabel('Français').check();
    await page.getByRole('button', { name: 'Préparer' }).waitFor();
    await page.reload();
    await page.getByRole('button', { name: 'Préparer' }).waitFor();
    await page.getByLabel('English').check();
    await page.getByRole('button', { name: 'Get ready' }).waitFor();
    expect(complaints).toEqual([]);
  });

  it('bring the decimal comma: shown, typed, and sent as a number', async () => {
    const { page } = await around.open('#/plan', { locale: 'fr-FR' });
    await page.locator('#circumference').waitFor();
    expect(await page.inputValue('#rowSpacing')).toMatch(/^\d+(,\d+)?$/);
    await page.fill('#circumference', '2,345 m');
    await page.getByRole('button', { name: 'Enregistrer la préparation' }).first().click();
    await page.waitForFunction(
      () => (document.querySelector('#circumference') as HTMLInputElement).value !== '',
    );
    await expect.poll(() => around.server.session.plan.drill.circumferenceMetres).toBeCloseTo(2.345, 9);
  });

  it.each(
    (
      [
        ['fr', 'Rotation'],
        ['es', 'Girando'],
        ['de', 'Es dreht'],
      ] as const
    ).filter(([locale]) => locale === 'de' || process.env.CATCHBENCH_WHOLE === '1'),
  )('say a whole run in %s, the sentences of the server among it', async (locale, word) => {
    around.server.session.plan = scaledPlan;
    for (const setting of [24, 28]) await around.server.standRun(setting);
    const { page } = await around.open('#/run', { locale, viewport: { width: 390, height: 844 } });
    around.server.session.begin('run-1');
    around.server.session.show(figuresOf(plan, 'turning', 12.4), traceTo(plan, 12.4));
    await page.getByRole('heading', { name: word }).waitFor();
    await page.locator('[data-figure=turns]').waitFor();
    await picture(page, `${locale}-turning-390`);
    expect(await page.locator('[data-figure=turns]').textContent()).toBe('12,4');
    expect(await page.locator('.banner [lang=en]').count()).toBe(0);
    await page.evaluate(() => location.assign('#/setting'));
    await page.locator('[data-figure=nextSetting]').waitFor();
    await picture(page, `${locale}-setting-390`, { fullPage: true });
    expect(await page.locator('.next-card [lang=en]').count()).toBe(0);
  });

  it('leave room for the long words of German on every place, on a phone and on the 320 px of WCAG 2.2, 1.4.10', async () => {
    around.server.session.plan = scaledPlan;
    for (const setting of [24, 28]) await around.server.standRun(setting);
    const { page } = await around.open('#/run', { locale: 'de', viewport: { width: 390, height: 844 } });
    await page.getByRole('button', { name: 'Bereit machen' }).waitFor();
    for (const place of places) {
      await page.setViewportSize({ width: 390, height: 844 });
      await page.evaluate((to) => location.assign(`#/${to}`), place);
      await page.waitForTimeout(600);
      for (const width of [390, 320]) {
        await page.setViewportSize({ width, height: 844 });
        const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect.soft(sideways, `${place} ${width}`).toBeLessThanOrEqual(0);
      }
    }
  });

  it('unfold the places on a phone by hand and by key', async () => {
    const { page } = await around.open('#/run', { viewport: { width: 390, height: 844 } });
    const button = page.getByRole('button', { name: /^Places/ });
    await button.focus();
    await page.keyboard.press('Enter');
    await page.getByRole('link', { name: 'Preferences' }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('link', { name: 'Preferences' }).waitFor({ state: 'hidden' });
    expect(await button.evaluate((element) => element === document.activeElement)).toBe(true);
    await button.click();
    await page.getByRole('link', { name: 'Preferences' }).click();
    await page.getByRole('heading', { name: 'Preferences' }).waitFor();
    expect(await button.getAttribute('aria-expanded')).toBe('false');
  });
});
