import type { RunView } from '../../../server/http/messages.ts';
import { bandAround } from './band.ts';

export type Verdict = 'right' | 'high' | 'low' | 'open';

/**
 * What a run says about the setting, or null when it says nothing. A verdict needs the whole 95 % interval on one side of the edge of
 * the tolerance; where it reaches across, the matter is `open`.
 */
export function verdict({ figures, plan }: Pick<RunView, 'figures' | 'plan'>): Verdict | null {
  const { phase, outcome, rate } = figures;
  if (phase !== 'finished' || rate === null) return null;
  if (outcome !== 'complete' && outcome !== 'stopped') return null;
  const { low, high } = bandAround(plan.target.gramsPerSquareMetre, plan.target.tolerance);
  if (rate.low > high) return 'high';
  if (rate.high < low) return 'low';
  return rate.low >= low && rate.high <= high ? 'right' : 'open';
}
