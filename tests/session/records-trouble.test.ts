import { describe, expect, it } from 'vitest';
import { trouble } from '../../server/records/errors.ts';
import { replay } from '../../server/run/session-replay.ts';
import { plan } from '../records/samples.ts';
import { MemoryRecords } from './memory-records.ts';
import { Shop } from './shop.ts';

describe('while the records cannot be written', () => {
  it('a run goes on to its end, says so all the while, and is on record once there is room again', async () => {
    const records = new MemoryRecords();
    const closed: (string | null)[] = [];
    const desk = {
      forRun: async () => '018f0000-0000-7000-8000-000000000001',
      runClosed: async (id: string) => {
        closed.push((await records.find(id))!.endedAt);
      },
    };
    const shop = new Shop({ records, plan: { turns: 3 }, desk });
    await shop.turning();
    await shop.pass(1);
    records.failure = trouble('full', '/data');
    await shop.pass(1);
    const live = shop.session.view().run.figures;
    expect(live.phase).toBe('turning');
    expect(live.sentence).toMatch(/wheel is turning.*not on record yet.*\/data is full/);
    expect(shop.session.troubles()).toEqual([expect.stringMatching(/\/data is full/)]);
    await shop.until(() => shop.phase === 'finished');
    const ended = shop.session.view().run;
    expect(ended.figures.outcome).toBe('complete');
    expect(ended.figures.sentence).toMatch(/not on record yet/);
    expect((await records.find(ended.id!))!.endedAt).toBeNull();
    expect(closed).toEqual([]);

    records.failure = null;
    await shop.pass(1.5);
    const { figures } = shop.session.view().run;
    expect(figures.sentence).not.toMatch(/record/);
    expect((await records.find(ended.id!))!.figures).toEqual(figures);
    // Whoever keeps the calibrations hears of it then, and once.
    expect(closed).toEqual([expect.any(String)]);
    expect(replay(await records.journal(ended.id!, 0, 100_000)).figures).toEqual(figures);
    expect(shop.session.troubles()).toEqual([]);
    await shop.shut();
  });

  it('a run of which nothing could be written is kept while the next is made', async () => {
    const records = new MemoryRecords();
    records.failure = trouble('read-only', '/data');
    const shop = new Shop({ records, plan: { turns: 1 } });
    await shop.wholeRun();
    await shop.wholeRun();
    expect(records.runs.size).toBe(0);
    records.failure = null;
    await shop.pass(1.5);
    expect([...records.runs.values()].map((run) => run.outcome)).toEqual(['complete', 'complete']);
    await shop.shut();
  });

  it('a run whose end the disk is slow to take, and then refuses, is not forgotten over the next', async () => {
    const records = new MemoryRecords();
    const shop = new Shop({ records, plan: { turns: 1 } });
    const close = records.close.bind(records);
    records.close = async (...args) => {
      records.close = close;
      await new Promise<void>((resolve) => shop.stand.clock.after(3000, resolve));
      records.failure = trouble('full', '/data');
      await close(...args);
    };
    await shop.turning();
    await shop.until(() => shop.session.view().run.figures.sentence === 'Putting the run on record.');
    const first = shop.session.view().run.id!;
    void shop.session.arm();
    await shop.until(() => shop.session.view().run.id !== first);
    await shop.until(() => records.failure !== null);
    await shop.pass(0.5);
    expect(shop.session.unsaved().map(({ run }) => run.id)).toContain(first);
    records.failure = null;
    await shop.shut();
    expect((await records.find(first))!.outcome).toBe('complete');
  });

  it('a changed plan holds until the service ends, and that is said', async () => {
    const records = new MemoryRecords();
    const shop = new Shop({ records });
    records.failure = trouble('full', '/data');
    expect(await shop.session.keepPlan(plan)).toEqual({ ok: true, value: plan });
    expect(shop.session.view().plan).toEqual(plan);
    expect(shop.session.troubles()).toEqual([
      expect.stringMatching(/plan will be forgotten.*\/data is full/),
    ]);
    records.failure = null;
    await shop.session.keepPlan(plan);
    expect(shop.session.troubles()).toEqual([]);
    await shop.shut();
  });

  it('a finished run is not called finished before its readings are on disk', async () => {
    const records = new MemoryRecords();
    const shop = new Shop({ records, plan: { turns: 1 } });
    const seen: string[] = [];
    let closedAt = 0;
    const close = records.close.bind(records);
    records.close = async (...args) => {
      await new Promise<void>((resolve) => shop.stand.clock.after(40, resolve));
      await close(...args);
      closedAt = seen.length;
    };
    shop.session.listen({ changed: () => seen.push(shop.phase), began: () => {}, planned: () => {} });
    await shop.wholeRun();
    expect(closedAt).toBeGreaterThan(0);
    expect(seen.indexOf('finished')).toBeGreaterThanOrEqual(closedAt);
    await shop.shut();
  });
});
