import { Chart, type ChartDataset } from 'chart.js';
import type { SettingCurve } from '../state/setting-curve.ts';
import { colours, type Ink, line } from './catch-chart.ts';

type Set = ChartDataset<'line'>;

/** A run: round from the stand, square by hand; filled in the model, hollow out of it. */
const dots = (ink: Ink, pointStyle: 'circle' | 'rect', filled: boolean): Set => ({
  ...line(ink.trace, 0),
  showLine: false,
  pointStyle,
  pointRadius: pointStyle === 'rect' ? 7.5 : 6.5,
  pointBorderWidth: 2.5,
  pointBorderColor: ink.trace,
  pointBackgroundColor: filled ? ink.trace : ink.surface,
  order: 0,
});

const datasets = (ink: Ink): Set[] => [
  { ...line(ink.bandEdge, 1.5, [6, 4]), fill: '+1', backgroundColor: ink.band, order: 4 },
  { ...line(ink.bandEdge, 1.5, [6, 4]), order: 4 },
  { ...line(ink.bandEdge, 2), order: 4 },
  { ...line(ink.level, 1), fill: '+1', backgroundColor: ink.veil, order: 3 },
  { ...line(ink.level, 1), order: 3 },
  { ...line(ink.level, 3), order: 2 },
  { ...line(ink.ink, 2.5, [2, 5]), order: 2 },
  { ...line(ink.trace, 2), spanGaps: false, order: 1 },
  dots(ink, 'circle', true),
  dots(ink, 'circle', false),
  dots(ink, 'rect', true),
  dots(ink, 'rect', false),
];

/** An empty chart of the rate against the setting. */
export function settingChart(canvas: HTMLCanvasElement, names: { x: string; y: string }): Chart<'line'> {
  const ink = colours(canvas);
  const font = { size: 15, family: getComputedStyle(canvas).fontFamily };
  const axis = (text: string) => ({
    type: 'linear' as const,
    title: { display: true, text, color: ink.ink, font },
    ticks: { color: ink.muted, font, maxTicksLimit: 7, includeBounds: false },
    grid: { color: ink.line },
    border: { color: ink.muted },
  });
  return new Chart(canvas, {
    type: 'line',
    data: { datasets: datasets(ink) },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      responsive: true,
      maintainAspectRatio: false,
      events: [],
      scales: { x: axis(names.x), y: axis(names.y) },
    },
  });
}

/** Shows a curve. */
export function drawSetting(chart: Chart<'line'>, curve: SettingCurve, rateName: string): void {
  const { runs, axes } = curve;
  const sets = [
    ...[curve.bandLow, curve.bandHigh, curve.target],
    ...[curve.low, curve.high, curve.line],
    ...[curve.next, curve.intervals],
    ...[runs.stand.counts, runs.stand.aside, runs.hand.counts, runs.hand.aside],
  ];
  sets.forEach((data, index) => {
    chart.data.datasets[index]!.data = data;
  });
  Object.assign(chart.options.scales!.x!, axes.x);
  Object.assign(chart.options.scales!.y!, axes.y, {
    title: { ...chart.options.scales!.y!.title, text: rateName },
  });
  chart.update('none');
}
