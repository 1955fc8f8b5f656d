import { afterEach, describe, expect, it, vi } from 'vitest';
import { byHand } from '../../firmware-sim/drill/scenarios.ts';
import { replay } from '../../server/run/session-replay.ts';
import { Shop, type ShopOptions } from '../session/shop.ts';

/** The computer stands still for seconds or sleeps for minutes, and its clock is set: the stand goes on by its own rules meanwhile. */

vi.setConfig({ testTimeout: 180_000 });

const hand: ShopOptions = { scenario: byHand, plan: { turns: 6 } };
const motor: ShopOptions = { plan: { turns: 6 } };

const figuresOf = (shop: Shop) => {
  const { gaps = [], ...figures } = shop.session.view().run.figures;
  return { ...figures, gaps };
};

async function asleepIn(options: ShopOptions, seconds: number, clockStops: boolean): Promise<Shop> {
  const shop = new Shop(options);
  await shop.turning();
  if (options.scenario === byHand) shop.drill.turnByHand();
  await shop.pass(3);
  await shop.sleep(seconds, clockStops);
  await shop.until(() => shop.phase === 'finished');
  await shop.pass(0.5);
  return shop;
}

async function expectWhole(shop: Shop): Promise<void> {
  const { id, figures } = shop.session.view().run;
  expect(figures.turnsDone).toBeCloseTo(shop.drill.truth.turns(), 0);
  expect(Math.abs(figures.grams! - shop.drill.truth.gramsCaught())).toBeLessThan(
    4 * figures.gramsDoubt! + 0.1,
  );
  expect(replay(await shop.records.journal(id!, 0, 100_000)).figures).toEqual(figures);
  await shop.shut();
}

describe('a computer that stands still in mid-run', () => {
  it.each([
    ['3 s', 3, false],
    ['half a minute, by its own clock too', 30, false],
    ['half a minute that its clock does not count, as in sleep', 30, true],
  ])('for %s: a run by hand has its totals, and says what is missing', async (_, seconds, clockStops) => {
    const shop = await asleepIn(hand, seconds, clockStops);
    const { outcome, gaps, sentence } = figuresOf(shop);
    expect(outcome).toBe('complete');
    expect(gaps).toHaveLength(1);
    expect(gaps[0]!.toSeconds! - gaps[0]!.fromSeconds).toBeGreaterThan(seconds - 1);
    expect(sentence).toMatch(/Readings are missing from .* Turns and grams are whole/);
    if (!clockStops) expect(sentence).toMatch(/this computer stood still/);
    await expectWhole(shop);
  });

  it('for 3 s: the board stops the motor, and the run says so', async () => {
    const shop = await asleepIn(motor, 3, false);
    const { outcome, sentence } = figuresOf(shop);
    expect(outcome).toBe('host-silent');
    expect(sentence).toMatch(/heard nothing from this computer .* \(this computer stood still\)/);
    await expectWhole(shop);
  });

  it('and does not let go of the port for it: opening it anew may reset the board', async () => {
    const shop = await asleepIn({ ...hand, dtrReset: true }, 4, false);
    expect(shop.session.linkFigures().connections).toBe(1);
    await shop.shut();
  });
});

describe('a computer whose clock is set in mid-run', () => {
  afterEach(() => {
    vi.useRealTimers();
  });

  it.each([
    ['forward', 86_400_000],
    ['back', -86_400_000],
  ])('%s by a day: the run takes as long as it took', async (_, leap) => {
    const shop = new Shop(motor);
    await shop.turning();
    vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + leap });
    await shop.until(() => shop.phase === 'finished');
    await shop.pass(0.5);
    const { id, figures } = shop.session.view().run;
    expect(figures).toMatchObject({ outcome: 'complete', gaps: [] });
    const run = (await shop.records.find(id!))!;
    const took = Date.parse(run.endedAt!) - Date.parse(run.startedAt);
    expect(took).toBeGreaterThanOrEqual(0);
    expect(took).toBeLessThan(3_600_000);
    await shop.shut();
  });

  it.each([
    ['forward', 600_000],
    ['back', -600_000],
  ])('%s while the service is away: what cannot be known is not claimed', async (_, leap) => {
    const shop = new Shop(hand);
    await shop.turning();
    shop.drill.turnByHand();
    await shop.pass(3);
    shop.kill();
    await shop.pass(8);
    await shop.startAgain(leap);
    await shop.until(() => shop.phase === 'finished');
    expect(figuresOf(shop).sentence).toMatch(/clocks of stand and computer do not agree/);
    await shop.shut();
  });
});
