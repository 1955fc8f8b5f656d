/** The firmware of one version back, kept as it was shipped, with the service of today: the protocol stays compatible that far. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { replay } from '../../server/run/session-replay.ts';
import { firmwareStanding } from '../../server/stand/firmware-version.ts';
import { Shop } from '../session/shop.ts';

const folder = new URL('earlier/', import.meta.url);
const earlier = readdirSync(folder).map((name) => /^stand-([\d.]+)\.hex$/.exec(name)![1]!);

describe.each(earlier)('firmware %s', (version) => {
  const hex = readFileSync(new URL(`stand-${version}.hex`, folder), 'utf8');

  it('makes a whole run: armed, turned, stopped at the count, weighed, and the same again from its journal', {
    timeout: 120_000,
  }, async () => {
    const shop = new Shop({ scenario: drawScenario(oneRow, 4), seed: 4, hex, plan: { turns: 6 } });
    await shop.wholeRun();
    const { link, run } = shop.session.view();
    expect(link.board!.firmware).toBe(version);
    expect(firmwareStanding(version)).toBe('older');
    const { figures, id } = run;
    expect(figures.outcome).toBe('complete');
    expect(figures.turnsDone).toBeGreaterThanOrEqual(6);
    expect(Math.abs(shop.drill.truth.turns() - figures.turnsDone)).toBeLessThan(
      1.5 / oneRow.stated.pulsesPerTurn,
    );
    const truth = shop.drill.truth.rateGramsPerSquareMetre;
    expect(figures.rate!.low).toBeLessThan(truth);
    expect(figures.rate!.high).toBeGreaterThan(truth);
    expect(replay(await shop.records.journal(id!, 0, 100_000)).figures).toEqual(figures);
    await shop.shut();
  });

  it('is stopped in mid-run by the page', { timeout: 120_000 }, async () => {
    const shop = new Shop({ scenario: drawScenario(oneRow, 5), seed: 5, hex });
    await shop.turning();
    await shop.until(() => shop.session.view().run.figures.turnsDone > 2);
    await shop.answer(shop.session.stop());
    await shop.until(() => shop.phase === 'finished');
    expect(shop.session.view().run.figures.boardWhy).toBe('host');
    expect(shop.stand.board.motor).toBe(false);
    await shop.shut();
  });

  it('takes settings: written, kept, and in use', { timeout: 120_000 }, async () => {
    const shop = new Shop({ hex });
    await shop.until(() => shop.session.standFacts() !== null);
    const written = await shop.answer(shop.session.writeSettings({ slope1: '1234567', zero1: '-99' }));
    expect(written).toEqual({ ok: true, value: null });
    expect(shop.session.standFacts()!.cells[0]).toEqual({ gramsPerCount: 0.001234567, zeroCount: -99 });
    await shop.shut();
  });
});
