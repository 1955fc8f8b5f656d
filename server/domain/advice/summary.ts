import type { Candidate } from './choice.ts';
import { intervalOf, rateAt, slopeAt } from './curve.ts';
import { ownRuns } from './findings.ts';
import type { SettingFor } from './inverse.ts';
import type { CurvePosterior } from './posterior.ts';
import type { CurveSummary, Interval } from './types.ts';

/** From this probability on, with three settings or more, a bend is spoken of. */
const surelyBent = 0.9;

/** Mean and 95 % interval of the repeatability over the components. */
function repeatabilityOf({ components }: CurvePosterior): Interval {
  const sorted = [...components].sort((a, b) => a.repeatability - b.repeatability);
  const value = sorted.reduce((sum, { weight, repeatability }) => sum + weight * repeatability, 0);
  const at = (share: number) => {
    let sum = 0;
    for (const { weight, repeatability } of sorted) {
      sum += weight;
      if (sum >= share) return repeatability;
    }
    return sorted[sorted.length - 1]!.repeatability;
  };
  return { value, low: at(0.025), high: at(0.975) };
}

/** The curve in a few figures. */
export function curveSummary(curve: CurvePosterior, sought: SettingFor, candidate: Candidate): CurveSummary {
  const runs = ownRuns(curve.gathered);
  const settings = new Set(runs.map(({ setting }) => setting)).size;
  const bendProbability = curve.components.reduce((sum, { bend, weight }) => sum + (bend ? weight : 0), 0);
  return {
    offset: intervalOf(rateAt(curve, curve.closedAt, 'exact', false)),
    perMark: intervalOf(slopeAt(curve, sought.setting?.value ?? candidate.setting)),
    bendProbability,
    bent: settings >= 3 && bendProbability >= surelyBent,
    repeatability: repeatabilityOf(curve),
    runs: runs.length,
    settings,
  };
}
