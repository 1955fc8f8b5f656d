import { doable, fresh, live, runs, texts } from '../state/store.ts';
import { Cautions } from './cautions.tsx';
import { ChartPanel } from './chart-panel.tsx';
import { CatchFigure, RateFigure, SpeedFigure, TurnsFigure } from './figures.tsx';
import { PlanStrip } from './plan-strip.tsx';
import { Result } from './result.tsx';
import { RunsTable } from './runs-table.tsx';

/** The run in hand: everything one looks at while the wheel turns, and what it came to. */
export function RunPage() {
  const { run, plan, trace } = live.value;
  if (run === null || plan === null) return null;
  const { phase } = run.figures;
  const between = phase === 'idle' || phase === 'finished';
  const dangerous = phase === 'taring' || phase === 'ready' || doable.value.next === 'arm';
  return (
    <div class={fresh.value.stale && !between ? 'run old' : 'run'}>
      <PlanStrip plan={between ? plan : run.plan} />
      {dangerous && <Cautions mode={between ? plan.mode : run.plan.mode} />}
      <div class="board">
        <CatchFigure figures={run.figures} />
        <TurnsFigure figures={run.figures} />
        <RateFigure figures={run.figures} plan={run.plan} />
        <SpeedFigure figures={run.figures} plan={run.plan} />
        <ChartPanel figures={run.figures} trace={trace} />
      </div>
      <Result run={run} />
      {between && runs.value !== null && runs.value.length > 0 && (
        <section class="panel" aria-labelledby="runs-title">
          <h2 id="runs-title">{texts.runs.title}</h2>
          <RunsTable runs={runs.value.slice(0, 5)} />
        </section>
      )}
    </div>
  );
}
