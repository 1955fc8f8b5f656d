import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { keepStand, scaleChecksOf, standNamed } from '../../server/records/stands.ts';
import type { Store } from '../../server/records/types.ts';
import { storeEngines } from './engines.ts';
import { scaleCheckOf, standCheckOf } from './samples.ts';

describe.each(storeEngines())('on $name', (engine) => {
  let store: Store;
  beforeEach(async () => {
    store = await engine.open(await engine.newPlace());
  });
  afterEach(() => store.shut());

  describe('a stand', () => {
    it('is put on record once, by the name that its board gives, and keeps what its board says now', async () => {
      const first = await keepStand(store, 'shop-1', { firmware: '1.0.0', pulsesPerTurn: 60, cells: 1 });
      await keepStand(store, 'shop-10');
      const again = await keepStand(store, 'shop-1', { firmware: '1.1.0', settings: { ppt: '60' } });
      expect(again.id).toBe(first.id);
      expect(again.fields).toMatchObject({ firmware: '1.1.0', pulsesPerTurn: 60, settings: { ppt: '60' } });
      expect((await store.stands.list()).items).toHaveLength(2);
      expect(await standNamed(store, 'shop-1')).toEqual(again);
      expect(await standNamed(store, 'shop')).toBeNull();
    });

    it('has its checks, newest first, with every figure', async () => {
      const { id } = await keepStand(store, 'shop-1');
      const first = await store.standChecks.create({
        ...standCheckOf('2026-03-01T07:00:00.000Z'),
        standId: id,
      });
      const second = await store.standChecks.create({
        ...standCheckOf('2027-03-01T07:00:00.000Z'),
        standId: id,
      });
      await store.standChecks.create(standCheckOf('2027-03-02T07:00:00.000Z'));
      expect((await store.standChecks.list({ standId: id })).items).toEqual([second, first]);
      expect(first.fields).toEqual({ ...standCheckOf('2026-03-01T07:00:00.000Z'), standId: id });
      const steps = [{ ...first.fields.steps[0]!, outcome: 'perhaps' as 'passed' }];
      await expect(store.standChecks.update(first.id, { steps })).rejects.toThrow(/does not fit/);
    });

    it('has its scale checks: the newest of each cell that passed', async () => {
      const { id } = await keepStand(store, 'shop-1');
      const other = await keepStand(store, 'shop-2');
      const check = (day: number, cell: number, standId: string, passed = true) =>
        store.scaleChecks.create({ ...scaleCheckOf(`2026-03-0${day}T07:00:00.000Z`, cell), standId, passed });
      await check(1, 0, id);
      const newest = await check(3, 0, id);
      await check(2, 0, id);
      await check(4, 0, id, false);
      const second = await check(1, 1, id);
      await check(5, 0, other.id);
      expect(await scaleChecksOf(store, id)).toEqual(
        new Map([
          [0, newest],
          [1, second],
        ]),
      );
      await expect(check(1, 0, '018f0000-0000-7000-8000-000000000000')).rejects.toThrow(/not on record/);
    });
  });
});
