import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RunFigures as Figures } from '../../server/run/types.ts';
import { needs } from '../needs.ts';
import { type FakeServer, recordOf, startFake } from '../web/fake-server.ts';
import { FakeSession } from '../web/fake-session.ts';
import { figuresOf, foretold, found, plan, scaledPlan, traceTo } from '../web/invented.ts';
import { LastingPage, openBrowser, painted, picture } from './chromium.ts';

/** Every state of the page at every width: checks that hold for all of them; in the whole campaign pictures for people too, by light and by dark. */

interface Scene {
  name: string;
  hash?: string;
  set: (server: FakeServer) => void | Promise<void>;
  after?: (page: Page) => Promise<void>;
}

const figures = (phase: Figures['phase'], turns: number, share?: number, more?: Partial<Figures>) =>
  figuresOf(plan, phase, turns, share, more);

/** A run in hand in this phase. */
function run(server: FakeServer, shown: Figures, share?: number): void {
  server.session.begin('run-1');
  server.session.show(shown, traceTo(plan, shown.turnsDone, share));
}

const scenes: Scene[] = [
  { name: 'idle', set: () => {} },
  { name: 'taring', set: (server) => run(server, figures('taring', 0)) },
  { name: 'ready', set: (server) => run(server, figures('ready', 0)) },
  { name: 'turning', set: (server) => run(server, figures('turning', 12.4)) },
  {
    name: 'turning-offer',
    set: async (server) => {
      server.session.plan = scaledPlan;
      for (const setting of [24, 28]) await server.standRun(setting);
      server.session.begin('run-1');
      const more = { ...foretold(scaledPlan, 12.4, 0.8), findings: found };
      server.session.show(figuresOf(scaledPlan, 'turning', 12.4, 0.8, more), traceTo(scaledPlan, 12.4, 0.8));
    },
    after: async (page) => void (await page.getByRole('button', { name: 'Stop now and set' }).waitFor()),
  },
  {
    name: 'finished-taught',
    set: async (server) => {
      server.session.plan = scaledPlan;
      for (const setting of [24, 28]) await server.standRun(setting);
      server.session.begin('run-1');
      const more = { speed: foretold(scaledPlan, 25, 0.8).speed!, findings: found };
      server.session.show(figuresOf(scaledPlan, 'finished', 25.1, 0.8, more), traceTo(scaledPlan, 25.1, 0.8));
    },
    after: async (page) => void (await page.getByRole('button', { name: 'Use setting' }).waitFor()),
  },
  { name: 'settling', set: (server) => run(server, figures('settling', 25.1)) },
  { name: 'finished', set: (server) => run(server, figures('finished', 25.1)) },
  { name: 'finished-high', set: (server) => run(server, figures('finished', 25.1, 1.4), 1.4) },
  {
    name: 'stop-button',
    set: (server) =>
      run(
        server,
        figures('finished', 9.3, 0.98, {
          outcome: 'stop-button',
          boardWhy: 'button',
          sentence:
            'The stop button on the stand was pressed after 9.3 turns. What was caught until then is kept.',
        }),
      ),
  },
  {
    name: 'no-stand',
    set: ({ session }) =>
      session.connect({
        condition: 'wrong-device',
        sentence: 'Something answers on /dev/ttyACM0, but it is no Catchbench stand. Choose another port.',
        board: null,
        path: '/dev/ttyACM0',
      }),
  },
  {
    name: 'stand-lost',
    set: (server) => {
      run(server, figures('turning', 7.7));
      server.session.connect({
        condition: 'lost',
        ageMillis: 3200,
        sentence: 'The stand was unplugged or lost its power. Looking for it again.',
      });
    },
  },
  { name: 'plan', hash: '#/plan', set: () => {} },
  {
    name: 'plan-faults',
    hash: '#/plan',
    set: () => {},
    after: async (page) => {
      await page.fill('#circumference', 'about two');
      await page.fill('#rowSpacing', '0');
      await page.fill('#turns', '12,500 rods');
    },
  },
  {
    name: 'setting-empty',
    hash: '#/setting',
    set: () => {},
  },
  {
    name: 'setting-next',
    hash: '#/setting',
    set: async (server) => {
      server.session.plan = scaledPlan;
      await server.standRun(24);
      await server.standRun(28);
    },
    after: async (page) => void (await page.locator('[data-figure="nextSetting"]').waitFor()),
  },
  {
    name: 'setting-done',
    hash: '#/setting',
    set: async (server) => {
      server.session.plan = scaledPlan;
      for (const setting of [24, 40, 32, 32, 32]) await server.standRun(setting);
    },
    after: async (page) => {
      await page.locator('.next-done').waitFor();
      await page.getByRole('button', { name: 'Set aside: Run 2' }).click();
    },
  },
  {
    name: 'sheet',
    hash: '#/sheet',
    set: async (server) => {
      server.session.plan = scaledPlan;
      for (const setting of [24, 40, 32, 32, 32]) await server.standRun(setting);
    },
    after: async (page) => void (await page.locator('.sheet').waitFor()),
  },
  { name: 'stand', hash: '#/stand', set: () => {} },
  { name: 'runs', hash: '#/runs', set: () => {} },
  { name: 'one-run', hash: '#/runs/run-b', set: () => {} },
];

const widths = [
  { width: 390, height: 844 },
  { width: 820, height: 1180 },
  { width: 1440, height: 900 },
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
      .map((element) => `${element.className}: ${element.textContent?.slice(0, 40)}`),
  );

/** By light and by dark. */
async function pictures(page: Page, name: string, fullPage: boolean): Promise<void> {
  if (process.env.CATCHBENCH_WHOLE !== '1') return;
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    await painted(page);
    await picture(page, `${name}-${colorScheme}`, { fullPage });
  }
}

describe.runIf(needs('chromium'))('the page in every state', () => {
  let browser: Browser;
  let lasting: LastingPage;
  let server: FakeServer;

  beforeAll(async () => {
    browser = await openBrowser();
    lasting = new LastingPage(browser);
  });
  afterAll(async () => {
    await browser.close();
  });

  it.each(scenes)('$name', async ({ name, hash = '', set, after }) => {
    const session = new FakeSession();
    session.demo = name === 'idle' || name === 'turning';
    server = await startFake({ session });
    server.runs.push(recordOf('run-c', '30, fine gear', 1.07), recordOf('run-b', '28, fine gear', 0.99));
    await set(server);
    const watched = await lasting.open(`${server.address}/${hash}`);
    const { page } = watched;
    await page.setViewportSize(widths[0]!);
    await page.waitForSelector('#acts');
    await after?.(page);
    for (const viewport of widths) {
      await page.setViewportSize(viewport);
      await painted(page);
      await pictures(page, `${name}-${viewport.width}`, /setting|offer|taught|sheet/.test(name));
      const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(sideways, 'nothing reaches out sideways').toBeLessThanOrEqual(0);
      expect(await outgrown(page), 'every text stays in its panel').toEqual([]);
      const stop = await page.locator('.stop').boundingBox();
      expect(stop!.y + stop!.height, 'Stop is on the screen').toBeLessThanOrEqual(viewport.height);
    }
    expect(watched.outside).toEqual([]);
    expect(watched.complaints).toEqual([]);
    await watched.close();
    await server.close();
  });
});
