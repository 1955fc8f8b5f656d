import { Chart, Filler, LinearScale, LineController, LineElement, PointElement } from 'chart.js';
import type { Curve } from '../state/curve.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale, Filler);

export interface ChartWords {
  turns: string;
  grams: string;
}

/** Colours come from the style sheet, so that light and dark are decided in one place. */
export function colours(canvas: HTMLCanvasElement) {
  const style = getComputedStyle(canvas);
  const read = (name: string) => style.getPropertyValue(name).trim();
  return {
    ink: read('--ink'),
    muted: read('--muted'),
    line: read('--line'),
    surface: read('--surface'),
    level: read('--level'),
    veil: read('--veil'),
    band: read('--band-fill'),
    bandEdge: read('--band-edge'),
    trace: read('--trace'),
  };
}

export type Ink = ReturnType<typeof colours>;

/** A line without points. */
export const line = (colour: string, width: number, dash: number[] = []) => ({
  data: [],
  borderColor: colour,
  borderWidth: width,
  borderDash: dash,
  pointRadius: 0,
  tension: 0,
});

/** A line chart of grams against turns on `canvas`, empty until `draw` gives it a curve. */
export function catchChart(canvas: HTMLCanvasElement, words: ChartWords): Chart<'line'> {
  const { ink, muted, line: grid, band, bandEdge, trace } = colours(canvas);
  const font = { size: 15, family: getComputedStyle(canvas).fontFamily };
  const axis = (text: string) => ({
    type: 'linear' as const,
    min: 0,
    title: { display: true, text, color: ink, font },
    ticks: { color: muted, font, maxTicksLimit: 6, includeBounds: false },
    grid: { color: grid },
    border: { color: muted },
  });
  return new Chart(canvas, {
    type: 'line',
    data: {
      datasets: [
        { ...line(bandEdge, 1.5, [6, 4]), order: 1, fill: '+1', backgroundColor: band },
        { ...line(bandEdge, 1.5, [6, 4]), order: 1 },
        { ...line(bandEdge, 2), order: 1 },
        { ...line(trace, 3), order: 0, borderCapStyle: 'round', borderJoinStyle: 'round' },
      ],
    },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      responsive: true,
      maintainAspectRatio: false,
      events: [],
      scales: { x: axis(words.turns), y: axis(words.grams) },
    },
  });
}

/** Shows a curve. */
export function draw(chart: Chart<'line'>, { low, high, target, dots, turnsEnd, gramsEnd }: Curve): void {
  [low, high, target, dots].forEach((data, index) => {
    chart.data.datasets[index]!.data = data;
  });
  chart.options.scales!.x!.max = Math.ceil(turnsEnd);
  chart.options.scales!.y!.max = niceEnd(gramsEnd);
  chart.update('none');
}

/** A round number at or a little above `end`, so that the axis holds still while the catch grows. */
export function niceEnd(end: number): number {
  if (!(end > 0)) return 1;
  const step = 10 ** Math.floor(Math.log10(end)) / 5;
  return Math.ceil(end / step) * step;
}
