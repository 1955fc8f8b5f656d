import { describe, expect, it } from 'vitest';
import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { RunDetail } from '../../server/http/messages.ts';
import { openRecords } from '../../server/records/open.ts';
import { replay } from '../../server/run/session-replay.ts';
import { temporaryFolders } from '../records/folders.ts';
import { complaintsOf } from './schema.ts';
import { Shop } from './shop.ts';

const folder = temporaryFolders();

describe('a whole run on the emulated stand', () => {
  it('turns, weighs, stops at the count, states the rate, and gives the same from its journal', async () => {
    const records = await openRecords(folder());
    const shop = new Shop({ records, scenario: drawScenario(oneRow, 4), seed: 4 });
    await shop.wholeRun();
    const { id, figures } = shop.session.view().run;
    expect(figures.outcome).toBe('complete');
    expect(figures.turnsDone).toBeGreaterThanOrEqual(25); // coasting is counted
    // No pulse is lost: at most the part of one in which the wheel stands at either end.
    expect(Math.abs(shop.drill.truth.turns() - figures.turnsDone)).toBeLessThan(
      1.5 / oneRow.stated.pulsesPerTurn,
    );
    const truth = shop.drill.truth.rateGramsPerSquareMetre;
    expect(figures.rate!.low).toBeLessThan(truth);
    expect(figures.rate!.high).toBeGreaterThan(truth);

    const record = (await records.find(id!))!;
    expect(record.figures).toEqual(figures);
    expect(record.demo).toBe(true);
    expect(complaintsOf(RunDetail, record)).toEqual([]);
    const again = replay(await records.journal(id!, 0, 100_000));
    expect(again).toEqual({ figures: record.figures, trace: record.trace });
    expect(again.trace).toEqual(shop.session.trace());
    await shop.shut();
    await records.shut();
  });

  it('is made with six cells as with one', async () => {
    const shop = new Shop({ scenario: sixRows, seed: 2, plan: { turns: 4 } });
    await shop.wholeRun();
    const { id, figures } = shop.session.view().run;
    expect(figures.outcome).toBe('complete');
    expect(figures.grams!).toBeCloseTo(shop.drill.truth.gramsCaught(), 0);
    expect(replay(await shop.records.journal(id!, 0, 100_000)).figures).toEqual(figures);
    await shop.shut();
  });

  it('may be followed by another with the bag as it hangs', async () => {
    const shop = new Shop({ plan: { turns: 3 } });
    await shop.wholeRun();
    const first = shop.session.view().run;
    await shop.wholeRun();
    const second = shop.session.view().run;
    expect(second.id! > first.id!).toBe(true);
    expect(second.figures.outcome).toBe('complete');
    expect(second.figures.grams! + first.figures.grams!).toBeCloseTo(shop.drill.truth.gramsCaught(), 0);
    await shop.shut();
  });
});
