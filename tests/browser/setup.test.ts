import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { en as say } from '../../web/texts/en/index.ts';
import { needs } from '../needs.ts';
import { scaledPlan } from '../web/invented.ts';
import { picture } from './chromium.ts';
import { soon } from './soon.ts';
import { withPage } from './with-page.ts';

/** The set-up of a calibration on the page: helpers, mixes, targets, what was used before. */

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const fault = (page: Page, id: string) => page.locator(`#${id}-problem`).textContent();
const save = async (page: Page) => {
  await page.locator('.saving').getByRole('button', { name: 'Save the plan' }).click();
  await page.getByText('Saved.').waitFor();
};
const open = (page: Page, id: string) => page.locator(`#${id} > summary`).click();
const addSpecies = async (page: Page, words: string) => {
  await page.fill('#species-search', words);
  await page.locator('.choice').first().waitFor();
  await page.press('#species-search', 'Enter');
  await soon(() => page.inputValue('#species-search')).toBe('');
};

describe.runIf(needs('chromium'))('the set-up on the page', () => {
  const around = withPage();
  const plan = () => around.server.session.plan;

  it('takes circumference and row spacing from what was measured, and says where they came from', async () => {
    const { page } = await around.open('#/plan');
    await open(page, 'ranks-helper');
    await page.fill('#ranks-within', '15 in');
    await page.press('#ranks-within', 'Enter');
    expect(await page.inputValue('#rowSpacing')).toBe('19.05');
    await open(page, 'wheel-helper');
    await page.fill('#wheel-readings', '26,92 26.94 m');
    await page.locator('#wheel-helper').getByRole('button', { name: 'Use it' }).click();
    expect(await page.inputValue('#circumference')).toBe('2.693');
    await page.fill('#wheel-readings', 'a bit');
    expect(await fault(page, 'wheel-readings')).toContain('is no number');
    await save(page);
    expect(plan().drill).toMatchObject({
      circumferenceMetres: expect.closeTo(2.693, 9),
      circumferenceFrom: { way: 'roll-out', readings: [26.92, 26.94], turns: 10 },
      rowSpacingFrom: { withinRankMetres: expect.closeTo(0.381, 9), ranks: 2 },
    });
    await page.reload();
    await page.getByLabel('Why: Wheel circumference').click();
    await page.getByText('It came from rolling 10 turns').waitFor();
    expect(await page.inputValue('#wheel-readings')).toBe('a bit');
  });

  it('makes a mix from the table, by keyboard, with shares that must come to 100 %', async () => {
    const { page } = await around.open('#/plan');
    await addSpecies(page, 'secale cereale');
    await addSpecies(page, 'vetch');
    expect(await page.locator('.part').count()).toBe(2);
    await page.fill('#part-0-share', '70');
    await page.fill('#part-1-share', '20');
    expect(await page.locator('#parts-problem').textContent()).toContain('90.0 % instead of 100 %');
    await page.fill('#part-1-share', '30');
    await page.fill('#part-0-germination', '85');
    await page.fill('#part-1-purity', 'all');
    expect(await fault(page, 'part-1-purity')).toContain('“all” is no number');
    await page.fill('#part-1-purity', '98,5 %');
    // By hand: 0.7 x 0.85 + 0.3 x 0.985 = 89.05 %.
    await soon(() => page.locator('[data-figure="pls"]').textContent()).toMatch(/^89\.[01] %$/);
    await page.getByLabel('by number of live seeds').click();
    await page.locator('.part').first().locator('.because > summary').click();
    await page.getByText('7 CFR 201.46').first().waitFor();
    await save(page);
    expect(plan().seed).toMatchObject({ basis: 'live-seeds', parts: [{ species: 'cereal-rye' }, {}] });
    await picture(page, 'setup-mix', { fullPage: true });
  });

  it('counts seeds on the bench into the lot', async () => {
    const { page } = await around.open('#/plan');
    await addSpecies(page, 'oat');
    await page.locator('#part-0-count-helper > summary').click();
    await page.fill('#part-0-count-weights', '3,36 3,40 3,44');
    await page.getByText('The portions agree').waitFor();
    await page.press('#part-0-count-weights', 'Enter');
    expect(await page.inputValue('#part-0-weight')).toBe('34');
    await page.getByText('From 3 portions of 100 seeds').waitFor();
    await page.fill('#part-0-weight', '35');
    await soon(() => page.getByText('From 3 portions').count()).toBe(0);
  });

  it('takes a target by number of seeds or plants, and keeps it so', async () => {
    const { page } = await around.open('#/plan');
    await page.fill('#targetRate', '350 seeds/m2');
    expect(await fault(page, 'targetRate')).toContain('needs the seed’s weight');
    await addSpecies(page, 'secale cereale');
    expect(await fault(page, 'targetRate')).toBe('');
    await save(page);
    expect(await page.inputValue('#targetRate')).toBe('350');
    expect(await page.inputValue('#targetUnit')).toBe('live seeds/m²');
    const { stated, gramsPerSquareMetre } = plan().target;
    expect(stated).toMatchObject({ figure: 350, unit: 'live seeds/m²' });
    expect(gramsPerSquareMetre).toBeCloseTo(0.35 * plan().seed.parts![0]!.thousandSeedWeightGrams, 9);
    await page.selectOption('#targetUnit', 'plants/m²');
    expect(await fault(page, 'establishment')).toContain('how many live seeds come up');
    await page.fill('#establishment', '70');
    await save(page);
    expect(plan().target.stated).toMatchObject({ unit: 'plants/m²', establishment: expect.closeTo(0.7, 12) });
  });

  it('offers drills and seed used before, one touch away', async () => {
    const { page } = await around.open('#/plan');
    await page.fill('#drillName', 'Barn drill');
    await page.fill('#scaleMarks', 'A, B, C').catch(async () => {
      await page.getByText('Letters as marks').click();
      await page.fill('#scaleMarks', 'A, B, C');
    });
    await page.fill('#setting', 'b');
    await addSpecies(page, 'oat');
    await save(page);
    await page.getByRole('button', { name: 'Barn drill' }).waitFor();
    await around.server.session.keepPlan(scaledPlan);
    await soon(() => page.inputValue('#drillName')).toBe('Long-shed drill');
    await page.getByRole('button', { name: 'Barn drill' }).click();
    expect(await page.inputValue('#drillName')).toBe('Barn drill');
    await page.locator('.past').nth(1).getByRole('button').first().click();
    await page.locator('.part').waitFor();
    await page.fill('#setting', 'C');
    await save(page);
    expect(plan()).toMatchObject({
      drill: { name: 'Barn drill', setting: 'C', scale: { marks: ['A', 'B', 'C'] } },
      seed: { parts: [{ thousandSeedWeightGrams: expect.any(Number) }] },
    });
  });

  it('advises on turns and takes a usual length', async () => {
    around.server.session.plan = scaledPlan;
    const { page } = await around.open('#/plan');
    const use = page.getByRole('button', { name: /^Use \d+$/ });
    const advised = /\d+/.exec((await use.textContent())!)![0];
    await use.click();
    expect(await page.inputValue('#turns')).toBe(advised);
    await page.getByText('The seed decides').waitFor();
    await page.selectOption('#usual-length', '50 m');
    // 50 m at 2.6924 m a turn and 2 % slip: 50 x 0.98 / 2.6924 = 18.2 turns.
    expect(await page.inputValue('#turns')).toBe('18');
  });

  it('begins anew with an empty form for catches weighed by hand, and tells rates round in the unit chosen', async () => {
    around.server.session.plan = scaledPlan;
    for (const setting of [24, 40]) await around.server.standRun(setting);
    const { page } = await around.open('#/setting');
    await page.locator('.next-card').waitFor();
    await page.getByText('lb/ac', { exact: true }).first().click();
    const rounds = page.locator('.marks-table').last();
    await page
      .locator('details', { has: page.getByText(say.setting.marks.rounds) })
      .last()
      .locator('summary')
      .click();
    const areRound = (rates: string[]) => rates.every((rate) => Number(/[\d.]+/.exec(rate)![0]) % 5 === 0);
    await soon(() => rounds.locator('tbody th').allTextContents()).toSatisfy(
      (rates: string[]) => rates.length > 8 && areRound(rates),
      'more than eight rates, all of them round',
    );
    await page.fill('#hand-setting', '31');
    await page.getByRole('button', { name: say.setting.anew.start }).click();
    await page.getByRole('button', { name: say.setting.anew.yes }).click();
    await soon(() => page.inputValue('#hand-setting')).toBe('24');
  });

  it('says when something takes long', async () => {
    const { page } = await around.open('#/plan');
    await page.route('**/api/setup/species**', async (route) => {
      await new Promise((resolve) => setTimeout(resolve, 1500));
      await route.continue();
    });
    await page.fill('#species-search', 'oat');
    await page.locator('.search progress').waitFor();
    await page.locator('.choice').first().waitFor();
    await soon(() => page.locator('.search progress').count()).toBe(0);
  });

  it('axe finds nothing, everything unfolded, in light and dark, narrow and wide', async () => {
    const { page } = await around.open('#/plan');
    await addSpecies(page, 'secale cereale');
    await addSpecies(page, 'vetch');
    await page.fill('#part-0-weight', 'heavy');
    await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
    });
    await page.evaluate(source);
    for (const [width, colorScheme] of [
      [390, 'dark'],
      [1440, 'light'],
    ] as const) {
      await page.setViewportSize({ width, height: 900 });
      await page.emulateMedia({ colorScheme });
      await picture(page, `setup-open-${width}-${colorScheme}`, { fullPage: true });
      const { violations } = await page.evaluate<axe.AxeResults>('axe.run(document)');
      expect(
        violations.map(
          ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`,
        ),
      ).toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(wide).toBeLessThanOrEqual(width);
    }
  });
});
