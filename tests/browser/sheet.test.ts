import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import jsQr from 'jsqr';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { needs } from '../needs.ts';
import { plainSpaces, readCode, readPdf } from '../paper/poppler.ts';
import { scaledPlan } from '../web/invented.ts';
import { outputPath, picture } from './chromium.ts';
import { withPage } from './with-page.ts';

/** What a QR reader finds in a picture; the browser takes the PNG apart. */
async function readPicture(png: Buffer, page: Page): Promise<string | null> {
  const { width, height, grey } = await page.evaluate(
    async (address) => {
      const image = new Image();
      image.src = address;
      await image.decode();
      const context = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
      context.drawImage(image, 0, 0);
      const pixels = context.getImageData(0, 0, image.width, image.height);
      // Grey is enough, and a quarter of the numbers to be carried over.
      const grey = Array.from({ length: image.width * image.height }, (_, at) => pixels.data[4 * at]!);
      return { width: image.width, height: image.height, grey };
    },
    `data:image/png;base64,${png.toString('base64')}`,
  );
  const data = new Uint8ClampedArray(grey.flatMap((value) => [value, value, value, 255]));
  return jsQr(data, width, height)?.data ?? null;
}

describe.runIf(needs('chromium'))('the sheet on paper', () => {
  const around = withPage();

  it.each(['A4', 'Letter'] as const)(
    'is one page of %s, and nothing of the page about it is printed',
    async (format) => {
      around.server.session.plan = scaledPlan;
      for (const setting of [24, 40, 32, 32, 32]) await around.server.standRun(setting);
      const { page } = await around.open('#/sheet');
      await page.locator('.sheet').waitFor();
      const paper = await page.pdf({ format, path: outputPath(`sheet-${format}.pdf`) });
      expect(paper.toString('latin1').match(/\/Type\s*\/Page[^s]/g)).toHaveLength(1);
      await page.emulateMedia({ media: 'print' });
      await page.setViewportSize({ width: format === 'A4' ? 703 : 725, height: 1000 }); // the paper less its margins
      await picture(page, `sheet-print-${format}`, { fullPage: true });
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

  it.each(['A4', 'Letter'] as const)('so is the chart for the lid on %s', async (format) => {
    await around.server.session.keepPlan(scaledPlan);
    for (const setting of [24, 40, 32]) await around.server.standRun(setting);
    const { page } = await around.open('#/sheet/lid');
    await page.locator('.sheet-lid').waitFor();
    const paper = await page.pdf({ format });
    expect(paper.toString('latin1').match(/\/Type\s*\/Page[^s]/g)).toHaveLength(1);
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: format === 'A4' ? 703 : 725, height: 1000 });
    await picture(page, `lid-print-${format}`, { fullPage: true });
    const text = await page.locator('.sheet').textContent();
    for (const told of ['Setting chart', '► 32', '● measured', 'Long-shed drill'])
      expect(text).toContain(told);
  });

  it('its code is read from the screen, and the PDF behind the link says the same', async () => {
    await around.server.session.keepPlan(scaledPlan);
    for (const setting of [24, 40, 32]) await around.server.standRun(setting);
    const { page } = await around.open('#/sheet', { deviceScaleFactor: 2 });
    const code = page.locator('.sheet-code svg');
    await code.waitFor();
    const text = await code.getAttribute('aria-label');
    expect(await readPicture(await code.screenshot(), page)).toBe(text);
    const path = await page.getByRole('link', { name: 'PDF, Letter' }).getAttribute('href');
    const answer = await fetch(new URL(path!, around.server.address));
    expect(answer.headers.get('content-type')).toBe('application/pdf');
    if (!needs('pdftotext')) return;
    const folder = mkdtempSync(join(tmpdir(), 'catchbench-sheet-'));
    const bytes = new Uint8Array(await answer.arrayBuffer());
    expect(readCode(bytes, folder)).toBe(text);
    const { text: printed } = readPdf(bytes, folder);
    rmSync(folder, { recursive: true });
    for (const value of await page.locator('.sheet-keys b').allTextContents()) {
      expect(printed).toContain(plainSpaces(value));
    }
  });

  it('says that a calibration is not finished, or that there is none', async () => {
    const { page } = await around.open('#/sheet');
    await page.getByText('There is nothing to print yet').waitFor();
    await around.server.session.keepPlan(scaledPlan);
    await around.server.standRun(24);
    await page.getByText('Not finished').waitFor();
  });
});
