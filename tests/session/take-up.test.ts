import { describe, expect, it } from 'vitest';
import { byHand } from '../../firmware-sim/drill/scenarios.ts';
import { encodeCommand } from '../../server/link/encode.ts';
import { replay } from '../../server/run/session-replay.ts';
import type { RunOutcome } from '../../server/run/types.ts';
import { Shop, type ShopOptions } from './shop.ts';

/** The service is killed in mid-run and started again; the stand has gone on meanwhile, or stopped, by its own rules. */

const motor: ShopOptions = { plan: { turns: 6 } };
const hand: ShopOptions = { scenario: byHand, plan: { turns: 6 } };

interface Outage {
  options: ShopOptions;
  /** Seconds that the wheel turns until the kill, and that the service is away. */
  turning: number;
  away: number;
  /** What happens while it is away. */
  meanwhile?: (shop: Shop) => void;
  hostMillisOff?: number;
}

/** A run with an outage, until it is over. */
async function runWith({ options, turning, away, meanwhile, hostMillisOff }: Outage): Promise<Shop> {
  const shop = new Shop(options);
  await shop.turning();
  if (options.scenario === byHand) shop.drill.turnByHand();
  await shop.pass(turning);
  shop.kill();
  meanwhile?.(shop);
  await shop.pass(away);
  await shop.startAgain(hostMillisOff);
  await shop.until(() => shop.phase === 'finished');
  await shop.pass(0.5);
  return shop;
}

const figuresOf = (shop: Shop) => {
  const { gaps = [], ...figures } = shop.session.view().run.figures;
  return { ...figures, gaps };
};

/** It is on record as shown, and its readings give the same again to the digit. */
async function expectOnRecord(shop: Shop, outcome: RunOutcome): Promise<void> {
  const { id, figures } = shop.session.view().run;
  expect(figures.outcome).toBe(outcome);
  expect(shop.stand.board.motor).toBe(false);
  const record = (await shop.records.find(id!))!;
  expect(record.figures).toEqual(figures);
  const journal = await shop.records.journal(id!, 0, 100_000);
  expect(replay(journal)).toEqual({ figures, trace: shop.session.trace() });
  expect(record.trace).toEqual(shop.session.trace());
  expect(await shop.records.unfinished()).toEqual([]);
  await shop.shut();
}

/** Turns and grams are those that the drill itself knows, whatever was not read. */
function expectWhole(shop: Shop): void {
  const { turnsDone, grams, gramsDoubt } = figuresOf(shop);
  expect(turnsDone).toBeCloseTo(shop.drill.truth.turns(), 0);
  expect(Math.abs(grams! - shop.drill.truth.gramsCaught())).toBeLessThan(4 * gramsDoubt! + 0.1);
}

