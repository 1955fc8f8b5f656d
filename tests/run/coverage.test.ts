import { beforeAll, describe, expect, it } from 'vitest';
import type { RateFigure } from '../../server/run/types.ts';
import { bundled } from '../bundled.ts';
import type { CampaignRun, campaigns, campaign as runCampaign } from './campaign.ts';

/**
 * Whether a 95 % interval holds the true rate 95 times in a hundred, over runs on the imagined drill without the emulator: 2 000 with
 * CATCHBENCH_WHOLE=1, else 1 000. The standard error of such a share is 0.5 or 0.7 %.
 */
const whole = process.env.CATCHBENCH_WHOLE === '1';
const runsEach = whole ? 1000 : 500;

let campaign: typeof runCampaign;

beforeAll(async () => {
  ({ campaign } = await bundled<typeof import('./campaign.ts')>(new URL('campaign.ts', import.meta.url)));
});

const holds = (rate: RateFigure | null, truth: number) =>
  rate !== null && rate.low <= truth && truth <= rate.high;
const share = (runs: CampaignRun[], of: (run: CampaignRun) => boolean) =>
  runs.filter(of).length / runs.length;
const percent = (part: number) => `${(100 * part).toFixed(1)} %`;

const all: CampaignRun[] = [];

describe(`${2 * runsEach} seeded runs on the imagined drill`, () => {
  const names: (keyof typeof campaigns)[] = ['by motor', 'by hand'];
  it.each(names)(
    '%s: every run ends complete, with a rate that has no bias and a doubt that fits',
    { timeout: 600_000 },
    (name) => {
      const runs = campaign(name, runsEach);
      all.push(...runs);
      expect(share(runs, ({ outcome, final }) => outcome === 'complete' && final !== null)).toBe(1);
      const errors = runs.map(
        ({ final, truth }) => (final!.gramsPerSquareMetre - truth) / final!.standardDoubt,
      );
      const bias = errors.reduce((sum, error) => sum + error, 0) / runsEach;
      const size = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / runsEach);
      console.info(
        `${name}: interval holds the truth in ${percent(share(runs, (run) => holds(run.final, run.truth)))}, half-way in ` +
          `${percent(share(runs, (run) => holds(run.midway, run.truth)))}; error ${bias.toFixed(3)} ± ${size.toFixed(3)} doubts`,
      );
      // Three and a bit standard errors of a mean and of a spread.
      expect(Math.abs(bias)).toBeLessThan(3.3 / Math.sqrt(runsEach));
      expect(Math.abs(size - 1)).toBeLessThan(3.3 / Math.sqrt(2 * runsEach));
    },
  );

  it('the final interval holds the true rate in 95 % of them, give or take three standard errors', () => {
    expect(all.length).toBe(2 * runsEach);
    const held = share(all, (run) => holds(run.final, run.truth));
    expect(held).toBeGreaterThanOrEqual(whole ? 0.935 : 0.93);
    expect(held).toBeLessThanOrEqual(whole ? 0.965 : 0.97);
  });

  it('the interval shown half-way holds it nearly as truly', () => {
    const held = share(all, (run) => holds(run.midway, run.truth));
    expect(held).toBeGreaterThanOrEqual(0.925);
    expect(held).toBeLessThanOrEqual(0.975);
  });
});
