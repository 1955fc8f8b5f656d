import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { scaledPlan } from '../web/invented.ts';
import { picture } from './chromium.ts';
import { soon } from './soon.ts';
import { withPage } from './with-page.ts';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const looks = [
  [390, 'dark'],
  [820, 'light'],
  [1440, 'light'],
] as const;

describe.runIf(needs('chromium'))('the records', () => {
  const around = withPage();
  const otherSeed = { ...scaledPlan, seed: { ...scaledPlan.seed, name: 'Oats and peas' } };

  /** Two calibrations of one drill: three runs with one mix, two with another. */
  async function twoCalibrations(): Promise<void> {
    await around.server.session.keepPlan(scaledPlan);
    for (const setting of [24, 40, 32]) await around.server.standRun(setting);
    await around.server.session.keepPlan(otherSeed);
    for (const setting of [30, 34]) await around.server.standRun(setting);
  }

  const rows = (page: Page) => page.locator('.records .runs tbody tr');
  const search = async (page: Page, words: string) => page.fill('#records-text', words);

  it('are found by words, drill, mix and day, and say so where nothing fits', async () => {
    await twoCalibrations();
    const { page, complaints } = await around.open('#/runs');
    await soon(() => rows(page).count()).toBe(2);
    await search(page, 'oats');
    await soon(() => rows(page).count()).toBe(1);
    expect(await rows(page).first().textContent()).toContain('Oats and peas');
    await search(page, 'no such seed');
    await page.getByText('Nothing on record fits.').waitFor();
    await page.getByRole('button', { name: 'Clear the search' }).click();
    await soon(() => rows(page).count()).toBe(2);
    await page.locator('#records-mix').selectOption({ label: 'Rye and vetch mix' });
    await soon(() => rows(page).count()).toBe(1);
    await page.getByRole('button', { name: 'Clear the search' }).click();
    await page.fill('#records-until', '2001-01-01');
    await page.getByText('Nothing on record fits.').waitFor();
    await page.fill('#records-until', '');
    await page.getByLabel('Runs', { exact: true }).check();
    await soon(() => rows(page).count()).toBe(5);
    expect(complaints).toEqual([]);
  });

  it('a calibration shows what it came to, its runs, and the way to its sheet', async () => {
    await twoCalibrations();
    const { page } = await around.open('#/runs');
    await page.getByRole('link', { name: /with Rye and vetch mix/ }).click();
    await page.getByText('Its runs').waitFor();
    await soon(() => rows(page).count()).toBe(3);
    expect(await page.locator('.sheet-facts').textContent()).toContain('95\u00a0%');
    await page.getByRole('link', { name: 'Sheet', exact: true }).last().click();
    await page.locator('.sheet-keys').waitFor();
    expect(await page.locator('.sheet').textContent()).toContain('Rye and vetch mix');
  });

  it('two calibrations stand side by side, with their curves', async () => {
    await twoCalibrations();
    const { page } = await around.open('#/runs');
    await page.getByRole('checkbox').nth(1).waitFor();
    for (const box of await page.getByRole('checkbox').all()) await box.check();
    await page.getByRole('link', { name: 'Compare the two' }).click();
    await page.locator('.compare svg[role="img"]').waitFor();
    const facts = await rows(page).allTextContents();
    expect(facts.some((text) => text.includes('Rye and vetch mix') && text.includes('Oats and peas'))).toBe(
      true,
    );
    expect(await page.locator('.compare .compare-line').count()).toBe(4);
    await picture(page, 'records-compare', { fullPage: true });
  });

  it('what is deleted can be undone at once, and brought back from where it waits', async () => {
    await twoCalibrations();
    const { page } = await around.open('#/runs');
    await page.getByRole('link', { name: /with Oats and peas/ }).click();
    const remove = page.getByRole('button', { name: /^Delete/ });
    await remove.click();
    expect(
      await page.getByRole('button', { name: 'Keep it' }).evaluate((it) => it === document.activeElement),
    ).toBe(true);
    await page.getByRole('button', { name: 'Delete', exact: true }).click();
    await page.getByText('Deleted.', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('It is back.').waitFor();
    await remove.click();
    await page.getByRole('button', { name: 'Delete', exact: true }).click();
    await page.getByText('Deleted.', { exact: true }).waitFor();
    await page.evaluate(() => location.assign('#/runs/deleted'));
    await page.getByText('30 days left').waitFor();
    await picture(page, 'records-deleted', { fullPage: true });
    await page.getByRole('button', { name: /^Bring back/ }).click();
    await page.getByText('Nothing was deleted in the last 30 days.').waitFor();
  });

  it('tells the history of a drill that was changed', async () => {
    await twoCalibrations();
    const { drill } = otherSeed;
    await around.server.session.keepPlan({ ...otherSeed, drill: { ...drill, circumferenceMetres: 2.75 } });
    await around.server.standRun(33);
    const { page } = await around.open('#/runs');
    await page.getByLabel('Drills', { exact: true }).check();
    await page.getByText('History of changes').click();
    const change = page.locator('details tbody tr', { hasText: 'wheel circumference' });
    await change.waitFor();
    expect(await change.textContent()).toContain('2.6924 m');
    expect(await change.textContent()).toContain('2.75 m');
  });

  it('go out as JSON, come in again without doubles, and are backed up and restored from the page', async () => {
    await twoCalibrations();
    const folder = mkdtempSync(join(tmpdir(), 'catchbench-keeping-'));
    const { page } = await around.open('#/runs/keeping');
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Save as JSON' }).click(),
    ]);
    const file = join(folder, 'out.json');
    await download.saveAs(file);
    expect(JSON.parse(readFileSync(file, 'utf8')).format).toBe('catchbench-records');
    await page.setInputFiles('#import-file', {
      name: 'no.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{'),
    });
    await page.getByText('This file is no export of Catchbench').waitFor();
    await page.getByRole('button', { name: 'Make a backup' }).click();
    await page.getByRole('button', { name: /^Restore/ }).waitFor();
    await picture(page, 'records-keeping', { fullPage: true });
    await page.getByRole('button', { name: /^Restore/ }).click();
    await page.getByRole('button', { name: 'Restore', exact: true }).click();
    await page.getByText('The records are those of the backup now').waitFor();
    rmSync(folder, { recursive: true });
  });

  it('fit any page, by light and by dark, and axe finds nothing', async () => {
    await twoCalibrations();
    const { page } = await around.open('#/runs');
    await soon(() => rows(page).count()).toBe(2);
    const [first, second] = await Promise.all(
      [0, 1].map(async (row) => {
        const link = await rows(page).nth(row).getByRole('link').getAttribute('href');
        return decodeURIComponent(link!).split(':').at(-1);
      }),
    );
    await page.evaluate(axeSource);
    for (const [hash, ready] of [
      ['#/runs', '.tick'],
      [`#/runs/calibration:${first}`, '.sheet-facts'],
      [`#/runs/compare:${first}:${second}`, '.compare'],
      ['#/runs/keeping', '#backup-file'],
      ['#/runs/deleted', '#deleted-title'],
      [`#/sheet/${first}`, '.sheet-keys'],
      [`#/sheet/lid:${first}`, '.sheet-columns'],
    ] as const) {
      await page.evaluate((to) => location.assign(to), hash);
      await page.locator(ready).first().waitFor();
      for (const [width, colorScheme] of looks) {
        await page.setViewportSize({ width, height: 900 });
        await page.emulateMedia({ colorScheme });
        const at = `${hash} ${width} ${colorScheme}`;
        expect(await page.evaluate(() => document.documentElement.scrollWidth), at).toBeLessThanOrEqual(
          width,
        );
        const { violations } = await page.evaluate<axe.AxeResults>('axe.run(document)');
        const told = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
        expect(told, at).toEqual([]);
        const name = hash.replace(/^#./, '').replace(/[^a-z].*/, '');
        const part = /(compare|calibration|keeping|deleted|lid)/.exec(hash)?.[0] ?? '';
        await picture(page, `${name}-${part}-${width}-${colorScheme}`, { fullPage: true });
      }
    }
  });
});
