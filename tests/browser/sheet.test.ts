import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { scaledPlan } from '../web/invented.ts';
import { picturePath } from './chromium.ts';
import { withPage } from './with-page.ts';

describe.runIf(needs('chromium'))('the sheet on paper', () => {
  const around = withPage();

  it.each(['A4', 'Letter'] as const)(
    'is one page of %s, and nothing of the page about it is printed',
    async (format) => {
      around.server.session.plan = scaledPlan;
      for (const setting of [24, 40, 32, 32, 32]) await around.server.standRun(setting);
      const { page } = await around.open('#/sheet');
      await page.locator('.sheet').waitFor();
      const paper = await page.pdf({ format, path: picturePath(`sheet-${format}`).replace('.png', '.pdf') });
      expect(paper.toString('latin1').match(/\/Type\s*\/Page[^s]/g)).toHaveLength(1);
      await page.emulateMedia({ media: 'print' });
      for (const part of ['.top', '.banner', '.foot', '.no-print']) {
        expect(await page.locator(part).first().isVisible(), part).toBe(false);
      }
      const text = await page.locator('.sheet').textContent();
      for (const told of [
        '32',
        '67.0',
        '> 99',
        'Long-shed drill',
        'coarse gate',
        'Signature',
        'Run 5',
        'measured',
      ]) {
        expect(text).toContain(told);
      }
    },
  );

  it('says that a calibration is not finished, or that there is none', async () => {
    const { page } = await around.open('#/sheet');
    await page.getByText('There is nothing to print yet').waitFor();
    await around.server.session.keepPlan(scaledPlan);
    await around.server.standRun(24);
    await page.getByText('Not finished').waitFor();
  });
});
