import { describe, expect, it } from 'vitest';
import { openRecords } from '../../server/records/open.ts';
import { replay } from '../../server/run/session-replay.ts';
import { temporaryFolders } from '../records/folders.ts';
import { Shop } from './shop.ts';

const folder = temporaryFolders();

describe('a whole run on the emulated stand', () => {
  it('turns, weighs, stops at the count and states a rate with the true one inside its interval', async () => {
    const records = await openRecords(folder());
    const shop = new Shop({ records, seed: 3 });
    const began = performance.now();
    await shop.wholeRun();
    console.log('seconds', shop.stand.seconds, 'real', (performance.now() - began) / 1000);
    const { id, figures } = shop.session.view().run;
    console.log(figures, shop.drill.truth.rateGramsPerSquareMetre, shop.session.trace().length);
    expect(figures.outcome).toBe('complete');
    const truth = shop.drill.truth.rateGramsPerSquareMetre;
    expect(figures.rate!.low).toBeLessThan(truth);
    expect(figures.rate!.high).toBeGreaterThan(truth);
    const journal = await records.journal(id!, 0, 100_000);
    const again = replay(journal);
    expect(again.figures).toEqual(figures);
    expect(again.trace).toEqual(shop.session.trace());
    expect((await records.find(id!))!.figures).toEqual(figures);
    await shop.shut();
    await records.shut();
  });
});
