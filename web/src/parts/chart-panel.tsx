import type { Chart } from 'chart.js';
import { useEffect, useRef } from 'preact/hooks';
import type { RunView } from '../../../server/http/messages.ts';
import { curve } from '../state/curve.ts';
import { grams, turns } from '../state/format.ts';
import { say } from '../state/say.ts';
import type { Point } from '../state/trace.ts';
import { catchChart, draw } from './catch-chart.ts';

/** At most this often is the chart drawn. */
const drawMillis = 80;

interface ChartPanelProps extends Pick<RunView, 'figures'> {
  trace: readonly Point[];
}

/** The catch against the turns. The chart is made once and again when light changes to dark; between, only its data moves. */
export function ChartPanel({ figures, trace }: ChartPanelProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<Chart<'line'> | null>(null);
  const latest = useRef({ figures, trace });
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null);
  latest.current = { figures, trace };

  const redraw = () => {
    timer.current = null;
    if (chart.current !== null) draw(chart.current, curve(latest.current.figures, latest.current.trace));
  };

  useEffect(() => {
    const dark = matchMedia('(prefers-color-scheme: dark)');
    const make = () => {
      chart.current?.destroy();
      chart.current = catchChart(canvas.current!, { turns: say.live.turns, grams: say.live.gramsAxis });
      redraw();
    };
    make();
    dark.addEventListener('change', make);
    return () => {
      dark.removeEventListener('change', make);
      if (timer.current !== null) clearTimeout(timer.current);
      chart.current?.destroy();
      chart.current = null;
    };
  }, []);

  useEffect(() => {
    timer.current ??= setTimeout(redraw, drawMillis);
  });

  const last = trace.at(-1);
  const label =
    last === undefined
      ? say.live.chartEmpty
      : say.live.chartNow({ grams: grams(last[2]), turns: turns(last[1]) });
  return (
    <section class="panel chart" aria-labelledby="chart-title">
      <h2 id="chart-title">{say.live.chart}</h2>
      <div class="canvas">
        <canvas ref={canvas} role="img" aria-label={label} />
      </div>
      <p class="note key">
        <span class="key-band" aria-hidden="true" /> {say.live.chartBand}
      </p>
    </section>
  );
}
