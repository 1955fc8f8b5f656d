import { judgeHealth, scaleHealth } from '../domain/scale-health-report.ts';
import { halfWidth } from '../domain/statistics.ts';
import type { CellNow, ScaleCheckView } from '../http/scale-messages.ts';
import type { CellScale } from '../link/readings.ts';
import { zeroDriftGramsPerMinute } from '../run/limits.ts';
import { judged, type ScaleCheck } from './check.ts';
import { suggestedSteps } from './suggest.ts';
import { type CellRecord, goodCounts, isStill } from './watch.ts';

/** The scale as the page shows it. */

/** What is expected of a cell: the converters' pace; noise of a cheap converter on a 5 kg cell and a tenth of a gram a minute. From memory. */
const wish = { readingsPerSecond: 80, noise: 0.3, gramsPerMinute: 4 * zeroDriftGramsPerMinute };

/** Readings from which on a stretch says something. */
const fewestReadings = 80;

export function cellNow(
  cell: number,
  { gramsPerCount, zeroCount }: CellScale,
  heaviest: number,
  record?: CellRecord,
): CellNow {
  const weighing = record?.weighing ?? null;
  const told = record === undefined || record.health.readings < fewestReadings ? null : record.health;
  const health = told === null ? null : scaleHealth(told, gramsPerCount);
  return {
    cell,
    gramsPerCount,
    grams: weighing === null ? null : (weighing.grams - (record?.zero ?? zeroCount)) * gramsPerCount,
    standardError: weighing === null ? null : weighing.doubt.standard * Math.abs(gramsPerCount),
    steady: record !== undefined && isStill(record, goodCounts(heaviest, gramsPerCount)),
    zeroed: record?.zero != null,
    health: health && {
      seconds: health.seconds,
      readingsPerSecond: health.readingsPerSecond,
      missingShare: health.missingShare,
      clippedShare: health.clippedShare,
      distinctShare: health.distinctShare,
      noiseGrams: health.noise,
      driftGramsPerMinute: health.drift?.gramsPerMinute ?? null,
      driftHalf: health.drift === null ? null : halfWidth(health.drift.doubt, 0.95),
    },
    findings:
      health === null ? [] : judgeHealth(health, wish).map(({ code, sentence }) => ({ code, sentence })),
  };
}

export function checkView(check: ScaleCheck, weighing: boolean): ScaleCheckView {
  const { cell, begunAt, masses, steps, inForce } = check;
  const outcome = judged(check);
  const suggested = suggestedSteps(masses);
  const done = steps.filter(({ place }) => place === 'middle').length;
  const empty = steps.find((step) => step.masses.length === 0)?.counts ?? inForce.zeroCount;
  const known = new Map(masses.map(({ name, grams }) => [name, Number(grams)]));
  return {
    cell,
    begunAt,
    masses: masses.map(({ name, grams, standardDoubt }) => ({ name, grams, doubt: standardDoubt })),
    steps: steps.map((step) => ({
      masses: [...step.masses],
      place: step.place,
      load: step.masses.reduce((sum, name) => sum + (known.get(name) ?? 0), 0),
      shown: (step.counts - empty) * inForce.gramsPerCount,
      standardError: step.standardError * Math.abs(inForce.gramsPerCount),
    })),
    weighing,
    next: suggested[done] === undefined ? null : [...suggested[done]],
    suggested: suggested.length,
    result: 'result' in outcome ? outcome.result : null,
    why: 'why' in outcome ? outcome.why : null,
  };
}
