import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { CheckActBody, StandCheckAnswer } from '../../server/http/stand-messages.ts';
import { stepNames } from '../../server/stand/types.ts';
import { needs } from '../needs.ts';
import { withPage } from './with-page.ts';

/** The check of the stand on the page: what each step shows, what a press sends, and that axe-core finds nothing on it. */

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

type Check = NonNullable<StandCheckAnswer['check']>;

const wheel: Check['results'][number] = {
  step: 'wheel-forward',
  outcome: 'failed',
  figures: [
    { name: 'counted', value: 69, unit: '' },
    { name: 'shortest-interval', value: 69.51234, unit: 'ms' },
  ],
  remarks: [
    {
      code: 'magnet-missing',
      values: { place: 7 },
      grave: true,
      sentence: 'After pulse 7 of the turn one is missing each time.',
    },
  ],
};

function answer(change: Partial<Check>, ask: Partial<Check['ask']> = {}): StandCheckAnswer {
  const check: Check = {
    step: 'settings',
    steps: [...stepNames],
    ask: {
      code: 'settings',
      values: { refused: '' },
      acts: ['settings', 'go', 'skip'],
      sentence: 'Look.',
      ...ask,
    },
    question: 'asked 7',
    live: [],
    results: [],
    end: null,
    passed: false,
    settings: { name: 'shed-1', ppt: '24', debounce: '2500', cells: '1', direction: '1', warn: '48' },
    masses: [],
    weighed: [],
    kept: null,
    ...change,
  };
  return { check, newest: null, firmware: { board: '1.0.0', shipped: '1.1.0', standing: 'older' } };
}

const looks: [name: string, shown: StandCheckAnswer, words: string][] = [
  ['settings', answer({}), 'Pulses a turn'],
  [
    'a step that failed',
    answer(
      { step: 'wheel-forward', results: [wheel] },
      { code: 'judged', values: {}, acts: ['next', 'again'] },
    ),
    'After pulse 7',
  ],
  [
    'masses',
    answer(
      {
        step: 'masses',
        masses: [50, 200].map((grams) => ({ name: `${grams} g`, grams, standardDoubt: 0.01 })),
        weighed: [0, 50],
      },
      {
        code: 'masses',
        values: { cell: 1, cells: 1, weighed: 2 },
        acts: ['masses', 'weigh', 'undo', 'go', 'skip'],
      },
    ),
    'Weighed: 0',
  ],
  [
    'the motor',
    answer({ step: 'motor' }, { code: 'motor-clear', values: { turns: 2 }, acts: ['yes', 'skip'] }),
    'Plug the motor in',
  ],
  [
    'the end',
    answer({ end: 'finished', results: [wheel], kept: { ok: true, sentence: '' } }, { acts: [] }),
    'has not passed',
  ],
];

/** The wide page too with CATCHBENCH_WHOLE=1. */
const widths = (
  [
    [390, 'dark'],
    [1440, 'light'],
  ] as const
).slice(0, process.env.CATCHBENCH_WHOLE === '1' ? 2 : 1);

describe.runIf(needs('chromium'))('the check of the stand', () => {
  const around = withPage();
  const sent: CheckActBody[] = [];

  async function shown(first: StandCheckAnswer): Promise<Page> {
    sent.length = 0;
    const { page } = await around.open('#/run');
    await page.route('**/api/stand/check', (route) => route.fulfill({ json: first }));
    await page.route('**/api/stand/check/act', (route) => {
      sent.push(route.request().postDataJSON() as CheckActBody);
      return route.fulfill({ json: first });
    });
    await page.evaluate(() => {
      location.hash = '#/stand';
    });
    await page.locator('.stand-check').waitFor();
    return page;
  }

  it.each(looks)('shows %s, and axe finds nothing', async (_name, first, words) => {
    const page = await shown(first);
    await page.locator('.stand-check').getByText(words).first().waitFor();
    await page.evaluate(source);
    for (const [width, colorScheme] of widths) {
      await page.setViewportSize({ width, height: 900 });
      await page.emulateMedia({ colorScheme });
      const { violations } = await page.evaluate<axe.AxeResults>(
        'axe.run(document.querySelector(".stand-check"))',
      );
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.html.slice(0, 120)}`)).toEqual([]);
      const wide = await page.evaluate(
        () => document.documentElement.scrollWidth > document.documentElement.clientWidth,
      );
      expect(wide, `scrolls sideways at ${width}`).toBe(false);
    }
  });

  it('says that the firmware is older and how to flash', async () => {
    const page = await shown(answer({}));
    await page.getByText('this program comes with 1.1.0').waitFor();
    await page.getByText('avrdude').waitFor();
  });

  it('keeps what was typed wrong, with its fault beside it, and sends what is right', async () => {
    const page = await shown(answer({}));
    const box = page.locator('.stand-check');
    await page.fill('#board-ppt', '3000');
    await box.getByRole('button', { name: 'Save in the board' }).click();
    await box.getByText('A whole number from 1 to 2000.').waitFor();
    expect(await page.inputValue('#board-ppt')).toBe('3000');
    expect(sent).toEqual([]);
    await page.fill('#board-ppt', '36');
    await box.getByRole('button', { name: 'Save in the board' }).click();
    await expect
      .poll(() => sent)
      .toEqual([
        {
          do: 'settings',
          question: 'asked 7',
          values: { name: 'shed-1', ppt: 36, debounce: 2500, cells: 1, direction: 1, warn: 48 },
        },
      ]);
  });

  it('weighs the masses that are ticked', async () => {
    const page = await shown(looks[2]![1]);
    const box = page.locator('.stand-check');
    await box.getByLabel('200 g').check();
    await box.getByRole('button', { name: 'Weigh 200 g' }).click();
    await expect.poll(() => sent).toEqual([{ do: 'weigh', question: 'asked 7', on: ['200 g'] }]);
  });

  it('starts the motor by no key and no other press than the one that says all clear', async () => {
    const page = await shown(looks[3]![1]);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Space');
    await page.waitForTimeout(100);
    expect(sent).toEqual([]);
    await page.locator('.stand-check').getByRole('button', { name: 'All clear' }).click();
    await expect.poll(() => sent).toEqual([{ do: 'yes', question: 'asked 7' }]);
  });
});
