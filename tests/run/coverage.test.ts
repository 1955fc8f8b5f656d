import { describe, expect, it } from 'vitest';
import { drawScenario, type Scenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { figures } from '../../server/run/reduce.ts';
import type { RateFigure } from '../../server/run/types.ts';
import { ImaginedRun } from './imagined.ts';

/**
 * Whether a 95 % interval holds the true rate 95 times in a hundred. Each run has its own drill, drawn about what its user believes
 * with the doubts its user states, and its own seeds, noise and metering. The seeds are fixed: the same figures every time.
 * CATCHBENCH_WHOLE=1 makes it 2 000 runs; otherwise a sample, with a band as much wider as chance asks.
 */
const whole = process.env.CATCHBENCH_WHOLE === '1';
const runsEach = whole ? 1000 : 200;

interface Tally {
  runs: number;
  finished: number;
  stated: number;
  held: number;
  heldMidway: number;
  /** Errors of the rate in units of its standard doubt. */
  errors: number[];
}

const holds = (rate: RateFigure | null, truth: number) =>
  rate !== null && rate.low <= truth && truth <= rate.high;

function campaign(scenario: Scenario): Tally {
  const tally: Tally = { runs: 0, finished: 0, stated: 0, held: 0, heldMidway: 0, errors: [] };
  for (let seed = 1; seed <= runsEach; seed += 1) {
    const run = new ImaginedRun(drawScenario(scenario, `drill ${seed}`), `run ${seed}`);
    const truth = run.drill.truth.rateGramsPerSquareMetre;
    run.start();
    run.readUntil(() => figures(run.state).turnsDone >= scenario.stated.turns / 2);
    tally.heldMidway += holds(figures(run.state).rate, truth) ? 1 : 0;
    run.readUntil(() => run.state.phase === 'finished');
    const { outcome, rate } = figures(run.state);
    tally.runs += 1;
    tally.finished += outcome === 'complete' ? 1 : 0;
    tally.held += holds(rate, truth) ? 1 : 0;
    if (rate !== null) {
      tally.stated += 1;
      tally.errors.push((rate.gramsPerSquareMetre - truth) / rate.standardDoubt);
    }
  }
  return tally;
}

const tallies: Tally[] = [];

describe(`${2 * runsEach} seeded runs on the imagined drill`, () => {
  it.each([
    ['by motor', oneRow],
    ['by hand', byHand],
  ])('%s: every run ends complete, with a rate that has no bias', { timeout: 600_000 }, (name, scenario) => {
    const tally = campaign(scenario);
    tallies.push(tally);
    const { runs, held, heldMidway, errors } = tally;
    const bias = errors.reduce((a, b) => a + b, 0) / runs;
    const size = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / runs);
    console.info(
      `${name}: ${runs} runs, held ${(100 * held) / runs} %, midway ${(100 * heldMidway) / runs} %, ` +
        `error ${bias.toFixed(3)} ± ${size.toFixed(3)} standard doubts`,
    );
    expect(tally).toMatchObject({ runs: runsEach, finished: runsEach, stated: runsEach });
    expect(Math.abs(bias)).toBeLessThan(3.3 / Math.sqrt(runs));
    expect(Math.abs(size - 1)).toBeLessThan(3.3 / Math.sqrt(2 * runs));
  });

  it('the 95 % interval holds the true rate as often as it says', () => {
    const runs = 2 * runsEach;
    const held = tallies.reduce((sum, tally) => sum + tally.held, 0) / runs;
    // 93.5 to 96.5 % of 2 000 runs; 3.08 standard deviations of a binomial share, so 91.6 to 98.4 % of 400.
    const band = 0.015 * Math.sqrt(2000 / runs);
    expect(tallies.length).toBe(2);
    expect(held).toBeGreaterThanOrEqual(0.95 - band);
    expect(held).toBeLessThanOrEqual(0.95 + band);
  });

  it('so does the interval shown half-way, nearly', () => {
    const runs = 2 * runsEach;
    const held = tallies.reduce((sum, tally) => sum + tally.heldMidway, 0) / runs;
    expect(held).toBeGreaterThan(0.9);
    expect(held).toBeLessThan(0.985);
  });
});
