import { drawScenario, type Scenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { figures } from '../../server/run/reduce.ts';
import type { RateFigure, RunOutcome } from '../../server/run/types.ts';
import { ImaginedRun } from './imagined.ts';

/** Scenarios that a campaign can run, by name. */
export const campaigns = { 'by motor': oneRow, 'by hand': byHand } as const;

/** One run of a campaign: what was stated half-way and at the end, and what was true. */
export interface CampaignRun {
  outcome: RunOutcome | null;
  truth: number;
  midway: RateFigure | null;
  final: RateFigure | null;
}

/**
 * `runs` runs. Each has its own drill, drawn about what its user believes with the doubts its user states, and its own seeds, noise
 * and metering. The seeds are fixed: the same figures every time.
 */
export function campaign(name: keyof typeof campaigns, runs: number): CampaignRun[] {
  return Array.from({ length: runs }, (_, index) => oneOf(campaigns[name], index + 1));
}

function oneOf(scenario: Scenario, seed: number): CampaignRun {
  const run = new ImaginedRun(drawScenario(scenario, `drill ${seed}`), `run ${seed}`);
  const half = (scenario.stated.turns / 2) * scenario.stated.pulsesPerTurn;
  // The trace tells nothing about the rate, and takes half the time.
  run.state = { ...run.state, trace: null };
  run.start();
  run.readUntil(() => run.state.start !== null && run.state.now!.net - run.state.start.net >= half);
  const midway = figures(run.state).rate;
  run.readUntil(() => run.state.phase === 'finished');
  const { outcome, rate } = figures(run.state);
  return { outcome, truth: run.drill.truth.rateGramsPerSquareMetre, midway, final: rate };
}
