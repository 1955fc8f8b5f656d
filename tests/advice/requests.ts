import type { AdviceRequest, CalibrationRun, SettingScale } from '../../server/domain/advice/types.ts';
import { gramsPerSquareMetre, turns } from '../../server/domain/units.ts';

/** Requests for tests: an invented drill with marks 0 to 100 and a target of 10 g/m² (100 kg/ha). */

export const known = (standard: number) => ({ standard, degreesOfFreedom: Number.POSITIVE_INFINITY });

export const scale: SettingScale = {
  low: 0,
  high: 100,
  step: 1,
  closedAt: 0,
  leverPlay: 0.1,
  configuration: 'low gear',
  otherConfigurations: ['high gear'],
};

export const blank: AdviceRequest = {
  runs: [],
  scale,
  target: { rate: gramsPerSquareMetre(10), tolerance: 0.02, confidence: 0.9 },
  seed: { bulkDensity: 770, seedGrams: 0.03 },
  prior: { past: [], chart: null, repeatability: 0.01 },
  common: known(0.003),
  rows: 0,
  plannedTurns: turns(25),
};

/** Run number `number` on the stand. */
export function run(
  number: number,
  setting: number,
  rate: number,
  more: Partial<CalibrationRun> = {},
): CalibrationRun {
  return {
    name: `run ${number}`,
    setting,
    configuration: 'low gear',
    rate: gramsPerSquareMetre(rate),
    doubt: known(0.006),
    source: 'stand',
    turns: turns(25),
    leverMoved: true,
    miscountChance: 0,
    setAside: null,
    ...more,
  };
}

/** The blank request with these runs. */
export const withRuns = (...runs: CalibrationRun[]): AdviceRequest => ({ ...blank, runs });
