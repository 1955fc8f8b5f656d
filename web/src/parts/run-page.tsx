import type { Plan } from '../../../server/http/messages.ts';
import { calibration } from '../state/calibration.ts';
import { preview } from '../state/preview.ts';
import { say } from '../state/say.ts';
import { fresh, live, runs } from '../state/store.ts';
import { BeforeRun } from './before-run/before-run.tsx';
import { Board } from './board.tsx';
import { Cautions } from './cautions.tsx';
import { CatchFigure } from './figures.tsx';
import { FindingsList, Spoilt } from './findings-list.tsx';
import { NextCard } from './next-card.tsx';
import { PlanStrip } from './plan-strip.tsx';
import { Result } from './result.tsx';
import { RunsTable } from './runs-table.tsx';

function LatestRuns() {
  const list = runs.value;
  if (list === null || list.length === 0) return null;
  return (
    <section class="panel" aria-labelledby="runs-title">
      <h2 id="runs-title">{say.runs.title}</h2>
      <RunsTable runs={list.slice(0, 6)} />
    </section>
  );
}

/** What the plan asks for. */
function Aim({ plan }: { plan: Plan }) {
  const given = preview(plan);
  return given === null ? null : <CatchFigure grams={null} band={given.catch} />;
}

/** What the calibration says after this run; until it has taken the run in, that it is being worked out. */
function Taught({ runId }: { runId: string | null }) {
  const view = calibration.value;
  if (view === null) return null;
  const waiting = view.runs.some(({ id, grams }) => id === runId && grams === null);
  return waiting ? <p class="panel">{say.setting.working}</p> : <NextCard brief />;
}

/** The run in hand: before it the target and the cautions, during it the figures, after it what it came to. */
export function RunPage() {
  const { run, plan, trace } = live.value;
  if (run === null || plan === null) return null;
  const { figures } = run;
  switch (figures.phase) {
    case 'idle':
      return (
        <div class="run">
          <PlanStrip plan={plan} title="next" />
          <div class="before">
            <Aim plan={plan} />
            <BeforeRun />
          </div>
          <LatestRuns />
        </div>
      );
    case 'finished':
      return (
        <div class="run">
          <PlanStrip plan={plan} title="next" />
          <Taught runId={run.id} />
          <Board run={run} trace={trace} />
          <FindingsList figures={figures} />
          <Result run={run} />
          <LatestRuns />
          <BeforeRun />
        </div>
      );
    default:
      return (
        <div class={fresh.value.stale ? 'run old' : 'run'}>
          <PlanStrip plan={run.plan} title="now" />
          <Spoilt figures={figures} />
          {(figures.phase === 'taring' || figures.phase === 'ready') && <Cautions mode={run.plan.mode} />}
          <Board run={run} trace={trace} />
          <FindingsList figures={figures} />
        </div>
      );
  }
}
