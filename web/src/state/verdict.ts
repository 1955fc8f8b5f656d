import type { RunView } from '../../../server/http/messages.ts';

export type Verdict = 'right' | 'high' | 'low' | 'open';

/**
 * What a run says about the setting, or null when it says nothing. A verdict needs the whole 95 % interval on one side of the edge of
 * the tolerance; where it reaches across, the matter is `open`.
 */
export function verdict({ figures, plan }: Pick<RunView, 'figures' | 'plan'>): Verdict | null {
  const { phase, outcome, rate } = figures;
  if (phase !== 'finished' || rate === null) return null;
  if (outcome !== 'complete' && outcome !== 'stopped') return null;
  const { gramsPerSquareMetre, tolerance } = plan.target;
  const lowest = gramsPerSquareMetre * (1 - tolerance);
  const highest = gramsPerSquareMetre * (1 + tolerance);
  if (rate.low > highest) return 'high';
  if (rate.high < lowest) return 'low';
  return rate.low >= lowest && rate.high <= highest ? 'right' : 'open';
}
