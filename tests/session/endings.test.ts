import { describe, expect, it } from 'vitest';
import { replay } from '../../server/run/session-replay.ts';
import type { RunOutcome } from '../../server/run/types.ts';
import { Shop, type ShopOptions } from './shop.ts';

/** Turns for two seconds, lets something happen, and waits for the end. */
async function endedBy(happening: (shop: Shop) => unknown, options: ShopOptions = {}): Promise<Shop> {
  const shop = new Shop({ ...options, plan: { turns: 8 } });
  await shop.turning();
  await shop.pass(2);
  await happening(shop);
  await shop.until(() => shop.phase === 'finished');
  return shop;
}

/** The run is on record with this outcome, its readings give the same again, and the motor is off. */
async function expectEnd(shop: Shop, outcome: RunOutcome): Promise<void> {
  const { id, figures } = shop.session.view().run;
  expect(figures.outcome).toBe(outcome);
  expect(shop.stand.board.motor).toBe(false);
  const record = (await shop.records.find(id!))!;
  expect(record.outcome).toBe(outcome);
  expect(record.figures).toEqual(figures);
  expect(replay(await shop.records.journal(id!, 0, 100_000))).toEqual({
    figures,
    trace: shop.session.trace(),
  });
  await shop.shut();
}

describe('a run that does not reach its count', () => {
  it('is stopped from the page: what was caught until then counts', async () => {
    const shop = await endedBy((at) => at.answer(at.session.stop()));
    expect(shop.session.view().run.figures.turnsDone).toBeGreaterThan(1);
    expect(shop.session.view().run.figures.grams).toBeGreaterThan(1);
    await expectEnd(shop, 'stopped');
  });

  it('is thrown away', async () => {
    const shop = await endedBy((at) => at.answer(at.session.abort()));
    expect(shop.session.view().run.figures.rate).toBeNull();
    await expectEnd(shop, 'aborted');
  });

  it('is ended by the stop button', async () => {
    const shop = await endedBy((at) => at.drill.pressStop());
    await expectEnd(shop, 'stop-button');
  });

  it('is ended by a reset of the board', async () => {
    const shop = await endedBy((at) => at.stand.reset());
    await expectEnd(shop, 'board-reset');
  });

  it('goes on after a moment without cable, if the board was quicker than its own patience', async () => {
    const shop = await endedBy(async (at) => {
      at.binding.unplug();
      await at.pass(0.3);
      at.binding.plug();
    });
    await expectEnd(shop, 'complete');
  });

  it('is stopped by the board itself when the cable stays out, and the totals are read once it is back', async () => {
    const shop = await endedBy(async (at) => {
      at.binding.unplug();
      await at.pass(1.2);
      expect(at.stand.board.motor).toBe(false);
      await at.pass(2);
      at.binding.plug();
    });
    expect(shop.session.view().run.figures.turnsDone).toBeCloseTo(shop.drill.truth.turns(), 0);
    await expectEnd(shop, 'host-silent');
  });

  it('ends by itself when the cable never comes back', async () => {
    const shop = await endedBy((at) => at.binding.unplug());
    expect(shop.session.view().run.figures.turnsDone).toBeGreaterThan(1);
    await expectEnd(shop, 'link-lost');
  });

  it('ends when opening the port anew resets the board', async () => {
    const shop = await endedBy(
      async (at) => {
        at.binding.unplug();
        await at.pass(0.3);
        at.binding.plug();
      },
      { dtrReset: true },
    );
    await expectEnd(shop, 'board-reset');
  });

  it('is marked as interrupted when the service closes, with the motor off', async () => {
    const shop = new Shop({ plan: { turns: 8 } });
    await shop.turning();
    await shop.pass(2);
    await shop.shut();
    expect(shop.stand.board.motor).toBe(false);
    const { id } = shop.session.view().run;
    const record = (await shop.records.find(id!))!;
    expect(record.outcome).toBe('interrupted');
    expect(record.figures!.turnsDone).toBeGreaterThan(1);
    expect(replay(await shop.records.journal(id!, 0, 100_000)).figures).toEqual(record.figures);
  });
});
