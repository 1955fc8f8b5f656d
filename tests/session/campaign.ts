import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { replay } from '../../server/run/session-replay.ts';
import { Shop } from './shop.ts';

export interface CampaignRun {
  seed: number;
  outcome: string | null;
  /** True where the drill's true rate lies inside the stated 95 % interval. */
  holds: boolean;
  /** True where the journal gives the same figures again. */
  replayed: boolean;
  standSeconds: number;
  realSeconds: number;
}

/** One whole run of 25 turns on a drill drawn by `seed`, on the real firmware in emulation, as fast as it goes. */
export async function campaignRun(seed: number): Promise<CampaignRun> {
  const began = performance.now();
  const shop = new Shop({ scenario: drawScenario(oneRow, seed), seed });
  await shop.wholeRun();
  const standSeconds = shop.stand.seconds;
  const realSeconds = (performance.now() - began) / 1000;
  const { id, figures } = shop.session.view().run;
  const truth = shop.drill.truth.rateGramsPerSquareMetre;
  const { rate } = figures;
  const again = replay(await shop.records.journal(id!, 0, 100_000));
  await shop.shut();
  return {
    seed,
    outcome: figures.outcome,
    holds: rate !== null && rate.low <= truth && truth <= rate.high,
    replayed: JSON.stringify(again.figures) === JSON.stringify(figures),
    standSeconds,
    realSeconds,
  };
}
