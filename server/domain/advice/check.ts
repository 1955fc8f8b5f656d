import { checked, DomainError } from '../error.ts';
import type { Doubt } from '../statistics.ts';
import type { AdvicePrior, AdviceRequest, AdviceTarget, CalibrationRun, SettingScale } from './types.ts';

/** Rates beyond this (100 t/ha) are slips of the pen. */
const mostRate = 10_000;
/** Marks that a scale may have at most: a bound for the chart. */
const mostMarks = 2000;

/**
 * Refuses a scale that cannot be worked with.
 * @throws DomainError with the field at fault.
 */
export function checkScale(scale: SettingScale): void {
  const { low, high, step, closedAt, leverPlay } = scale;
  checked(low, { least: -1e6 }, 'The lowest mark', 'low');
  checked(high, { most: 1e6 }, 'The highest mark', 'high');
  checked(step, { above: 0 }, 'The step of the scale', 'step');
  checked(closedAt, { least: -1e6 }, 'The mark at which the meter is closed', 'closedAt');
  checked(leverPlay, { least: 0 }, 'The play of the lever', 'leverPlay');
  if (low >= high || closedAt >= high) {
    throw new DomainError(
      'inconsistent',
      'The highest mark must lie above the lowest and above the closed one.',
      'high',
    );
  }
  if (step > high - low || (high - low) / step > mostMarks) {
    throw new DomainError(
      'out-of-range',
      `The scale must have between 2 and ${mostMarks} marks: check its ends and its step.`,
      'step',
    );
  }
  if (leverPlay > high - low) {
    throw new DomainError('out-of-range', 'The play of the lever is wider than the scale.', 'leverPlay');
  }
}

function checkTarget({ rate, tolerance, confidence }: AdviceTarget): void {
  checked(rate, { above: 0, most: mostRate }, 'The wanted rate', 'rate');
  checked(tolerance, { above: 0, below: 1 }, 'The tolerance as a fraction', 'tolerance');
  checked(confidence, { above: 0.5, below: 1 }, 'The wanted confidence', 'confidence');
}

function checkDoubt(doubt: Doubt, subject: string, field: string): void {
  checked(doubt.standard, { least: 0, most: 10 }, subject, field);
  if (!(doubt.degreesOfFreedom > 0)) {
    throw new DomainError('out-of-range', 'Degrees of freedom must be more than 0.', field);
  }
}

function checkRun(run: CalibrationRun): void {
  checked(run.setting, { least: -1e6, most: 1e6 }, `The setting of ${run.name}`, 'setting');
  checked(run.rate, { least: 0, most: mostRate }, `The rate of ${run.name}`, 'rate');
  checked(run.turns, { above: 0 }, `The turns of ${run.name}`, 'turns');
  checked(run.miscountChance, { least: 0, most: 0.5 }, 'The chance of a miscounted turn', 'miscountChance');
  checkDoubt(run.doubt, `The doubt of ${run.name}`, 'doubt');
}

function checkPrior(prior: AdvicePrior): void {
  checked(prior.repeatability, { above: 0, most: 1 }, 'The repeatability', 'repeatability');
  const pastRuns = prior.past.flatMap((past) => past.runs);
  for (const { setting, rate, doubt } of pastRuns) {
    checked(setting, { least: -1e6, most: 1e6 }, 'A setting of an earlier calibration', 'setting');
    checked(rate, { above: 0, most: mostRate }, 'A rate of an earlier calibration', 'rate');
    checkDoubt(doubt, 'The doubt of an earlier calibration', 'doubt');
  }
  for (const { setting, rate } of prior.chart?.rows ?? []) {
    checked(setting, { least: -1e6, most: 1e6 }, 'A setting of the printed chart', 'setting');
    checked(rate, { above: 0, most: mostRate }, 'A rate of the printed chart', 'rate');
  }
  const seeds = [...prior.past.map(({ seed }) => seed), ...(prior.chart ? [prior.chart.seed] : [])];
  for (const { bulkDensity, seedGrams } of seeds) {
    if (bulkDensity !== null) checked(bulkDensity, { above: 0 }, 'A bulk density', 'bulkDensity');
    if (seedGrams !== null) checked(seedGrams, { above: 0 }, 'A seed mass', 'seedGrams');
  }
}

/**
 * Refuses what cannot be computed with, in a sentence for the person who typed it. Odd runs (nothing caught, contradictory, off the
 * scale) are no errors: they become findings.
 * @throws DomainError with the field at fault.
 */
export function checkRequest(request: AdviceRequest): void {
  checkScale(request.scale);
  checkTarget(request.target);
  // A run set aside may be set aside for this very reason.
  for (const run of request.runs) if (run.setAside === null) checkRun(run);
  checkPrior(request.prior);
  checkDoubt(request.common, 'The doubt that all runs share', 'common');
  if (request.rows !== null) checked(request.rows, { least: 0, most: 10 }, 'The doubt of the rows', 'rows');
  checked(request.plannedTurns, { above: 0 }, 'The planned turns', 'plannedTurns');
  const { bulkDensity, seedGrams } = request.seed;
  if (bulkDensity !== null) checked(bulkDensity, { above: 0 }, 'The bulk density', 'bulkDensity');
  if (seedGrams !== null) checked(seedGrams, { above: 0 }, 'The mass of a seed', 'seedGrams');
}