describe('a run whose service is killed', () => {
  it('by hand goes on to its count, and is finished with the totals of the board', async () => {
    const shop = await runWith({ options: hand, turning: 3, away: 4 });
    const { gaps, sentence } = figuresOf(shop);
    expect(gaps).toHaveLength(1);
    expect(gaps[0]!.cause).toBe('service');
    expect(gaps[0]!.toSeconds! - gaps[0]!.fromSeconds).toBeGreaterThan(4);
    expect(gaps[0]!.toTurns! - gaps[0]!.fromTurns).toBeGreaterThan(1.5);
    expect(sentence).toMatch(/^Done: .*Readings are missing from .* \(Catchbench was not running\)/);
    expectWhole(shop);
    await expectOnRecord(shop, 'complete');
  });

  it('by hand reaches its count while nobody listens', async () => {
    const shop = await runWith({ options: hand, turning: 3, away: 14 });
    expectWhole(shop);
    await expectOnRecord(shop, 'complete');
  });

  it('by motor is stopped by the board within a second, and ends with what was turned and caught', async () => {
    const shop = await runWith({
      options: motor,
      turning: 3,
      away: 4,
    });
    expect(figuresOf(shop).gaps[0]!.cause).toBe('service');
    expectWhole(shop);
    await expectOnRecord(shop, 'host-silent');
  });

  it('by motor goes on where the service is back before the board has lost patience', async () => {
    const shop = await runWith({ options: motor, turning: 3, away: 0.2 });
    expectWhole(shop);
    await expectOnRecord(shop, 'complete');
  });

  it('may be killed while the catch settles, and several times over', async () => {
    const shop = new Shop(hand);
    await shop.turning();
    shop.drill.turnByHand();
    for (const moment of ['turning', 'settling'] as const) {
      await shop.until(() => shop.phase === moment);
      await shop.pass(moment === 'turning' ? 3 : 1.5);
      shop.kill();
      await shop.pass(1);
      await shop.startAgain();
      await shop.pass(2);
    }
    await shop.until(() => shop.phase === 'finished');
    expect(figuresOf(shop).gaps).toHaveLength(2);
    expectWhole(shop);
    await expectOnRecord(shop, 'complete');
  });

  it('says until the stand is heard that it looks for it, and does not say what it does not know', async () => {
    const shop = new Shop(hand);
    await shop.turning();
    shop.drill.turnByHand();
    await shop.pass(3);
    shop.kill();
    await shop.pass(1);
    expect(await shop.startAgain()).toEqual([
      expect.stringMatching(/goes on if the stand still answers in it/),
    ]);
    const { phase, sentence, gaps } = figuresOf(shop);
    expect(phase).toBe('turning');
    expect(sentence).toMatch(/started again in mid-run and looks for the stand/);
    expect(gaps).toEqual([expect.objectContaining({ cause: 'service', toSeconds: null })]);
    expect(await shop.answer(shop.session.arm())).toMatchObject({
      ok: false,
      problem: { code: 'run-under-way' },
    });
    await shop.until(() => shop.phase === 'finished');
    await shop.shut();
  });

  it('can be stopped from the page after it was taken up', async () => {
    const shop = new Shop(hand);
    await shop.turning();
    shop.drill.turnByHand();
    await shop.pass(3);
    shop.kill();
    await shop.pass(1);
    await shop.startAgain();
    await shop.pass(3);
    await shop.answer(shop.session.stop());
    shop.drill.letGo();
    await shop.until(() => shop.phase === 'finished');
    await expectOnRecord(shop, 'stopped');
  });
});

describe('a run that cannot honestly go on', () => {
  it('ends as reset where the board was reset', async () => {
    const shop = await runWith({
      options: hand,
      turning: 3,
      away: 3,
      meanwhile: ({ stand }) => stand.reset(),
    });
    expect(figuresOf(shop).gaps).toEqual([expect.objectContaining({ cause: 'service', toSeconds: null })]);
    await expectOnRecord(shop, 'board-reset');
  });

  it('is interrupted where the board was made ready for something else', async () => {
    const arm = encodeCommand(9, { command: 'arm', mode: 'hand', pulses: 500 });
    const shop = await runWith({
      options: motor,
      turning: 3,
      away: 3,
      meanwhile: ({ stand }) => stand.clock.after(1500, () => stand.write(Buffer.from(arm))),
    });
    expect(figuresOf(shop).sentence).toMatch(/made ready for something else/);
    await expectOnRecord(shop, 'interrupted');
  });

  it('is interrupted where the bag was emptied', async () => {
    const shop = await runWith({
      options: motor,
      turning: 8,
      away: 5,
      meanwhile: ({ drill }) => drill.emptyBags(),
    });
    expect(figuresOf(shop).sentence).toMatch(/the bag was taken off or emptied/);
    await expectOnRecord(shop, 'interrupted');
  });

  it('is interrupted where host and board do not agree how long it was', async () => {
    const shop = await runWith({ options: hand, turning: 3, away: 5, hostMillisOff: 600_000 });
    expect(figuresOf(shop).sentence).toMatch(/clocks of stand and computer do not agree/);
    await expectOnRecord(shop, 'interrupted');
  });

  it('is closed at once after more than an hour', async () => {
    const shop = new Shop(hand);
    await shop.turning();
    shop.drill.turnByHand();
    await shop.pass(3);
    shop.kill();
    await shop.startAgain(3_700_000);
    expect(shop.session.view().run.id).toBeNull();
    const [run] = (await shop.records.page(1, null)).runs;
    expect(run!.outcome).toBe('interrupted');
    expect(run!.figures!.sentence).toMatch(/longer than the stand’s counters can be followed/);
    await shop.shut();
  });

  it('is closed at once where the wheel had not been started', async () => {
    const shop = new Shop(motor);
    await shop.connected();
    const arming = shop.session.arm();
    await shop.pass(0.5);
    void arming;
    shop.kill();
    await shop.pass(2);
    await shop.startAgain();
    const [run] = (await shop.records.page(1, null)).runs;
    expect(run!.figures!.sentence).toMatch(/ended before the wheel was started/);
    await shop.shut();
  });
});
