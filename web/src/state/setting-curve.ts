import type { CalibrationRunView, CalibrationView } from '../../../server/http/calibration-messages.ts';
import { bandAround } from './band.ts';
import type { Dot } from './curve.ts';

/** The picture of rate against setting: marks across, rates up, in whatever unit `convert` gives. */
export interface SettingCurve {
  /** Runs in the model and those that are not, by where they were weighed. */
  runs: Record<'stand' | 'hand', Record<'counts' | 'aside', Dot[]>>;
  /** The runs' 95 % intervals: two ends each, with a gap (NaN) between runs. */
  intervals: Dot[];
  line: Dot[];
  low: Dot[];
  high: Dot[];
  /** Three level lines: target, lower and upper edge of what counts as right. */
  target: Dot[];
  bandLow: Dot[];
  bandHigh: Dot[];
  /** An upright line at the next setting; empty where there is none. */
  next: Dot[];
  axes: { x: Ends; y: Ends };
}
interface Ends {
  min: number;
  max: number;
}

type Placed = CalibrationRunView & { setting: number; rate: NonNullable<CalibrationRunView['rate']> };

const isPlaced = (run: CalibrationRunView): run is Placed => run.setting !== null && run.rate !== null;

/** Shares of the picture left empty about what it is of. */
const margin = 0.25;

/** What of the scale to show: the runs, the next setting and some room about them, never off the scale. */
function acrossEnds(view: CalibrationView, runs: readonly Placed[]): Ends {
  const scale = view.scale ?? { low: 0, high: Math.max(1, ...runs.map(({ setting }) => setting)), step: 1 };
  const next = view.advice?.next;
  const shown = [
    ...runs.map(({ setting }) => setting),
    ...(next
      ? [next.setting, Math.max(scale.low, next.interval.low), Math.min(scale.high, next.interval.high)]
      : []),
  ];
  if (shown.length === 0) return { min: scale.low, max: scale.high };
  const [from, to] = [Math.min(...shown), Math.max(...shown)];
  const room = Math.max((to - from) * margin, 3 * scale.step);
  return { min: Math.max(scale.low, from - room), max: Math.min(scale.high, to + room) };
}

/** Rates to show: runs, the band and the line between the ends across. */
function upEnds(values: readonly number[]): Ends {
  const known = values.filter(Number.isFinite);
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const room = Math.max((most - least) * margin * 0.4, most * 0.02);
  return { min: Math.max(0, least - room), max: most + room };
}

/** The curve of a calibration; `convert` brings g/m² to the unit shown. */
export function settingCurve(
  view: CalibrationView,
  convert: (gramsPerSquareMetre: number) => number,
): SettingCurve {
  const runs = view.runs.filter(isPlaced);
  const x = acrossEnds(view, runs);
  const dot = (at: number, rate: number): Dot => ({ x: at, y: convert(rate) });
  const of = (source: 'stand' | 'hand', counts: boolean) =>
    runs
      .filter((run) => run.source === source && run.counts === counts)
      .map(({ setting, rate }) => dot(setting, rate.value));
  const rows = (view.advice?.chart ?? []).filter(({ setting }) => setting >= x.min && setting <= x.max);
  const { target, low, high } = bandAround(view.targetGramsPerSquareMetre, view.tolerance);
  const level = (rate: number) => [dot(x.min, rate), dot(x.max, rate)];
  const intervals = runs.flatMap(({ setting, rate }) => [
    dot(setting, rate.low),
    dot(setting, rate.high),
    { x: Number.NaN, y: Number.NaN },
  ]);
  const y = upEnds([
    ...intervals.map((one) => one.y),
    ...[low, high, ...rows.map(({ rate }) => rate.value)].map(convert),
  ]);
  const next = view.advice?.next?.setting;
  return {
    runs: {
      stand: { counts: of('stand', true), aside: of('stand', false) },
      hand: { counts: of('hand', true), aside: of('hand', false) },
    },
    intervals,
    line: rows.map(({ setting, rate }) => dot(setting, rate.value)),
    low: rows.map(({ setting, rate }) => dot(setting, rate.low)),
    high: rows.map(({ setting, rate }) => dot(setting, rate.high)),
    target: level(target),
    bandLow: level(low),
    bandHigh: level(high),
    next:
      next === undefined
        ? []
        : [
            { x: next, y: y.min },
            { x: next, y: y.max },
          ],
    axes: { x, y },
  };
}
