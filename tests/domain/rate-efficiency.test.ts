import { beforeAll, describe, expect, it } from 'vitest';
import { bundled } from '../bundled.ts';
import * as direct from './rate-regimes.ts';

/**
 * How near the live rate comes to the best that can be done, and whether its intervals hold the truth. Source of the bound: H. Cramér, Mathematical
 * Methods of Statistics (1946), 32.3; for a linear model with Gaussian noise it is the variance of generalized least squares.
 * CATCHBENCH_WHOLE=1: 2 000 runs each instead of 150.
 */
const whole = process.env.CATCHBENCH_WHOLE === '1';
const runs = whole ? 2000 : 150;

let fast: typeof direct;
beforeAll(async () => {
  fast = await bundled(new URL('rate-regimes.ts', import.meta.url));
});

describe('the bound', () => {
  it('is the same reading by reading as from the covariance matrix of all readings', () => {
    for (const noise of [
      { walk: 0.008, white: 4 },
      { walk: 0.083, white: 0.25 },
      { walk: 0.083, white: 0.0025 },
    ]) {
      const exact = new direct.ExactSlope(noise);
      const count = 300;
      const from = 96;
      for (let reading = from; reading <= count; reading += 1) exact.add((reading / 80 - 0.25) * 0.75, 0);
      expect(exact.estimate.variance / direct.denseBound(noise, count)).toBeCloseTo(1, 5);
    }
  });
});

const names = Object.keys(direct.regimes) as (keyof typeof direct.regimes)[];
describe.each(names)('%s', (name) => {
  let found: direct.Findings[];
  beforeAll(() => {
    found = fast.regimeFindings(name, runs);
    for (const [index, each] of found.entries()) {
      console.info(
        `${name}, ${100 * direct.looks[index]!} % of the run, ${runs} runs: variance over the bound ${each.overBound.toFixed(3)} ± ` +
          `${each.overBoundError.toFixed(3)} (as drawn ${each.overBoundAsDrawn.toFixed(3)}); 95 % interval holds ` +
          `${(100 * each.holds).toFixed(1)} %; bias ${(100 * each.bias).toFixed(3)} ± ${(100 * each.biasError).toFixed(3)} %`,
      );
    }
  }, 600_000);

  it('the variance is at most 1.10 times the bound after 20, 50 and 100 % of the run', () => {
    for (const { overBound, overBoundError } of found) {
      expect(overBound).toBeLessThan(1.1 + (whole ? 0 : 2 * overBoundError));
      // Below the bound nothing can be: the check would be broken.
      expect(overBound).toBeGreaterThan(1 - 4 * overBoundError);
    }
  });

  it('95 % intervals hold the true slope in 93 to 97 % of runs though the intensities are not told', () => {
    // In the sample, three standard errors of a share wider.
    const slack = whole ? 0 : 3 * Math.sqrt((0.95 * 0.05) / runs);
    for (const { holds } of found) {
      expect(holds).toBeGreaterThan(0.93 - slack);
      expect(holds).toBeLessThanOrEqual(Math.min(1, 0.97 + slack));
    }
  });

  it('has no bias', () => {
    for (const { bias, biasError } of found) expect(Math.abs(bias)).toBeLessThan(3.5 * biasError);
  });
});
