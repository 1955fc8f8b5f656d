import type { Chart } from 'chart.js';
import { useEffect, useRef } from 'preact/hooks';
import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import { say } from '../state/say.ts';
import { settingCurve } from '../state/setting-curve.ts';
import { system } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';
import { markWords, rateWords } from './rate-words.ts';
import { drawSetting, settingChart } from './setting-chart.ts';

const words = say.setting.curve;

/** What the marks of the chart mean, each drawn beside its words. */
function Key({ target }: { target: string }) {
  const signs = [
    [<circle key="s" class="key-run" cx="10" cy="10" r="6" />, words.stand],
    [<rect key="h" class="key-run" x="4" y="4" width="12" height="12" />, words.hand],
    [<circle key="a" class="key-run key-hollow" cx="10" cy="10" r="6" />, words.aside],
    [
      <g key="l">
        <rect class="key-veil" y="2" width="20" height="16" />
        <path class="key-line" d="M0 10H20" />
      </g>,
      words.line,
    ],
    [
      <g key="b">
        <rect class="key-target" y="4" width="20" height="12" />
        <path class="key-edge" d="M0 10H20" />
      </g>,
      `${words.band} (${target})`,
    ],
    [<path key="n" class="key-next" d="M10 0V20" />, words.next],
  ] as const;
  return (
    <ul class="keys note">
      {signs.map(([sign, name]) => (
        <li key={name}>
          <svg viewBox="0 0 20 20" aria-hidden="true">
            {sign}
          </svg>
          {name}
        </li>
      ))}
    </ul>
  );
}

/** The runs, the line through them, the target and the next setting. Its figures stand in the tables below: they are its text alternative. */
export function SettingCurvePanel({ view }: { view: CalibrationView }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<Chart<'line'> | null>(null);
  const unit = shown[system.value].rate;
  const paint = () => {
    if (chart.current !== null)
      drawSetting(
        chart.current,
        settingCurve(view, (rate) => fromSi(rate, 'rate', unit)),
        unit,
      );
  };
  const latest = useRef(paint);
  latest.current = paint;
  useEffect(() => {
    const dark = matchMedia('(prefers-color-scheme: dark)');
    const make = () => {
      chart.current?.destroy();
      chart.current = settingChart(canvas.current!, { x: words.axis, y: unit });
      latest.current();
    };
    make();
    dark.addEventListener('change', make);
    return () => {
      dark.removeEventListener('change', make);
      chart.current?.destroy();
      chart.current = null;
    };
  }, []);
  useEffect(paint, [view, unit]);
  const next = view.advice?.next;
  return (
    <section class="panel chart" aria-labelledby="setting-curve-title">
      <h2 id="setting-curve-title">{words.title}</h2>
      <div class="canvas canvas-tall">
        <canvas
          ref={canvas}
          role="img"
          aria-label={
            next
              ? words.labelNext({ runs: view.runs.length, next: markWords(next.setting) })
              : words.label({ runs: view.runs.length })
          }
        />
      </div>
      <Key target={rateWords(view.targetGramsPerSquareMetre)} />
    </section>
  );
}
