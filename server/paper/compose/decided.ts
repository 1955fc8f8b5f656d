import type { CalibrationView } from '../../http/calibration-messages.ts';

export type ChartRow = NonNullable<CalibrationView['advice']>['chart'][number];

/** The setting that a calibration has come to so far. */
export interface Decided {
  setting: number;
  /** Right with the wanted certainty; as good as it gets; or only the best so far. */
  state: 'done' | 'settled' | 'unfinished';
  /** Probability that its rate lies within tolerance. */
  chance: number;
  /** Its row of the chart; null where the setting is between the marks. */
  row: ChartRow | null;
}

/** Null where no run has told anything, or where the target lies off the scale. */
export function decided({ advice, runs }: CalibrationView): Decided | null {
  if (advice === null || runs.length === 0 || advice.state === 'out-of-reach') return null;
  const { stop, next, chart } = advice;
  const setting = stop.setting ?? next?.setting ?? null;
  if (setting === null) return null;
  const state = stop.done ? 'done' : stop.asGoodAsItGets ? 'settled' : 'unfinished';
  const row = chart.find((one) => Math.abs(one.setting - setting) < 1e-9) ?? null;
  return { setting, state, chance: stop.probability, row };
}

/** At most `most` neighbouring rows, the one of this setting in their middle; the first ones where it is none of them. */
export function rowsAbout(
  chart: readonly ChartRow[],
  setting: number | null,
  most: number,
): readonly ChartRow[] {
  const at = chart.findIndex((row) => row.setting === setting);
  const from = Math.max(0, Math.min(at - Math.floor(most / 2), chart.length - most));
  return chart.slice(from, from + most);
}
